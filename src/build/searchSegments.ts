import { does } from "../model/correctionKinds.ts";
import { segmentKindName } from "../model/kinds.ts";
import type { FineStrip, Page, SegmentPage, SegmentView } from "../pages/types.ts";
import type { SearchParagraph, SearchSegment } from "../search/segment.ts";

/** The search records of an episode with its strip, made from the very pages that show the segments: what a page doesn't say can't be found. */
export function searchSegments(pages: readonly Page[], strip: FineStrip): readonly SearchSegment[] {
  const segments = pages.flatMap((page) => (page.kind === "segment" ? [page.page] : []));
  return segments.filter(({ segment }) => isSearchable(segment)).map((page) => toSearch(page, strip));
}

/** A segment without words is found by its title, unless it was taken away. */
const isSearchable = ({ corrections }: SegmentView): boolean => !corrections.some((line) => does(line, "takes-away"));

function toSearch(page: SegmentPage, { runs, studio, others, held }: FineStrip): SearchSegment {
  const { segment, order, player } = page;
  const item = order.items.findIndex(({ current }) => current);
  return {
    address: segment.href,
    title: segment.title,
    summary: segment.summary,
    kind: segment.kind,
    kindName: segmentKindName(segment.kind),
    episode: page.episodeId,
    aired: page.day.iso,
    position: item,
    language: page.site.language,
    topics: segment.topics.map(({ title }) => title),
    paragraphs: segment.blocks.flatMap((block): readonly SearchParagraph[] =>
      block.is === "sound"
        ? []
        : block.paragraphs.map(({ id, cues }) => ({
            id,
            words: cues.map(({ runs }) => runs.map(({ text }) => text).join("")).join(" "),
            speaker: block.speaker?.name ?? null,
          })),
    ),
    corrections: segment.corrections.map(({ kind, kindName, datedLong, href }) => ({
      kind,
      kindName,
      datedLong,
      href: segment.href + href,
    })),
    strip: segment.inRecording ? { runs, studio, others, held, in: player.from, out: player.to } : null,
  };
}
