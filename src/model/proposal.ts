/** An in point that a program proposed and nobody has accepted. */
export interface Proposal {
  /** The chance, from 0 to 1, that the true in point lies within `within`; null where the file gives none. */
  readonly sure: number | null;
  /** Milliseconds before and after; null where the file says none, as files of an earlier day do. */
  readonly within: number | null;
}

/** The mark of what nobody has accepted, as it stands in a comment of episode.md: an editor deletes it. */
export const PROPOSED_MARK = "proposed";

/** The comment beside a proposal: ` proposed: 65 % sure within 2 s`. */
export const proposalText = ({ sure, within }: Proposal): string =>
  sure === null ? ` ${PROPOSED_MARK}` : ` ${PROPOSED_MARK}: ${sureText({ sure, within })}`;

/** `65 % sure within 2 s`, for people. */
export const sureText = ({ sure, within }: { readonly sure: number; readonly within: number | null }): string =>
  `${Math.round(sure * 100)} % sure${within === null ? "" : ` within ${within / 1000} s`}`;

const COMMENT = /^\s*proposed\s*(?:(?=\n|$)|[:,](?:\s*(\d{1,3}) % sure(?: within (\d+(?:\.\d+)?) s)?)?)/;

/** The proposal that a comment speaks of; null where it is another comment. */
export function parseProposal(comment: string): Proposal | null {
  const found = COMMENT.exec(comment);
  if (found === null) return null;
  const [, sure, within] = found;
  return {
    sure: sure === undefined ? null : Number(sure) / 100,
    within: within === undefined ? null : Number(within) * 1000,
  };
}
