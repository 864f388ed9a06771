import { blocks, type Finding } from "../../model/finding.ts";

/** The first finding that blocks, with its place; null: none does. */
export function firstFault(findings: readonly Finding[]): string | null {
  const first = findings.find(blocks);
  return first === undefined ? null : `${first.at.file}, line ${first.at.line}: ${first.says} ${first.mend}`;
}
