import type { CorrectionPage } from "../../src/pages/types.ts";
import { Entry } from "../parts/entry.tsx";
import type { Sheet } from "../parts/layout.tsx";

/** One correction at its own address, which stays whatever becomes of the words. */
export function correctionSheet({ site, entry, place }: CorrectionPage): Sheet {
  return {
    here: null,
    sheet: "corrections-page correction-page",
    type: "article",
    main: {
      heading: (
        <header class="page-head">
          <p class="dateline">
            Correction of <time datetime={entry.dated}>{entry.datedLong}</time>
          </p>
          <h1>{entry.kindName}</h1>
        </header>
      ),
      corrections: (
        <div class="entries">
          <Entry entry={entry} alone />
          <p class="more">
            <a href={place.href}>
              The words in their place<span class="vh">: {place.title}</span>
            </a>
          </p>
          <p class="more">
            <a href={site.corrections}>All corrections</a>
          </p>
        </div>
      ),
    },
  };
}
