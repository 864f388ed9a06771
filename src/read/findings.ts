import type { Finding, Level, Place } from "../model/finding.ts";

/** A finding at a place. `seconds`: the moment concerned, in the episode's clock. */
export function findingAt(
  at: Place,
  level: Level,
  rule: string,
  says: string,
  mend: string,
  seconds: number | null = null,
): Finding {
  return { rule, level, at, seconds, says, mend };
}

/** A finding without a moment that stands in the way of publishing. */
export const blocking = (rule: string, at: Place, says: string, mend: string): Finding =>
  findingAt(at, "blocks", rule, says, mend);

/** A file that looks like a copy which somebody put by (`isPutBy`). */
export const putByFinding = (file: string): Finding =>
  findingAt(
    { file, line: 1, column: 1 },
    "warns",
    "file-unread",
    "This looks like a copy that somebody put by: nothing reads it.",
    "Take it away, or give it the name of what it is.",
  );

/** In reading order: file by file as they first come, then by line and column. */
export function inOrder(findings: readonly Finding[]): Finding[] {
  const files = [...new Set(findings.map(({ at }) => at.file))];
  const rank = new Map(files.map((file, i) => [file, i]));
  const of = ({ at }: Finding): number => rank.get(at.file) ?? files.length;
  return [...findings].sort((a, b) => of(a) - of(b) || a.at.line - b.at.line || a.at.column - b.at.column);
}
