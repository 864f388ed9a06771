import { Leaflet } from "./pages/leaflet.tsx";
import { document, paged } from "./parts/paged.tsx";

export const data = paged("leaflet");
export const render = document<"leaflet">((page) => <Leaflet page={page} />);
