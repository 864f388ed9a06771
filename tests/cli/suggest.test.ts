import { Command, CommanderError } from "commander";
import { expect, test } from "vitest";
import { addBeginCommand } from "../../src/cli/commands/begin.ts";
import { addCheckCommands } from "../../src/cli/commands/check.ts";
import type { Terminal } from "../../src/cli/commands/shared.ts";
import { addSiteCommands } from "../../src/cli/commands/site.ts";
import { addTranscriptCommands } from "../../src/cli/commands/transcript.ts";
import { suggestion } from "../../src/cli/suggest.ts";

const QUIET: Terminal = {
  out: () => undefined,
  err: () => undefined,
  write: () => undefined,
  exit: () => undefined,
  status: null,
  asks: false,
  now: new Date(0),
  ffmpeg: "ffmpeg",
};

async function suggested(line: string): Promise<string | null> {
  const program = new Command("afterair").exitOverride().configureOutput({ writeErr: () => undefined });
  for (const add of [addBeginCommand, addTranscriptCommands, addCheckCommands, addSiteCommands]) add(program, QUIET);
  try {
    await program.parseAsync(line.split(" "), { from: "user" });
  } catch (error) {
    if (error instanceof CommanderError) return suggestion(error, program);
    throw error;
  }
  throw new Error("nothing was refused");
}

test.each([
  ["a flag without its hyphen", "retime 2026-10-05 --inpoints", "--in-points"],
  ["a flag with letters exchanged", "build --dratfs", "--drafts"],
  ["the beginning of a flag", "begin --lang en", "--language"],
  ["a flag with its value", "check --formt=json", "--format"],
  ["a flag in place of one that is required", "new 2026-10-05 --trans raw.vtt", "--transcript"],
  ["a command", "perview", "preview"],
  ["a choice", "check --format jsn", "json"],
  ["the beginning of two flags", "new 2026-10-05 --transcript x --c 1", null],
  ["what nothing is near to", "build --quietly-please", null],
  ["a command that nothing is near to", "broadcast", null],
  ["what is left out", "new 2026-10-05", null],
])("%s", async (_why, line, word) => {
  expect(await suggested(line)).toBe(word === null ? null : `Did you mean \`${word}\`?`);
});
