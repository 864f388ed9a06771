import type { StationPage } from "../../src/pages/types.ts";
import type { Sheet } from "../parts/layout.tsx";

/** A page of the station's own folder: its content is HTML already. */
export const stationSheet = (page: StationPage): Sheet => ({
  here: page.here,
  sheet: "leaflet-page",
  main: {
    heading: page.heading !== null && (
      <header class="page-head">
        <h1>{page.heading}</h1>
      </header>
    ),
    content: <div class="prose" dangerouslySetInnerHTML={{ __html: page.html }} />,
  },
});
