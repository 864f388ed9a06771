import { type CheckOptions, checkContent } from "../actions/check.ts";
import { fixNames } from "../actions/fixNames.ts";
import { blocks } from "../model/finding.ts";
import type { Terminal } from "./commands/shared.ts";
import { fixesText } from "./fixesText.ts";
import { progressTo } from "./progress.ts";
import { readingOf } from "./reading.ts";
import { type Format, formatted, sorted } from "./report.ts";

/** `afterair check`: tells all that stands in the way, and all that a person should look at. @returns the exit code. */
export async function check(options: CheckOptions, format: Format, io: Terminal): Promise<0 | 1> {
  const progress = progressTo({ line: io.err, status: io.status, now: () => performance.now() }, false);
  const findings = sorted(await checkContent(options, progress));
  io.out(formatted(findings, format, options.content, readingOf(options.content)));
  return findings.some(blocks) ? 1 : 0;
}

/** `afterair check --fix names`: writes names of some episodes as the register has them, and tells which. */
export async function fix({ episodes, ...options }: CheckOptions, dryRun: boolean, io: Terminal): Promise<void> {
  for (const id of episodes) io.out(fixesText(await fixNames({ ...options, id, dryRun }), dryRun));
}
