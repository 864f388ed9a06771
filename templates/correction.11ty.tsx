import { Correction } from "./pages/correction.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("correction");
export const render = document<"correction">((page) => <Correction page={page} />);
