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
 * after `retime`. Source: `npm run bench -- proposals FOLDER` on the demo's three broadcasts. The weights of the search
 * were chosen on these too, so other broadcasts may do worse.
 */
export const POINTS_MEASURED: Readonly<Record<EdgeState, ByBroadcast>> = {
  "at a cut": {
    "2026-10-05": { right: 3, of: 3 },
    "2026-10-06": { right: 3, of: 3 },
    "2026-10-07": { right: 2, of: 2 },
  },
  clear: {
    "2026-10-05": { right: 6, of: 6 },
    "2026-10-06": { right: 5, of: 5 },
    "2026-10-07": { right: 4, of: 5 },
  },
  doubtful: {
    "2026-10-05": { right: 3, of: 5 },
    "2026-10-06": { right: 3, of: 7 },
    "2026-10-07": { right: 0, of: 4 },
  },
};

/** How many sentences that `new` gave to a speaker of each kind were spoken by that person. Counted in the same way. */
export const SPEAKERS_MEASURED: Readonly<Record<SpeakerKind, ByBroadcast>> = {
  alone: {
    "2026-10-05": { right: 14, of: 14 },
    "2026-10-06": { right: 22, of: 22 },
    "2026-10-07": { right: 13, of: 13 },
  },
  "among others": {
    "2026-10-05": { right: 86, of: 108 },
    "2026-10-06": { right: 66, of: 93 },
    "2026-10-07": { right: 77, of: 105 },
  },
};

/** All broadcasts of a kind taken together. @param but this one left out. */
export const togetherOf = (own: ByBroadcast, but: string | null = null): Tally =>
  Object.entries(own)
    .filter(([id]) => id !== but)
    .reduce((sum, [, { right, of }]) => ({ right: sum.right + right, of: sum.of + of }), { right: 0, of: 0 });

/** `clear, 16 of 17 such were within 2 s`. */
export function pointText(edgeState: EdgeState): string {
  const { right, of } = togetherOf(POINTS_MEASURED[edgeState]);
  return `${edgeState}, ${right} of ${of} such were within ${NEAR_ENOUGH / 1000} s`;
}

/** `among others, 252 of 330 such sentences were theirs by the words alone`: with the recording listened to, more are. */
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

/** The comment beside a proposed in point: ` proposed: clear, 16 of 17 such were within 2 s`. */
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
