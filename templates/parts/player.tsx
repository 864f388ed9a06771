import type { Deck as DeckData, RunningOrder, Site } from "../../src/pages/types.ts";
import { LogStrip } from "./strips.tsx";

interface DeckProps {
  readonly site: Site;
  readonly deck: DeckData;
  readonly order: RunningOrder;
}

/** The player with its captions and the log strip. The caption line, the lamp and the note on a skip wait for the script. */
export function Deck({ site, deck, order }: DeckProps) {
  return (
    <section
      class="deck"
      aria-label="Player"
      data-from={deck.from}
      data-to={deck.to}
      data-skips={JSON.stringify(deck.skips)}
    >
      <div class="player">
        <video controls preload="metadata" playsinline poster={site.poster} aria-label={deck.label}>
          {deck.media.map(({ src, type }) => (
            <source key={src} src={src + opening(deck, src)} type={type} />
          ))}
          <track kind="captions" src={deck.captions} srclang={site.language} label={deck.captionsLabel} default />
          <track kind="chapters" src={deck.chapters} srclang={site.language} label="Running order" />
          <p>
            Your browser can’t play this recording. <a href={deck.text}>Read it as plain text</a>.
          </p>
        </video>
        <p class="skip-note" hidden role="status" data-skip-note="" />
      </div>
      <LogStrip order={order} lamp />
      <p class="caption-line" hidden data-caption="">
        <span />
      </p>
    </section>
  );
}

/** The media fragment of a segment's page: without a script too, the player opens at its beginning, and then goes on. */
const opening = ({ from }: DeckData, src: string): string => (from <= 0 || src.includes("#") ? "" : `#t=${from}`);

/** Under the player: where to report an error, and whether the page follows the words. */
export const DeckFoot = ({ report, player }: { readonly report: string; readonly player: boolean }) => (
  <div class="deck-foot">
    <a class="report" href={report} data-report="">
      Report an error
      <span data-moment="" />
    </a>
    {player && (
      <button type="button" class="follow" data-follow="" hidden aria-pressed="true">
        Follow the words
      </button>
    )}
  </div>
);
