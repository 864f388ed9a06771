import { Corrections } from "./pages/corrections.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("corrections");
export const render = document<"corrections">((page) => <Corrections page={page} />);
