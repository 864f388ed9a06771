import { Missing } from "./pages/missing.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("missing");
export const render = document<"missing">((page) => <Missing page={page} />);
