import type { Correction } from "../model/episode.ts";
import type { Finding, Level } from "../model/finding.ts";

/** A finding about a correction, at its file. */
export function faulty(
  correction: Correction,
  rule: string,
  says: string,
  mend: string,
  level: Level = "blocks",
): Finding {
  const seconds = correction.at === null ? null : correction.at / 1000;
  return { rule, level, at: correction.place, seconds, says, mend };
}
