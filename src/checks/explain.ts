import type { Check } from "./check.ts";
import { CHECKS } from "./index.ts";

/** The page of a rule, as text for a terminal; null when there is no such rule. */
export function explain(rule: string): string | null {
  const check = CHECKS.find(({ name }) => name === rule);
  return check === undefined ? null : page(check);
}

function page({ name, level, group, reason, looks, example, accept }: Check): string {
  return [
    `${name}  (${group}, ${level})`,
    "",
    reason,
    "",
    `Looks for: ${looks}`,
    "",
    `Example: ${example}`,
    "",
    `Accept it when: ${accept}`,
    "",
    "In episode.md:",
    "  accepted:",
    `    - { rule: ${name}, at: 3:41, dated: 2026-10-06, why: "the reason", by: "who answers for it" }`,
    "`at` is the time that the report shows, `words` the words it is about; without either, all of this rule in the episode.",
    "",
    "In programme.md, for every episode:",
    `  checks: { ${name}: off }      # or warns, or blocks`,
  ].join("\n");
}

/** All rules with their level and reason, one a line, by group. */
export function listOfChecks(): string {
  const wide = Math.max(...CHECKS.map(({ name }) => name.length));
  const lines = CHECKS.flatMap((check, n) => [
    ...(CHECKS[n - 1]?.group === check.group ? [] : [`${n === 0 ? "" : "\n"}${check.group}`]),
    `  ${check.name.padEnd(wide)}  ${check.level.padEnd(6)}  ${check.reason}`,
  ]);
  return lines.join("\n");
}
