import { Search } from "./pages/search.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("search");
export const render = document<"search">((page) => <Search page={page} />);
