import { Document, isCollection, isMap, isScalar, isSeq, parseDocument } from "yaml";
import { formatClockExact } from "../model/clock.ts";
import type { DraftSegment, EpisodeDraft } from "../model/draft.ts";
import { PROPOSED_MARK, parseProposal, proposalText, WITHIN } from "../model/proposal.ts";

const SCHEMA = " yaml-language-server: $schema=../../../.schemas/episode.schema.json";

/** A new episode.md: front matter with the proposals' confidence beside them, and an empty body. */
export function episodeText(draft: EpisodeDraft): string {
  const { title, aired, duration, media, clock, timesGuessed, cuts, segments, remarks } = draft;
  const document = new Document({
    title,
    aired,
    duration: formatClockExact(duration),
    media: media.map(({ src, type, bytes }) => ({ src, type, ...(bytes === null ? {} : { bytes }) })),
    clock,
    ...(timesGuessed ? { times: "guessed" } : {}),
    ...(cuts.length === 0
      ? {}
      : { cuts: cuts.map(({ from, to, why }) => ({ from: formatClockExact(from), to: formatClockExact(to), why })) }),
    segments: segments.map(segmentOf),
  });
  const flow = (path: readonly (string | number)[]) => {
    const node = document.getIn(path);
    if (isCollection(node)) node.flow = true;
  };
  media.forEach((_, n) => {
    flow(["media", n]);
  });
  cuts.forEach(({ proposed }, n) => {
    flow(["cuts", n]);
    const cut = document.getIn(["cuts", n]);
    if (proposed === true && isCollection(cut)) cut.comment = ` ${PROPOSED_MARK}`;
  });
  segments.forEach(({ by, confidence }, n) => {
    if (by.length > 0) flow(["segments", n, "by"]);
    const point = document.getIn(["segments", n, "in"], true);
    if (confidence !== null && isScalar(point)) point.comment = proposed(confidence);
  });
  document.commentBefore = [SCHEMA, ...remarks.map((remark) => ` ${remark.replace(/\s+/g, " ")}`)].join("\n");
  const yaml = document.toString({ lineWidth: 0, flowCollectionPadding: true }).replace(/^((?:#.*\n)+)\n/, "$1");
  return `---\n${yaml}---\n`;
}

/** The mark of an in point that nobody has accepted: an editor deletes it. */
const proposed = (confidence: number): string => proposalText({ sure: confidence, within: WITHIN });

/**
 * An episode.md with better in points where it has proposed ones; points that somebody accepted stay. Every other
 * character stays too.
 * @param points by slug, in milliseconds of the episode's clock.
 */
export function withInPoints(
  text: string,
  points: ReadonlyMap<string, { readonly in: number; readonly confidence: number }>,
): string {
  const front = /^---\n([\s\S]*?\n)---(?:\n|$)/.exec(text)?.[1] ?? "";
  const offset = "---\n".length;
  const segments = parseDocument(front).get("segments", true);
  const edits = (isSeq(segments) ? segments.items : []).flatMap((segment) => {
    const [slug, point] = isMap(segment) ? [segment.get("slug"), segment.get("in", true)] : [];
    const found = typeof slug === "string" ? points.get(slug) : undefined;
    if (found === undefined || !isScalar(point) || parseProposal(point.comment ?? "") === null || !point.range)
      return [];
    const from = point.range[0] + offset;
    const lineEnd = text.indexOf("\n", from);
    return [{ from, to: lineEnd, words: `${formatClockExact(Math.round(found.in))} #${proposed(found.confidence)}` }];
  });
  return edits.toReversed().reduce((now, { from, to, words }) => now.slice(0, from) + words + now.slice(to), text);
}

function segmentOf({ slug, kind, title, in: start, planned, by }: DraftSegment) {
  return {
    slug,
    kind,
    title,
    in: formatClockExact(start),
    ...(planned === null ? {} : { planned: formatClockExact(planned) }),
    ...(by.length === 0 ? {} : { by: [...by] }),
  };
}
