import { Command, CommanderError, Help } from "commander";
import { visible, visibleLine } from "../model/unseen.ts";
import { UsageError } from "../model/usageError.ts";
import { WriteFault, writeFault } from "../write/files.ts";
import { addBeginCommand } from "./commands/begin.ts";
import { addCheckCommands } from "./commands/check.ts";
import { addRecordCommands } from "./commands/record.ts";
import type { Terminal } from "./commands/shared.ts";
import { addSiteCommands } from "./commands/site.ts";
import { addSoundCommands } from "./commands/sound.ts";
import { addTranscriptCommands } from "./commands/transcript.ts";
import { requireContentFolder } from "./contentFolder.ts";
import { keepHeapSmall } from "./heap.ts";

keepHeapSmall();

const named = process.env.AFTERAIR_FFMPEG;
// Names of files and words that people wrote go out this way: a terminal must not obey what stands in them.
const write = (text: string): void => void process.stdout.write(visible(text));
const err = (text: string): void => void process.stderr.write(visible(text));
const io: Terminal = {
  out: (text) => write(`${text}\n`),
  write,
  err: (text) => err(`${text}\n`),
  status: process.stderr.isTTY ? (text) => void process.stderr.write(`\r${visibleLine(text)}\u001b[K`) : null,
  exit: (code) => {
    process.exitCode = code;
  },
  asks: process.stdin.isTTY && process.stdout.isTTY,
  now: new Date(),
  ffmpeg: named === undefined || named === "" ? "ffmpeg" : named,
};

// Whoever reads our output may stop reading, as `head` does: then there is nobody left to tell.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit();
  err(`${explain(writeFault(error, "The output", "Some of it is missing."), false)}\n`);
  process.exit(2);
});

const HELP = new Help();
/** What can't be left out says so. */
const marked = (required: boolean, description: string): string =>
  required ? `(required) ${description}`.trim() : description;

const program = new Command("afterair")
  .description(
    "Publishes the record of a broadcast: pages to play, read with captions, search, quote and correct in the open.",
  )
  .version("0.1.0")
  .option("--trace", "show where in the program an unexpected error came from")
  .exitOverride()
  .configureOutput({ writeOut: write, writeErr: err })
  .showSuggestionAfterError(false)
  .configureHelp({
    argumentDescription: (argument) => marked(argument.required, HELP.argumentDescription(argument)),
    optionDescription: (option) => marked(option.mandatory, HELP.optionDescription(option)),
  });

addBeginCommand(program, io);
addTranscriptCommands(program, io);
addCheckCommands(program, io);
addSiteCommands(program, io);
addRecordCommands(program, io);
addSoundCommands(program, io);

program.hook("preAction", async (program, command) => {
  if (program.opts<{ trace?: boolean }>().trace === true) process.setSourceMapsEnabled(true);
  const { content } = command.opts<{ readonly content?: string }>();
  if (content !== undefined) await requireContentFolder(content);
});

/** What an error says to whoever called: the stack only when asked for. */
function explain(error: unknown, trace: boolean): string {
  if (error instanceof UsageError || error instanceof WriteFault) return error.message;
  if (!(error instanceof Error)) return `Something unexpected: ${String(error)}`;
  return trace ? (error.stack ?? error.message) : `${error.message}\n(afterair --trace shows where this came from.)`;
}

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) {
    const { suggestion } = await import("./suggest.ts");
    const meant = error.exitCode === 0 ? null : suggestion(error, program);
    if (meant !== null) io.err(meant);
    process.exitCode = error.exitCode === 0 ? 0 : 2;
  } else {
    io.err(explain(error, program.opts<{ trace?: boolean }>().trace === true));
    process.exitCode = 2;
  }
}
