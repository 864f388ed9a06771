import { distance } from "fastest-levenshtein";
import type { Finding } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import { staleFinding, type Worded, withoutAccepted } from "./accept.ts";
import { CAPTION_CHECKS } from "./captions/index.ts";
import { CAUTION_CHECKS } from "./cautions/index.ts";
import type { Check } from "./check.ts";
import { FIGURE_CHECKS } from "./figures/index.ts";
import { NAME_CHECKS } from "./names/index.ts";
import { RECOGNISER_CHECKS } from "./recogniser/index.ts";
import { RIGHTS_CHECKS } from "./rights/index.ts";
import { STRUCTURE_CHECKS } from "./structure/index.ts";
import type { Subject } from "./subject.ts";
import { withdrawnElsewhere } from "./withdrawn/index.ts";

/** Every editorial rule, in the order in which they are documented. */
export const CHECKS: readonly Check[] = [
  ...RECOGNISER_CHECKS,
  ...NAME_CHECKS,
  ...FIGURE_CHECKS,
  ...CAPTION_CHECKS,
  ...STRUCTURE_CHECKS,
  ...CAUTION_CHECKS,
  ...RIGHTS_CHECKS,
  withdrawnElsewhere,
];

/**
 * What a person should look at in an episode, at the programme's levels and without what was accepted or is answered by
 * a correction. `read`: other findings of the same episode, from which acceptances are taken off too. `isAsked`: whether a
 * rule was asked this time; of one that was not, an acceptance that accepts nothing is no fault.
 */
export function checkEpisode(
  subject: Subject,
  read: readonly Finding[] = [],
  isAsked: (rule: string) => boolean = () => true,
): readonly Finding[] {
  const own = CHECKS.flatMap((check) => judged(check, subject));
  const known = read.map((finding): Worded => ({ finding, words: null }));
  const { left, stale } = withoutAccepted([...known, ...own], subject.episode.accepted ?? []);
  return [...left, ...stale.filter(({ rule }) => isAsked(rule)).map(staleFinding)];
}

function judged({ name, level, judge }: Check, subject: Subject): readonly Worded[] {
  const set = subject.programme.checks?.[name] ?? level;
  if (set === "off") return [];
  return judge(subject)
    .filter(({ answered }) => !answered)
    .map(({ words, answered: _, ...doubt }) => ({ finding: { rule: name, level: set, ...doubt }, words }));
}

/** Names in the programme's `checks` that no check has. */
export function unknownChecks({ checks = {}, at }: Programme): readonly Finding[] {
  return Object.keys(checks)
    .filter((name) => CHECKS.every((check) => check.name !== name))
    .map((name) => {
      const near = CHECKS.toSorted((a, b) => distance(a.name, name) - distance(b.name, name))[0]?.name ?? "";
      return {
        rule: "check-unknown",
        level: "warns",
        at,
        seconds: null,
        says: `No editorial check is called ${name}.`,
        mend: `Did you mean ${near}? \`afterair check --explain\` lists them all.`,
      };
    });
}

/** The group a rule belongs to; null for the readers' own. */
export const groupOf = (rule: string): Check["group"] | null => CHECKS.find(({ name }) => name === rule)?.group ?? null;
