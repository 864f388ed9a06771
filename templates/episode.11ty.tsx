import { Episode } from "./pages/episode.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("episode");
export const render = document<"episode">((page) => <Episode page={page} />);
