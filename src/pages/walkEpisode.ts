import { tellingWords } from "../derive/stories.ts";
import type { NameList } from "../model/nameLists.ts";
import { nameSlug } from "../model/slugs.ts";
import type { OwnCorrection, ShownEpisode, ShownSegment } from "../record/shown.ts";
import type { WalkCorrection, WalkEpisode, WalkSegment } from "./walk.ts";

/** What pages of months and names have of an episode; null: it is withdrawn, and they have nothing of it. */
export function walkOf(shown: ShownEpisode): WalkEpisode | null {
  const { episode, draft } = shown;
  if (episode.withdrawn) return null;
  const placed = new Set(shown.segments.flatMap(({ corrections }) => corrections.map(({ laid }) => laid)));
  return {
    id: episode.id,
    aired: episode.aired,
    title: episode.title,
    draft,
    segments: shown.segments.filter(hasPlace).map((own) => segmentOf(own, draft)),
    corrections: draft ? [] : episode.laid.filter((laid) => !placed.has(laid)).map(correctionOf),
  };
}

/** Whether a segment is in such pages: nothing withheld is, nor what is withdrawn, which is held in the same way, nor a break. */
export const hasPlace = ({ segment, holding }: ShownSegment): boolean => !holding.withheld && segment.kind !== "break";

function segmentOf(own: ShownSegment, draft: boolean): WalkSegment {
  const { segment, span, corrections } = own;
  return {
    slug: segment.slug,
    title: segment.title,
    kind: segment.kind,
    runs: span === null ? segment.out - segment.in : span.to - span.from,
    names: namesOf(own),
    story: segment.story === undefined ? null : { name: segment.story, slug: nameSlug(segment.story) },
    telling: tellingWords(`${segment.title} ${segment.summary ?? ""}`),
    // A draft's corrections have no pages.
    corrections: draft ? [] : corrections.map(({ laid }) => correctionOf(laid)),
  };
}

const correctionOf = ({ correction: { id, kind, dated } }: OwnCorrection["laid"]): WalkCorrection => ({
  id,
  kind,
  dated,
});

const NOBODY: WalkSegment["names"] = { speakers: [], topics: [], places: [] };

/**
 * The names whose pages have a segment. People are those who are heard in words that may be given, by the names that
 * corrections gave them: who is only named as its author may stand in no list.
 */
export function namesOf(own: ShownSegment): WalkSegment["names"] {
  if (!hasPlace(own)) return NOBODY;
  const { speech, segment } = own;
  const heard = speech.flatMap((turn) => (turn.is === "turn" && turn.voice !== null ? [turn.voice] : []));
  const named: Readonly<Record<NameList, readonly string[]>> = {
    speakers: heard,
    topics: segment.topics,
    places: segment.places,
  };
  const list = (of: NameList) => [...new Set(named[of])].map((name) => ({ name, slug: nameSlug(name) }));
  return { speakers: list("speakers"), topics: list("topics"), places: list("places") };
}
