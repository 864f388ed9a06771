import { does } from "../model/correctionKinds.ts";
import { segmentKindName } from "../model/kinds.ts";
import type { Page, SegmentPage, SegmentView } from "../pages/types.ts";
import type { SearchParagraph, SearchSegment, SearchStrip } from "../search/segment.ts";

/** The search records of an episode, made from the very pages that show the segments: what a page doesn't say can't be found. */
export function searchSegments(pages: readonly Page[]): readonly SearchSegment[] {
  const segments = pages.flatMap((page) => (page.kind === "segment" ? [page.page] : []));
  const [first] = segments;
  if (first === undefined) return [];
  const strip = wholeStrip(first);
  return segments.filter(({ segment }) => isSearchable(segment)).map((page) => toSearch(page, strip));
}

/** A segment without words is found by its title, unless it was taken away. */
const isSearchable = ({ corrections }: SegmentView): boolean => !corrections.some((line) => does(line, "takes-away"));

function toSearch(page: SegmentPage, strip: WholeStrip): SearchSegment {
  const { segment, order, deck } = page;
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
    strip: segment.inRecording ? { ...strip, in: deck.from, out: deck.to } : null,
  };
}

type WholeStrip = Omit<SearchStrip, "in" | "out">;

/** The weaves of all segments on one strip; it is the same on each of their pages. */
function wholeStrip({ order }: SegmentPage): WholeStrip {
  const thread = (own: "studio" | "others") =>
    order.items.flatMap((item) => item.weave[own].map(([from, length]) => [tenths(from + item.in), length] as const));
  return {
    runs: order.runs,
    studio: thread("studio"),
    others: thread("others"),
    held: order.items
      .filter(({ withheld, inRecording }) => withheld && inRecording)
      .map((item) => [tenths(item.in), tenths(item.seconds)] as const),
  };
}

const tenths = (seconds: number): number => Math.round(seconds * 10) / 10;
