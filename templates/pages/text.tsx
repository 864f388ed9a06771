import type { TextPageData } from "../../src/pages/types.ts";
import type { Sheet } from "../parts/layout.tsx";

/** A page written by hand. */
export const textSheet = (page: TextPageData): Sheet => ({
  here: page.here,
  sheet: "leaflet-page",
  main: {
    heading: (
      <header class="page-head">
        <h1>{page.heading}</h1>
        {page.summary !== null && <p class="standfirst">{page.summary}</p>}
      </header>
    ),
    text: <div class="prose" dangerouslySetInnerHTML={{ __html: page.html }} />,
  },
});
