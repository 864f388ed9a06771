import { formatClock } from "../model/clock.ts";
import type { Acceptance } from "../model/episode.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { grouped } from "../model/grouped.ts";
import { foldWord, tokensOf } from "./speech.ts";

/** A finding, and the words it is about; null where it is about none. */
export interface Worded {
  readonly finding: Finding;
  readonly words: string | null;
}

/** What is left after the episode's acceptances, and those among them that no longer accept anything. */
export interface Accepted {
  readonly left: readonly Finding[];
  readonly stale: readonly Acceptance[];
}

/**
 * Leaves out what was accepted. An acceptance fits a finding that warns when it names its rule and, as far as it gives
 * them, its moment (to the second, as the report shows it) and its words (letters and digits alone count; the finding's
 * words may go on after them). What blocks can't be accepted.
 */
export function withoutAccepted(found: readonly Worded[], acceptances: readonly Acceptance[]): Accepted {
  const used = new Set<Acceptance>();
  const byRule = grouped(acceptances.map(prepared), ({ acceptance }) => acceptance.rule);
  const left = found.filter((one) => {
    const ofRule = blocks(one.finding) ? [] : (byRule.get(one.finding.rule) ?? []);
    if (ofRule.length === 0) return true;
    const words = one.words === null ? null : ` ${plain(one.words)} `;
    const fitting = ofRule.filter((own) => fits(own, one.finding, words));
    for (const { acceptance } of fitting) used.add(acceptance);
    return fitting.length === 0;
  });
  return { left: left.map(({ finding }) => finding), stale: acceptances.filter((acceptance) => !used.has(acceptance)) };
}

interface Prepared {
  readonly acceptance: Acceptance;
  /** In seconds, as the report shows it; null: any. */
  readonly second: number | null;
  /** Letters and digits alone, with a blank on either side; null: any. */
  readonly words: string | null;
}

const prepared = (acceptance: Acceptance): Prepared => ({
  acceptance,
  second: acceptance.at === null ? null : Math.floor(acceptance.at / 1000),
  words: acceptance.words === null ? null : ` ${plain(acceptance.words)} `,
});

/** @param about the finding's words, as an acceptance has them. */
function fits({ second, words }: Prepared, { seconds }: Finding, about: string | null): boolean {
  if (second !== null && (seconds === null || second !== Math.floor(seconds))) return false;
  return words === null || about?.startsWith(words) === true;
}

const plain = (text: string): string =>
  tokensOf(text)
    .map((token) => foldWord(token.text))
    .join(" ");

/** An acceptance of nothing: what it accepted was mended, or moved. */
export function staleFinding(acceptance: Acceptance): Finding {
  const { rule, at, words, place, dated } = acceptance;
  const where = `${at === null ? "" : ` at ${formatClock(at)}`}${words === null ? "" : ` about “${words}”`}`;
  return {
    rule: "acceptance-stale",
    level: "warns",
    at: place,
    seconds: at === null ? null : at / 1000,
    says: `Nothing of the rule ${rule} is found${where} any more that was accepted on ${dated}.`,
    mend: "Take the acceptance out, or give the time and words that `afterair check` shows.",
  };
}
