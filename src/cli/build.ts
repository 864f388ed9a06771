import { buildSite } from "../build/build.ts";
import { draftsFolder } from "../build/openOut.ts";
import { OF_A_REPOSITORY } from "../write/outFolder.ts";
import type { Terminal } from "./commands/shared.ts";
import { progressTo } from "./progress.ts";
import { counted, formatted, sorted } from "./report.ts";

interface BuildCommand {
  readonly content: string;
  /** null: the usual folder. */
  readonly out: string | null;
  readonly on: string | null;
  /** The station's own templates; null: as the programme says. */
  readonly own: string | null;
  readonly drafts: boolean;
  readonly verify: boolean;
  readonly years: readonly [string, string] | null;
  /** Tell why each page was made anew. */
  readonly verbose: boolean;
}

/** `afterair build`: builds the site, and tells what was found and made. @returns the exit code. */
export async function build({ verbose, ...options }: BuildCommand, io: Terminal): Promise<0 | 1> {
  const { content, drafts, on } = options;
  const out = options.out ?? (drafts ? draftsFolder(content, on) : "site");
  const progress = progressTo({ line: io.err, status: io.status, now: () => performance.now() }, verbose);
  const { findings, site } = await buildSite({ ...options, out, now: io.now, progress });
  if (findings.length > 0) io.err(formatted(sorted(findings), "text", content));
  if (site === null) {
    io.err(`Nothing was written: ${out} is as it was. Mend the faults above and build again.`);
    return 1;
  }
  const made = site.made === site.pages ? "" : `, ${site.made} of them anew`;
  io.out(`${counted(site.episodes, "episode")}, ${counted(site.pages, "page")} in ${out}${made}`);
  const guests = site.guests.filter((name) => !OF_A_REPOSITORY.includes(name));
  if (guests.length > 0) io.out(`Kept there, as no build made it: ${guests.join(", ")}`);
  return 0;
}
