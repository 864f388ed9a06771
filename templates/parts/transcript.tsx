import type { ComponentChildren } from "preact";
import type { EpisodePage } from "../../src/pages/types.ts";

interface TranscriptProps {
  readonly page: Pick<EpisodePage, "site" | "citation">;
  readonly children: ComponentChildren;
}

/** The words of a page, with what a quotation of them needs: its script and style sheet, and how the page is cited. */
export const Transcript = ({ page: { site, citation }, children }: TranscriptProps) => (
  <div
    class="transcript"
    id="page.words"
    data-quote={site.assets.quote}
    data-quote-style={site.assets.quoteStyle}
    data-cite={citation.text}
  >
    {children}
  </div>
);
