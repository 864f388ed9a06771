import type { Command } from "commander";
import type { StationAnswers } from "../../actions/begin.ts";
import type { Terminal } from "./shared.ts";

/** `begin`. */
export function addBeginCommand(program: Command, io: Terminal): void {
  program
    .command("begin")
    .description("make a content folder for a new station, with an example, that builds at once")
    .argument("[folder]", "a folder that is new or empty", "content")
    .option("--title <name>", "what the programme is called (required where nobody can be asked)")
    .option("--timezone <zone>", "its time zone, such as Europe/London; left out: this machine's")
    .option("--language <tag>", "the language it is spoken in, such as en-GB; left out: this machine's")
    .option("--url <address>", "where the site will stand (required where nobody can be asked)")
    .action(async (folder: string, flags: Partial<StationAnswers>) => {
      const [{ begin }, { terminalAsk }] = await Promise.all([import("../begin.ts"), import("../ask.ts")]);
      const { timeZone: timezone, locale: language } = Intl.DateTimeFormat().resolvedOptions();
      const ask = io.asks ? terminalAsk : null;
      await begin({ ...flags, folder }, { out: io.out, ask, system: { timezone, language } });
    });
}
