import type { FixedNames } from "../actions/fixNames.ts";
import { formatClock } from "../model/clock.ts";

/** Each change on its line, for people. */
export function fixesText({ file, fixed, left }: FixedNames, dryRun: boolean): string {
  const rows = fixed.map(({ seconds, was, now }) => `${formatClock(seconds * 1000).padStart(7)}  ${was} > ${now}`);
  const rest = left.map(
    ({ seconds, was, now }) => `${formatClock(seconds * 1000).padStart(7)}  ${was}: write ${now} by hand`,
  );
  const done = dryRun ? "would be changed" : "changed";
  return [...rows, ...rest, `${fixed.length} ${fixed.length === 1 ? "name" : "names"} ${done} in ${file}`].join("\n");
}
