import { type Command, Option } from "commander";
import { UsageError } from "../io.ts";
import { formatted, sorted } from "../report.ts";
import { contentOption, onOption, outOption, type SiteFlags, type Terminal } from "./shared.ts";

interface BuildFlags extends SiteFlags {
  readonly drafts?: boolean;
  readonly years?: readonly [string, string];
  readonly verbose?: boolean;
}

/** `build` and `preview`. */
export function addSiteCommands(program: Command, io: Terminal): void {
  program
    .command("build")
    .description("build the site, and put it in the place of the last one when all is well")
    .addOption(contentOption())
    .addOption(outOption())
    .addOption(onOption())
    .option("--drafts", "also build what is not published, marked as draft")
    .addOption(
      new Option("--years <years>", "only these, such as 1998-2003: a part, to be laid beside others").argParser(
        yearsOf,
      ),
    )
    .option("--verbose", "tell why each page was made anew")
    .action(async (flags: BuildFlags) => {
      const [{ buildSite }, { progressTo }] = await Promise.all([import("../build.ts"), import("../progress.ts")]);
      const { drafts = false, on = null, years = null, verbose = false } = flags;
      const teller = { line: io.err, status: io.status, now: () => performance.now() };
      const progress = progressTo(teller, verbose);
      const { findings, site } = await buildSite({ ...flags, drafts, on, years, now: io.now, progress });
      if (findings.length > 0) io.err(formatted(sorted(findings), "text", flags.content));
      if (site === null) {
        io.err(`Nothing was written: ${flags.out} is as it was. Mend the faults above and build again.`);
        io.exit(1);
        return;
      }
      const made = site.made === site.pages ? "" : `, ${site.made} of them anew`;
      io.out(`${site.episodes} episodes, ${site.pages} pages in ${flags.out}${made}`);
    });

  program
    .command("preview")
    .description("build the site and show it on this machine, again after every change")
    .addOption(contentOption())
    .addOption(outOption())
    .addOption(onOption())
    .addOption(
      new Option("--port <number>", "the port to listen on; without it, the first free one from 8030").argParser(
        portOf,
      ),
    )
    .action(async (flags: SiteFlags & { readonly port?: number }) => {
      const { preview } = await import("../preview.ts");
      await preview({ ...flags, on: flags.on ?? null, port: flags.port ?? null }, io);
    });
}

function yearsOf(text: string): readonly [string, string] {
  const [, first, last = first] = /^(\d{4})(?:-(\d{4}))?$/.exec(text) ?? [];
  if (first === undefined || last === undefined || last < first) {
    throw new UsageError(`--years takes a year or a first and a last one, such as 1998-2003, not ${text}.`);
  }
  return [first, last];
}

function portOf(text: string): number {
  const port = Number(text);
  if (!Number.isInteger(port) || port < 1 || port > 65535) {
    throw new UsageError(`--port takes a whole number from 1 to 65535, not ${text}.`);
  }
  return port;
}
