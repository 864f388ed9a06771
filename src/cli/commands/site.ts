import { type Command, Option } from "commander";
import { MODEL_FOLDER } from "../../listen/alignModel.ts";
import { UsageError } from "../../model/usageError.ts";
import {
  type ContentFlags,
  contentOption,
  onOption,
  outOption,
  ownOption,
  type SiteFlags,
  type Terminal,
} from "./shared.ts";

interface BuildFlags extends SiteFlags {
  readonly drafts?: boolean;
  readonly verify?: boolean;
  readonly years?: readonly [string, string];
  readonly verbose?: boolean;
}

/** `build`, `preview` and `desk`. */
export function addSiteCommands(program: Command, io: Terminal): void {
  program
    .command("build")
    .description("build the site, and put it in the place of the last one when all is well")
    .addOption(contentOption())
    .addOption(outOption("the built site; left out: site, or with --drafts a folder of their own in .afterair/"))
    .addOption(onOption())
    .addOption(ownOption())
    .option("--drafts", "also build what is not published, marked as draft")
    .option("--verify", "compare the last site with its checksum lists, and make it anew where a file is another")
    .addOption(
      new Option(
        "--years <years>",
        "only these, such as 1998-2003: a share of the site, to be laid beside others",
      ).argParser(yearsOf),
    )
    .option("--verbose", "tell why each page was made anew")
    .action(async (flags: BuildFlags) => {
      const { build } = await import("../build.ts");
      const { content, out = null, on = null, years = null, own = null } = flags;
      const [drafts, verify, verbose] = [flags.drafts === true, flags.verify === true, flags.verbose === true];
      io.exit(await build({ content, out, on, own, drafts, verify, years, verbose }, io));
    });

  program
    .command("preview")
    .description("build the site and show it on this machine, again after every change")
    .addOption(contentOption())
    .addOption(outOption("where it is built; left out: a folder of its own in .afterair/"))
    .addOption(onOption())
    .addOption(ownOption())
    .addOption(
      new Option("--port <number>", "the port to listen on; without it, the first free one from 8030").argParser(
        portOf,
      ),
    )
    .action(async (flags: SiteFlags & { readonly port?: number }) => {
      const [{ preview }, { draftsFolder }] = await Promise.all([
        import("../preview.ts"),
        import("../../build/openOut.ts"),
      ]);
      const { content, on = null, port = null, own = null } = flags;
      await preview({ content, on, port, own, out: flags.out ?? draftsFolder(content, on) }, io);
    });

  program
    .command("desk")
    .description("open the desk on this machine: the evening by ear and eye")
    .addOption(contentOption())
    .addOption(outOption("the built site").default("site"))
    .addOption(new Option("--acoustic-model <folder>", "the acoustic model to listen with").default(MODEL_FOLDER))
    .addOption(
      new Option("--port <number>", "the port to listen on; without it, the first free one from 8030").argParser(
        portOf,
      ),
    )
    .action(async (flags: ContentFlags & { out: string; port?: number; acousticModel: string }) => {
      const { desk } = await import("../desk.ts");
      const { content, out, port = null, acousticModel } = flags;
      await desk({ content, out, port, listen: { model: acousticModel, ffmpeg: io.ffmpeg } }, io);
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
