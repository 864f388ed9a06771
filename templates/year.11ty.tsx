import { Year } from "./pages/year.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("year");
export const render = document<"year">((page) => <Year page={page} />);
