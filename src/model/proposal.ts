import { EDGE_STATES, type EdgeState, type Proposal, type SegmentKind } from "./episode.ts";

/** Where a speaker is proposed: in a segment that the presenter alone is heard in, or in one with others. */
export type SpeakerKind = "alone" | "among others";

/** Of so many proposals of a kind so many were right. */
export interface Tally {
  readonly right: number;
  readonly of: number;
}
/** The same for each broadcast, by its date. */
export type ByBroadcast = Readonly<Record<string, Tally>>;

/** An in point is right where it lies so near to the true moment: milliseconds. */
export const NEAR_ENOUGH = 2000;

/**
 * How many in points of each state were right. An in point of a broadcast counts once a state, and as right where it
 * always was: with exact times, in blocks with and without a recogniser's faults, with the cuts known or not, before and
 * after `retime`, and never with the recording listened to. Source: `npm run bench -- proposals tests/bench/broadcasts`,
 * three broadcasts of other programmes, by which nothing was set. On the demo's three, by which weights were set, 15 of 16
 * clear ones were right.
 */
export const POINTS_MEASURED: Readonly<Record<EdgeState, ByBroadcast>> = {
  "at a cut": {
    "2026-11-02": { right: 5, of: 5 },
    "2026-11-03": { right: 2, of: 2 },
    "2026-11-04": { right: 2, of: 2 },
  },
  clear: {
    "2026-11-02": { right: 6, of: 10 },
    "2026-11-03": { right: 6, of: 11 },
    "2026-11-04": { right: 4, of: 5 },
  },
  doubtful: {
    "2026-11-02": { right: 2, of: 19 },
    "2026-11-03": { right: 3, of: 15 },
    "2026-11-04": { right: 0, of: 12 },
  },
};

/** How many sentences that `new` gave to a speaker of each kind were spoken by that person. Counted in the same way. */
export const SPEAKERS_MEASURED: Readonly<Record<SpeakerKind, ByBroadcast>> = {
  alone: {
    "2026-11-02": { right: 44, of: 57 },
    "2026-11-03": { right: 84, of: 89 },
    "2026-11-04": { right: 64, of: 64 },
  },
  "among others": {
    "2026-11-02": { right: 281, of: 492 },
    "2026-11-03": { right: 104, of: 159 },
    "2026-11-04": { right: 58, of: 83 },
  },
};

/** All broadcasts of a kind taken together. @param but this one left out. */
export const togetherOf = (own: ByBroadcast, but: string | null = null): Tally =>
  Object.entries(own)
    .filter(([id]) => id !== but)
    .reduce((sum, [, { right, of }]) => ({ right: sum.right + right, of: sum.of + of }), { right: 0, of: 0 });

/** `clear, 16 of 26 such were within 2 s`. */
export function pointText(edgeState: EdgeState): string {
  const { right, of } = togetherOf(POINTS_MEASURED[edgeState]);
  return `${edgeState}, ${right} of ${of} such were within ${NEAR_ENOUGH / 1000} s`;
}

/** `among others, 443 of 734 such sentences were theirs by the words alone`: with the recording listened to, more are. */
export function speakerText(kind: SpeakerKind): string {
  const { right, of } = togetherOf(SPEAKERS_MEASURED[kind]);
  return `${kind}, ${right} of ${of} such sentences were theirs by the words alone`;
}

/** Kinds of segment in which the presenter alone is heard. */
export const PRESENTED_ALONE: ReadonlySet<string> = new Set<SegmentKind>(["headlines", "reader", "close", "round-up"]);

/** @param segment the kind of segment. */
export const speakerKindIn = (segment: string): SpeakerKind =>
  PRESENTED_ALONE.has(segment) ? "alone" : "among others";

/** The mark of what nobody has accepted, as it stands in a comment of episode.md: an editor deletes it. */
export const PROPOSED_MARK = "proposed";

/** The comment beside a proposed in point: ` proposed: clear, 16 of 26 such were within 2 s`. */
export const proposalText = (edgeState: EdgeState): string => ` ${PROPOSED_MARK}: ${pointText(edgeState)}`;

const COMMENT = new RegExp(`^\\s*proposed\\s*(?:(?=\\n|$)|[:,](?:\\s*(${EDGE_STATES.join("|")})\\b)?)`);

/**
 * The proposal that a comment speaks of; null where it is another comment. Figures in it are not read: those of the day
 * that it was written may be outdated, and chances in files of an earlier day were never measured.
 */
export function parseProposal(comment: string): Proposal | null {
  const found = COMMENT.exec(comment);
  return found === null ? null : { edgeState: EDGE_STATES.find((state) => state === found[1]) ?? null };
}
