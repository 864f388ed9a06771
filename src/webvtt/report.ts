import type { Finding, Place } from "../model/finding.ts";
import type { Cue, VttFile } from "./file.ts";
import { finding, type WebvttRule } from "./rules.ts";

/** What a file is for: it decides what its cues may hold (WebVTT §4.6). */
export type VttKind = "captions" | "chapters" | "metadata";

/** The checks of one file under way. */
export interface Report {
  readonly file: VttFile;
  readonly kind: VttKind;
  readonly fileName: string;
  readonly found: Finding[];
  /** The first cue of each identifier, and the first region of each id. */
  readonly ids: Map<string, Place>;
  readonly regionIds: Map<string, Place>;
  /** The latest start so far, and the cue that has it. */
  latest: Cue | null;
}

export function newReport(file: VttFile, kind: VttKind, fileName: string): Report {
  return {
    file,
    kind,
    fileName,
    found: [],
    ids: new Map(),
    regionIds: new Map(),
    latest: null,
  };
}

/** A place in a report: line and column count from 1; `seconds` is the start of the cue concerned. */
export interface Mark {
  readonly line: number;
  readonly column: number;
  readonly seconds?: number;
}

export const placeIn = ({ fileName }: Report, { line, column }: Mark): Place => ({ file: fileName, line, column });

/** Adds a finding. `says` and `mend` are sentences; `see` is the other half of a clash. */
export function tell(report: Report, rule: WebvttRule, mark: Mark, says: string, mend: string, see?: Place): void {
  const others = see === undefined ? undefined : [see];
  report.found.push(finding(rule, placeIn(report, mark), mark.seconds ?? null, says, mend, others));
}

const LONGEST_QUOTE = 40;

/** Words of the file inside a sentence: in quotes, on one line, cut when long. */
export function quote(words: string): string {
  const shown = words.slice(0, LONGEST_QUOTE).replace(/\s+/g, " ");
  return `"${shown}${words.length > LONGEST_QUOTE ? "…" : ""}"`;
}
