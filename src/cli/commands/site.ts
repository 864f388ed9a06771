import { type Command, Option } from "commander";
import { UsageError } from "../io.ts";
import { formatted, sorted } from "../report.ts";
import { contentOption, onOption, outOption, type SiteFlags, type Terminal } from "./shared.ts";

/** `build` and `preview`. */
export function addSiteCommands(program: Command, io: Terminal): void {
  program
    .command("build")
    .description("build the site, and put it in the place of the last one when all is well")
    .addOption(contentOption())
    .addOption(outOption())
    .addOption(onOption())
    .option("--drafts", "also build what is not published, marked as draft")
    .action(async (flags: SiteFlags & { readonly drafts?: boolean }) => {
      const { buildSite } = await import("../build.ts");
      const drafts = flags.drafts === true;
      const { findings, site } = await buildSite({ ...flags, drafts, on: flags.on ?? null, now: io.now });
      if (findings.length > 0) io.err(formatted(sorted(findings), "text", flags.content));
      if (site === null) {
        io.err(`Nothing was written: ${flags.out} is as it was. Mend the faults above and build again.`);
        io.exit(1);
        return;
      }
      io.out(`${site.episodes} episodes, ${site.pages} pages in ${flags.out}`);
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

function portOf(text: string): number {
  const port = Number(text);
  if (!Number.isInteger(port) || port < 1 || port > 65535) {
    throw new UsageError(`--port takes a whole number from 1 to 65535, not ${text}.`);
  }
  return port;
}
