import { does } from "../../src/model/correctionKinds.ts";
import type { SegmentPage } from "../../src/pages/types.ts";
import { CorrectionSummary } from "../parts/corrections.tsx";
import { DraftNote } from "../parts/draft.tsx";
import type { Sheet } from "../parts/layout.tsx";
import { RunningOrder } from "../parts/order.tsx";
import { Actions, LogHead, Neighbours, Particulars } from "../parts/particulars.tsx";
import { NoRecording, Player, PlayerFoot } from "../parts/player.tsx";
import { Segment } from "../parts/segment.tsx";
import { Transcript } from "../parts/transcript.tsx";

/** A segment on its own, with the running order it stood in. */
export function segmentSheet(page: SegmentPage): Sheet {
  const { site, player, order, segment, episode } = page;
  const gone = segment.headNotes.some((note) => does(note, "takes-away"));
  const { inRecording, withheld, silent } = segment;
  const playable = player.media.length > 0 && inRecording && withheld === null && silent === null && !gone;
  return {
    here: null,
    sheet: "segment-page",
    skip: { href: "#page.words", title: "Skip to the words" },
    sheets: [order.sheet],
    script: site.assets.player,
    listed: !page.draft,
    type: "article",
    main: {
      heading: <PageHead page={page} />,
      player: (
        <>
          {playable && <Player site={site} episode={page.episodeId} player={player} order={order} />}
          {!gone && <NoRecording player={player} />}
          <PlayerFoot report={page.report} playable={playable} />
        </>
      ),
      corrections: <CorrectionSummary lines={page.corrections} about="segment" />,
      "running-order": order.items.length > 0 && <RunningOrder order={order} lamp={playable} folded />,
      intro: (
        <div class="intro">
          <LogHead boxes={page.boxes} />
          {!gone && <Actions files={page.files} />}
        </div>
      ),
      words: (
        <Transcript page={page}>
          <Segment segment={segment} way={{ title: "Whole episode", href: episode.href }} alone />
          {!gone && <Particulars shares={page.shares} citation={page.citation} files={page.files} />}
        </Transcript>
      ),
      neighbours: (
        <Neighbours
          of="segments"
          words={["Before", "After"]}
          earlier={page.earlier}
          later={page.later}
          sameKind={page.sameKind}
          story={page.story}
        />
      ),
    },
  };
}

function PageHead({ page: { day, episode, segment, outClock, draft, proposals } }: { readonly page: SegmentPage }) {
  return (
    <header class="page-head">
      <DraftNote draft={draft} proposals={proposals} />
      <p class="dateline">
        <a href={episode.href}>
          <time datetime={day.iso}>{day.long}</time>
        </a>
        {segment.inRecording && `, ${segment.inClock} to ${outClock}`}
      </p>
      <h1>{segment.title}</h1>
      {segment.summary !== null && <p class="standfirst">{segment.summary}</p>}
    </header>
  );
}
