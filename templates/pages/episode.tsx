import type { EpisodePage } from "../../src/pages/types.ts";
import { CorrectionSummary } from "../parts/corrections.tsx";
import { DraftNote } from "../parts/draft.tsx";
import { History } from "../parts/history.tsx";
import type { Sheet } from "../parts/layout.tsx";
import { HeadNotes } from "../parts/note.tsx";
import { RunningOrder } from "../parts/order.tsx";
import { Actions, LogHead, Neighbours, Particulars } from "../parts/particulars.tsx";
import { NoRecording, Player, PlayerFoot } from "../parts/player.tsx";
import { Segment } from "../parts/segment.tsx";
import { Transcript } from "../parts/transcript.tsx";

/** An episode: to play, to read, with every correction beside its line. */
export function episodeSheet(page: EpisodePage): Sheet {
  const { site, player, order, withdrawn } = page;
  const playable = player.media.length > 0 && !withdrawn;
  return {
    here: null,
    sheet: "episode",
    skip: { href: "#page.words", title: "Skip to the words" },
    sheets: [order.sheet],
    script: site.assets.player,
    listed: !page.draft,
    type: "video.episode",
    main: {
      heading: <PageHead page={page} />,
      player: (
        <>
          {playable && <Player site={site} episode={page.episodeId} player={player} order={order} />}
          {!withdrawn && <NoRecording player={player} />}
          <PlayerFoot report={page.report} playable={playable} />
        </>
      ),
      corrections: <CorrectionSummary lines={page.corrections} about="episode" />,
      "running-order": order.items.length > 0 && <RunningOrder order={order} lamp={playable} folded />,
      intro: !withdrawn && <Intro page={page} />,
      words: (
        <Transcript page={page}>
          <OfTheWhole page={page} />
          {page.segments.map((segment) => (
            <Segment key={segment.slug} segment={segment} way={{ title: "Segment page", href: segment.href }} />
          ))}
          <Particulars shares={page.shares} citation={page.citation} files={withdrawn ? [] : page.files}>
            <History items={page.history} record={page.record} />
          </Particulars>
        </Transcript>
      ),
      neighbours: <Neighbours of="episodes" words={["Earlier", "Later"]} earlier={page.earlier} later={page.later} />,
    },
  };
}

const PageHead = ({ page: { day, title, standfirst, draft, proposals } }: { readonly page: EpisodePage }) => (
  <header class="page-head">
    <DraftNote draft={draft} proposals={proposals} />
    <p class="dateline">
      <time datetime={day.iso}>{day.long}</time>
    </p>
    <h1>{title}</h1>
    {standfirst !== null && <p class="standfirst">{standfirst}</p>}
  </header>
);

const Intro = ({ page: { notesHtml, boxes, files } }: { readonly page: EpisodePage }) => (
  <div class="intro">
    <LogHead boxes={boxes} />
    <Actions files={files} />
    {notesHtml !== null && <div class="prose programme-notes" dangerouslySetInnerHTML={{ __html: notesHtml }} />}
  </div>
);

/** Notes on the whole episode, and that it was withdrawn. */
function OfTheWhole({ page: { headNotes, withdrawn } }: { readonly page: EpisodePage }) {
  if (headNotes.length === 0 && !withdrawn) return null;
  return (
    <section class="segment of-the-whole" aria-labelledby="page.whole">
      <header class="segment-head">
        <h2 class={withdrawn ? undefined : "vh"} id="page.whole">
          {withdrawn ? "Withdrawn" : "On the whole episode"}
        </h2>
        {withdrawn && (
          <p class="entry-gone">
            This episode is withdrawn. Its recording and its words are gone; the note on it stays.
          </p>
        )}
      </header>
      <HeadNotes notes={headNotes} />
    </section>
  );
}
