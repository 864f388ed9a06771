import { type Command, Option } from "commander";
import { RECORDINGS, type Recording } from "../../model/cutList.ts";
import { contentOption, onOption, type Terminal } from "./shared.ts";

interface CutsFlags {
  readonly content: string;
  readonly on?: string;
  readonly source?: string;
  readonly from?: Recording;
  readonly silence?: boolean;
  readonly make?: true | string;
  readonly write?: boolean;
  readonly check?: boolean;
  readonly format: "text" | "json";
}

/** `cuts`. */
export function addSoundCommands(program: Command, io: Terminal): void {
  program
    .command("cuts")
    .description(
      "the cut list of an episode's public recording, without what may not be given, and the command that makes it",
    )
    .argument("<episode>", "such as 2026-10-05")
    .addOption(contentOption())
    .addOption(onOption())
    .option("--source <file>", "the recording to make it from, on this machine; left out: the files beside episode.md")
    .addOption(
      new Option("--from <recording>", "what the source is: aired, the broadcast; web, the present web file").choices(
        RECORDINGS,
      ),
    )
    .option("--silence", "silence instead of cuts; an episode that is published is never cut shorter")
    .option("--make [file]", "make it with ffmpeg, and measure it; without a name, beside the old one")
    .option("--write", "with --make: put what changes into episode.md")
    .option("--check", "measure the files that are there against what episode.md says of them")
    .addOption(new Option("--format <format>", "text or json").choices(["text", "json"]).default("text"))
    .action(async (episode: string, flags: CutsFlags) => {
      const { cuts } = await import("../cuts.ts");
      const { content, on = null, source = null, from = null, make = false, format } = flags;
      const [silence, write, check] = [flags.silence === true, flags.write === true, flags.check === true];
      io.exit(await cuts({ content, episode, on, source, from, silence, make, write, check, format }, io));
    });
}
