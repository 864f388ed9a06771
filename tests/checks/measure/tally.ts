import type { Finding } from "../../../src/model/finding.ts";

/** What a group of rules found of what there was to find. */
export interface Tally {
  /** Faults that there were, and those of them that were found. */
  planted: number;
  found: number;
  /** Findings, and those of them that are right. */
  told: number;
  right: number;
  readonly missed: string[];
  readonly wrong: string[];
}

export const emptyTally = (): Tally => ({ planted: 0, found: 0, told: 0, right: 0, missed: [], wrong: [] });

/** A fault that is known to be there. */
export interface Planted {
  readonly name: string;
  /** Which rules can find it. */
  readonly rules: readonly string[];
  /** Whether a finding of one of its rules is about it. */
  readonly isAt: (finding: Finding) => boolean;
}

/** Adds to a tally what was planted and what was told. `isTrue`: a finding that is right although nobody planted it. */
export function tallyUp(
  tally: Tally,
  planted: readonly Planted[],
  findings: readonly Finding[],
  isTrue: (finding: Finding) => boolean = () => false,
): void {
  const isOf = (finding: Finding, fault: Planted) => fault.rules.includes(finding.rule) && fault.isAt(finding);
  for (const fault of planted) {
    tally.planted += 1;
    if (findings.some((finding) => isOf(finding, fault))) tally.found += 1;
    else tally.missed.push(fault.name);
  }
  for (const finding of findings) {
    tally.told += 1;
    if (planted.some((fault) => isOf(finding, fault)) || isTrue(finding)) tally.right += 1;
    else tally.wrong.push(`${finding.rule}  ${finding.at.file}:${finding.at.line}  ${finding.says}`);
  }
}

export const recallOf = ({ planted, found }: Tally): number => (planted === 0 ? 1 : found / planted);
export const precisionOf = ({ told, right }: Tally): number => (told === 0 ? 1 : right / told);
