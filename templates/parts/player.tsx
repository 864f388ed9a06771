import type { Chapter, Player as DeckData, RunningOrder, Site } from "../../src/pages/types.ts";
import { LogStrip } from "./strips.tsx";

interface PlayerProps {
  readonly site: Site;
  readonly episode: string;
  readonly player: DeckData;
  readonly order: RunningOrder;
}

/**
 * The player: the browser's own controls, in whose place the script puts the deck, with the log strip to seek on. The caption
 * line, the lamp and what the deck says wait for the script; where the recording still holds what may not be given, so does
 * the recording itself: the script alone steps over it.
 */
export function Player({ site, episode, player, order }: PlayerProps) {
  const stepped = player.giving === "stepped";
  return (
    <section
      class={player.hasPicture ? "deck with-picture" : "deck"}
      aria-label="Player"
      data-episode={episode}
      data-from={player.from}
      data-to={player.to}
      data-runs={order.runs}
      data-skips={JSON.stringify(player.skips)}
      data-chapters={JSON.stringify(chaptersOf(order))}
    >
      <div class="player">
        <video
          controls
          preload="metadata"
          playsinline
          {...(site.poster === null || !player.hasPicture ? {} : { poster: site.poster.src })}
          aria-label={player.label}
          {...(stepped ? { hidden: true, controlslist: "nodownload", "data-media": JSON.stringify(player.media) } : {})}
        >
          {!stepped &&
            player.media.map(({ src, type }) => <source key={src} src={src + opening(player, src)} type={type} />)}
          <track kind="captions" src={player.captions} srclang={site.language} label={player.captionsLabel} default />
          <track kind="chapters" src={player.chapters} srclang={site.language} label="Running order" />
          <p>
            Your browser can’t play this recording. <a href={player.text}>Read it as plain text</a>.
          </p>
        </video>
        {stepped && (
          <p class="deck-note" data-no-player="">
            This recording is played by a script of this page, which steps over what may not be given. Where the script
            does not run, there is no player. <a href={player.text}>Read it as plain text</a>.
          </p>
        )}
      </div>
      <div class="deck-bar">
        <LogStrip order={order} lamp />
      </div>
      <div class="deck-under">
        <p class="caption-line" hidden data-caption="">
          <span />
        </p>
        <p class="deck-says" hidden role="status" data-skip-note="" />
      </div>
    </section>
  );
}

/** What the deck knows of the running order: the segments that take time in the recording. */
const chaptersOf = ({ items }: RunningOrder): readonly Chapter[] =>
  items
    .filter(({ seconds }) => seconds > 0)
    .map(({ title, in: from, seconds, href, withheld, withdrawn }) => {
      const to = Math.round((from + seconds) * 1000) / 1000;
      return { title, from, to, href, held: withheld ? "withheld" : withdrawn ? "withdrawn" : null };
    });

/** In the place of a recording that may not be given at all, or that there never was. */
export const NoRecording = ({ player: { giving } }: Pick<PlayerProps, "player">) =>
  giving === "off" || giving === "none" ? (
    <p class="deck-note" role="note">
      {giving === "off"
        ? "The recording is not here: it still has the sound of something that was withdrawn."
        : "There is no recording of this edition here. Times are those of the programme."}
    </p>
  ) : null;

/** The media fragment of a segment's page: without a script too, the player opens at its beginning, and then goes on. */
const opening = ({ from }: DeckData, src: string): string => (from <= 0 || src.includes("#") ? "" : `#t=${from}`);

/** Under the player: where to report an error, and whether the page follows the words. */
export const PlayerFoot = ({ report, playable }: { readonly report: string | null; readonly playable: boolean }) => (
  <div class="deck-foot">
    {report !== null && (
      <a class="report" href={report} data-report="">
        Report an error
        <span data-moment="" />
      </a>
    )}
    {playable && (
      <button type="button" class="follow" data-follow="" hidden aria-pressed="true">
        Follow the words
      </button>
    )}
  </div>
);
