import { Record } from "./pages/record.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("record");
export const render = document<"record">((page) => <Record page={page} />);
