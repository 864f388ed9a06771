import type { Finding } from "../model/finding.ts";

/** What a station's own templates did wrong, as a finding: thrown through what has no findings of its own. */
export class StationFault extends Error {
  readonly finding: Finding;
  constructor(finding: Finding) {
    super(finding.says);
    this.finding = finding;
  }
}
