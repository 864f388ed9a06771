import { resolve } from "node:path";
import { Command, CommanderError, Option } from "commander";
import { blocks } from "../model/finding.ts";
import type { Clock } from "../model/units.ts";
import type { VttKind } from "../webvtt/index.ts";
import { type Io, UsageError } from "./io.ts";
import { FORMATS, type Format, formatted, sorted } from "./report.ts";

const io: Io = {
  out: (text) => void process.stdout.write(`${text}\n`),
  err: (text) => void process.stderr.write(`${text}\n`),
  now: new Date(),
};

interface ContentFlags {
  readonly content: string;
  readonly on?: string;
}
interface SiteFlags extends ContentFlags {
  readonly out: string;
}

interface NewFlags {
  readonly content: string;
  readonly transcript: string;
  readonly media: readonly string[];
  readonly runningOrder?: string;
  readonly duration?: string;
  readonly cut?: readonly string[];
  readonly clock: Clock;
  readonly title?: string;
}
interface RetimeFlags {
  readonly content: string;
  readonly text: string;
  readonly times?: string;
  readonly inPoints?: boolean;
  readonly dryRun?: boolean;
}

// Whoever reads our output may stop reading, as `head` does: then there is nobody left to tell.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
  process.exit();
});

const program = new Command("afterair")
  .description(
    "Publishes the record of a broadcast: pages to play, read with captions, search, quote and correct in the open.",
  )
  .version("0.1.0")
  .option("--trace", "show where in the program an unexpected error came from")
  .exitOverride()
  .showSuggestionAfterError();

const content = () => new Option("--content <folder>", "what people write").default("content");
const out = () => new Option("--out <folder>", "the built site").default("site");
const on = () => new Option("--on <date>", "the site as it stood at the end of this day, such as 2026-10-06");

program
  .command("build")
  .description("build the site, and put it in the place of the last one when all is well")
  .addOption(content())
  .addOption(out())
  .addOption(on())
  .action(async (flags: SiteFlags) => {
    const { buildSite } = await import("./build.ts");
    const { findings, site } = await buildSite({ ...flags, on: flags.on ?? null, now: io.now });
    if (findings.length > 0) io.err(formatted(sorted(findings), "text", flags.content));
    if (site === null) {
      io.err(`Nothing was written: ${flags.out} is as it was. Mend the faults above and build again.`);
      process.exitCode = 1;
      return;
    }
    io.out(`${site.episodes} episodes, ${site.pages} pages in ${flags.out}`);
  });

program
  .command("check")
  .description("tell all faults and warnings, with file, line and column")
  .argument("[episode...]", "only these, such as 2026-10-05")
  .addOption(content())
  .addOption(on())
  .addOption(new Option("--format <format>", "text, json, or github").choices(FORMATS).default("text"))
  .action(async (episodes: string[], flags: ContentFlags & { readonly format: Format }) => {
    const { checkContent } = await import("./check.ts");
    const findings = sorted(await checkContent({ ...flags, episodes, on: flags.on ?? null, now: io.now }));
    io.out(formatted(findings, flags.format, flags.content));
    process.exitCode = findings.some(blocks) ? 1 : 0;
  });

program
  .command("new")
  .description("begin an episode: its folder, from a raw transcript, the running order and the recording")
  .argument("<date>", "2026-10-05, or 2026-10-05-late for a second edition")
  .requiredOption(
    "--transcript <file>",
    "WebVTT, SubRip, text with [m:ss] before its paragraphs, a list of words in JSON, or plain text",
  )
  .requiredOption("--media <file or address...>", "the recording, best first; a file is copied beside")
  .option("--running-order <file>", "CSV with at least a title column")
  .option("--duration <time>", "how long the recording runs, such as 27:52, where it can't be read")
  .option("--cut <from-to=why...>", "aired time that the recording lacks, such as 13:20-15:05=break")
  .addOption(
    new Option("--clock <clock>", "what the transcript's times count").choices(["aired", "media"]).default("aired"),
  )
  .option("--title <text>", "the episode's title")
  .addOption(content())
  .action(async (id: string, flags: NewFlags) => {
    const { madeText, newEpisode } = await import("./new.ts");
    const { findings, made } = await newEpisode({ ...flags, id, cut: flags.cut ?? [] });
    if (findings.length > 0) io.err(formatted(sorted(findings), "text", ""));
    if (made === null) process.exitCode = 1;
    else io.out(madeText(made));
  });

program
  .command("retime")
  .description("put an editor's corrected words into the transcript, with the times that are there")
  .argument("<episode>", "such as 2026-10-05")
  .requiredOption("--text <file>", "the words, with NAME: before each turn")
  .option("--times <file>", "take the times from this raw transcript")
  .option("--in-points", "move proposed in points of episode.md to where the new words speak for")
  .option("--dry-run", "tell what would change, and write nothing")
  .addOption(content())
  .action(async (id: string, flags: RetimeFlags) => {
    const { retimedText, retimeEpisode } = await import("./retime.ts");
    const [dryRun, inPoints] = [flags.dryRun === true, flags.inPoints === true];
    const { findings, made } = await retimeEpisode({ ...flags, id, dryRun, inPoints });
    if (findings.length > 0) io.err(formatted(sorted(findings), "text", ""));
    if (made === null) process.exitCode = 1;
    else io.out(retimedText(made, dryRun));
  });

program
  .command("preview")
  .description("build the site and show it on this machine, again after every change")
  .addOption(content())
  .addOption(out())
  .addOption(on())
  .addOption(
    new Option("--port <number>", "the port to listen on; without it, the first free one from 8030").argParser(portOf),
  )
  .action(async (flags: SiteFlags & { readonly port?: number }) => {
    const { preview } = await import("./preview.ts");
    await preview({ ...flags, on: flags.on ?? null, port: flags.port ?? null }, io);
  });

program
  .command("cues")
  .description("show WebVTT files as the standard's parser sees them, with their problems")
  .argument("<file...>")
  .option("--json", "one JSON object a line, one line a file")
  .addOption(
    new Option("--kind <kind>", "what the cues are for")
      .choices(["captions", "chapters", "metadata"])
      .default("captions"),
  )
  .action(async (files: string[], flags: { readonly json?: boolean; readonly kind: VttKind }) => {
    const { cues } = await import("./cues.ts");
    const { readFile } = await import("node:fs/promises");
    process.exitCode = await cues(
      files,
      { json: flags.json === true, kind: flags.kind },
      { err: io.err, write: (text) => void process.stdout.write(text), read: (path) => readFile(resolve(path)) },
    );
  });

function portOf(text: string): number {
  const port = Number(text);
  if (!Number.isInteger(port) || port < 1 || port > 65535) {
    throw new UsageError(`--port takes a whole number from 1 to 65535, not ${text}.`);
  }
  return port;
}

/** What an error says to whoever called: the stack only when asked for. */
function explain(error: unknown, trace: boolean): string {
  if (error instanceof UsageError) return error.message;
  if (!(error instanceof Error)) return `Something unexpected: ${String(error)}`;
  return trace ? (error.stack ?? error.message) : `${error.message}\n(afterair --trace shows where this came from.)`;
}

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) {
    process.exitCode = error.exitCode === 0 ? 0 : 2;
  } else {
    io.err(explain(error, program.opts<{ trace?: boolean }>().trace === true));
    process.exitCode = 2;
  }
}
