import type { FixedNames } from "../actions/fixNames.ts";
import { formatClock } from "../model/clock.ts";

/** Each change on its line, for people. */
export function fixesText({ file, fixed, left, asked }: FixedNames, dryRun: boolean): string {
  const at = (seconds: number) => formatClock(seconds * 1000).padStart(7);
  const rows = fixed.map(({ seconds, was, now }) => `${at(seconds)}  ${was} > ${now}`);
  const rest = left.map(({ seconds, was, now }) => `${at(seconds)}  ${was}: write ${now} by hand`);
  const doubts = asked.flatMap(({ seconds, said, registered, why, mend }) => [
    `${at(seconds)}  ${said}: not changed to ${registered} of the register, because ${why}.`,
    `         ${mend}`,
  ]);
  const done = dryRun ? "would be changed" : "changed";
  return [
    ...rows,
    ...rest,
    ...doubts,
    `${fixed.length} ${fixed.length === 1 ? "name" : "names"} ${done} in ${file}`,
  ].join("\n");
}
