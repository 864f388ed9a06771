import type { CorrectionPage } from "../../src/pages/types.ts";
import type { Sheet } from "../parts/layout.tsx";
import { Statement } from "../parts/statement.tsx";

/** One correction at its own address, which stays whatever becomes of the words: a statement that can be sent to somebody. */
export function correctionSheet({ site, heading, entry }: CorrectionPage): Sheet {
  return {
    here: null,
    sheet: "corrections-page correction-page",
    type: "article",
    main: {
      heading: (
        <header class="page-head">
          <p class="dateline">
            {site.programme}, <time datetime={entry.dated}>{entry.datedLong}</time>
          </p>
          <h1>{heading}</h1>
        </header>
      ),
      corrections: (
        <div class="entries">
          <Statement entry={entry} />
          <p class="more">
            <a href={site.corrections}>All corrections</a>
          </p>
        </div>
      ),
    },
  };
}
