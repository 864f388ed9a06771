import { Home } from "./pages/home.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("home");
export const render = document<"home">((page) => <Home page={page} />);
