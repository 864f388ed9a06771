import { Document, isCollection, isMap, isNode, isScalar, isSeq, type Node, parseDocument } from "yaml";
import { formatClock, formatClockExact } from "../model/clock.ts";
import type { DraftSegment, EpisodeDraft } from "../model/draft.ts";
import type { EdgeState } from "../model/episode.ts";
import { PROPOSED_MARK, parseProposal, proposalText } from "../model/proposal.ts";

const SCHEMA = " yaml-language-server: $schema=../../../.schemas/episode.schema.json";

/** A new episode.md: front matter with a mark beside what is only proposed, and an empty body. */
export function episodeText(draft: EpisodeDraft): string {
  const { title, aired, duration, media, clock, timesGuessed, cuts, segments, remarks } = draft;
  const document = new Document({
    title,
    aired,
    duration: formatClockExact(duration),
    ...(media.length === 0
      ? {}
      : { media: media.map(({ src, type, bytes }) => ({ src, type, ...(bytes === null ? {} : { bytes }) })) }),
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
  segments.forEach(({ by, edgeState }, n) => {
    if (by.length > 0) flow(["segments", n, "by"]);
    const point = document.getIn(["segments", n, "in"], true);
    if (edgeState !== null && isScalar(point)) point.comment = proposalText(edgeState);
  });
  document.commentBefore = [SCHEMA, ...remarks.map((remark) => ` ${remark.replace(/\s+/g, " ")}`)].join("\n");
  const yaml = document.toString({ lineWidth: 0, flowCollectionPadding: true }).replace(/^((?:#.*\n)+)\n/, "$1");
  return `---\n${yaml}---\n`;
}

/**
 * An episode.md with better in points where it has proposed ones; points that somebody accepted stay. Every other
 * character stays too.
 * @param points by slug, in milliseconds of the episode's clock.
 */
export function withInPoints(
  text: string,
  points: ReadonlyMap<string, { readonly in: number; readonly edgeState: EdgeState }>,
): string {
  return spliced(
    text,
    segmentsIn(text).flatMap(({ slug, point }) => {
      const found = points.get(slug);
      if (found === undefined || !isProposed(point)) return [];
      const words = `${formatClockExact(Math.round(found.in))} #${proposalText(found.edgeState)}`;
      return [{ node: point, from: 0, words }];
    }),
  );
}

/**
 * An episode.md with one in point as somebody set it: it is no proposal any more. Every other character stays.
 * @param at milliseconds of the episode's clock; null: it stays where it is, and is accepted.
 */
export function withInPoint(text: string, slug: string, at: number | null): string {
  return spliced(
    text,
    segmentsIn(text).flatMap(({ slug: own, point }): LineEnding[] => {
      if (own !== slug) return [];
      if (at !== null) return [{ node: point, from: 0, words: formatClockExact(Math.round(at)) }];
      return isProposed(point) ? [{ node: point, from: 1, words: "" }] : [];
    }),
  );
}

/** A finding that somebody looked at and lets stand. */
export interface NewAcceptance {
  readonly rule: string;
  /** Milliseconds of the episode's clock; null: the rule's findings at any moment. */
  readonly at: number | null;
  /** A local date. */
  readonly dated: string;
  readonly why: string;
  readonly by: string;
}

/**
 * An episode.md with one more acceptance, the last of its list; every other character stays. Null where the front matter
 * has no end, or `accepted` is no list: that is for a person.
 */
export function withAcceptance(text: string, { rule, at, dated, why, by }: NewAcceptance): string | null {
  const { from, front } = frontOf(text);
  if (front === "") return null;
  const moment = at === null ? "" : `at: ${formatClock(at)}, `;
  const own = `{ rule: ${rule}, ${moment}dated: ${dated}, why: ${JSON.stringify(why)}, by: ${JSON.stringify(by)} }`;
  const item = `  - ${own}\n`;
  const list = parseDocument(front).get("accepted", true);
  if (list === undefined) return `${text.slice(0, from)}${front}accepted:\n${item}${text.slice(from + front.length)}`;
  if (!isSeq(list) || !list.range) return null;
  const last = list.items.at(-1);
  if (list.flow === true) {
    const [open, close] = list.range;
    const at = isNode(last) && last.range ? last.range[1] : open + 1;
    const words = isNode(last) ? `, ${own}` : own;
    return at > close ? null : text.slice(0, from + at) + words + text.slice(from + at);
  }
  const end = isNode(last) && last.range ? last.range[1] : list.range[1];
  const line = front.indexOf("\n", Math.max(0, end - 1)) + 1;
  return text.slice(0, from + line) + item + text.slice(from + line);
}

/** An episode.md whose in points and cuts somebody has accepted: without the marks. Every other character stays. */
export function withoutProposals(text: string): string {
  const cuts = listIn(text, "cuts");
  const points = segmentsIn(text).map(({ point }) => point);
  return spliced(
    text,
    [...cuts, ...points].filter(isProposed).map((node) => ({ node, from: 1, words: "" })),
  );
}

/** An episode.md with one of its cuts accepted. Every other character stays. @param n the cut's number, from 0. */
export function withCutAccepted(text: string, n: number): string {
  const cut = listIn(text, "cuts")[n];
  return cut === undefined || !isProposed(cut) ? text : spliced(text, [{ node: cut, from: 1, words: "" }]);
}

/** A value of the front matter whose line is to end otherwise: from its beginning (0) or its end (1) on. */
interface LineEnding {
  readonly node: Node;
  readonly from: 0 | 1;
  readonly words: string;
}

/** The front matter of a file, and where it begins. */
export function frontOf(text: string): { readonly from: number; readonly front: string } {
  const from = /^\uFEFF?---[^\n]*\n/.exec(text)?.[0].length ?? text.length;
  const to = text.indexOf("\n---", from - 1);
  return { from, front: to === -1 ? "" : text.slice(from, to + 1) };
}

const listIn = (text: string, key: string): readonly Node[] => {
  const list = parseDocument(frontOf(text).front).get(key, true);
  return isSeq(list) ? list.items.filter(isNode) : [];
};

const segmentsIn = (text: string): readonly { readonly slug: string; readonly point: Node }[] =>
  listIn(text, "segments").flatMap((segment) => {
    const [slug, point] = isMap(segment) ? [segment.get("slug"), segment.get("in", true)] : [];
    return typeof slug === "string" && isScalar(point) ? [{ slug, point }] : [];
  });

const isProposed = (node: Node): boolean => parseProposal(node.comment ?? "") !== null;

function spliced(text: string, endings: readonly LineEnding[]): string {
  const placed = endings.flatMap(({ node, from, words }) => (node.range ? [{ at: node.range[from], words }] : []));
  const { from } = frontOf(text);
  return placed
    .sort((a, b) => b.at - a.at)
    .reduce((now, { at, words }) => {
      const rest = now.slice(from + at);
      return now.slice(0, from + at) + words + rest.slice(rest.search(/\r?\n/));
    }, text);
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
