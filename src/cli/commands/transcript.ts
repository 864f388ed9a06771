import { type Command, Option } from "commander";
import type { RetimeOptions } from "../../actions/retime.ts";
import { MODEL_FOLDER } from "../../listen/alignModel.ts";
import { blocks, type Finding } from "../../model/finding.ts";
import type { Clock } from "../../model/units.ts";
import { UsageError } from "../../model/usageError.ts";
import { formatted, sorted } from "../report.ts";
import { contentOption, type Terminal } from "./shared.ts";

interface NewFlags {
  readonly content: string;
  readonly transcript: string;
  readonly media?: readonly string[];
  readonly runningOrder?: string;
  readonly duration?: string;
  readonly cut?: readonly string[];
  readonly clock: Clock;
  readonly title?: string;
  readonly at?: string;
  readonly encoding?: string;
  readonly keepCues?: boolean;
  readonly listen: boolean;
  readonly acousticModel: string;
}
interface RetimeFlags {
  readonly content: string;
  readonly text?: string;
  readonly times?: string;
  readonly segment?: string;
  readonly undo?: boolean;
  readonly yes?: boolean;
  readonly inPoints?: boolean;
  readonly dryRun?: boolean;
  readonly encoding?: string;
  readonly listen: boolean;
  readonly acousticModel: string;
}

/** How to listen, with what share of it is done told on a line; null where nobody is to. */
const listening = (
  { listen, acousticModel }: Pick<NewFlags, "listen" | "acousticModel">,
  { status, ffmpeg }: Terminal,
) =>
  listen
    ? {
        model: acousticModel,
        ffmpeg,
        progress: (share: number) => status?.(share < 1 ? `Listening: ${Math.floor(share * 100)} %` : ""),
      }
    : null;

const encodingOption = (): Option =>
  new Option("--encoding <name>", "what the text was saved as, such as windows-1252, where it is found out wrongly");
const noListenOption = (): Option =>
  new Option("--no-listen", "work the times of words out from the text alone, without the recording");
const modelOption = (): Option =>
  new Option("--acoustic-model <folder>", "the acoustic model to listen with").default(MODEL_FOLDER);

/** `new` and `retime`. */
export function addTranscriptCommands(program: Command, io: Terminal): void {
  program
    .command("new")
    .description("begin an episode: its folder, from a raw transcript, the running order and the recording")
    .argument("<date>", "2026-10-05, or 2026-10-05-late for a second edition")
    .requiredOption(
      "--transcript <file>",
      "captions (WebVTT, SubRip, SBV, ASS, TTML, SCC), words in JSON, a table (CSV, TSV), text with times, or plain text",
    )
    .option(
      "--media <file or address...>",
      "the recording, best first; a file is copied beside; left out: there is none",
    )
    .option("--running-order <file>", "CSV with at least a title column")
    .option("--duration <time>", "how long the recording runs, such as 27:52, where it can't be read")
    .option("--cut <from-to=why...>", "aired time that the recording lacks, such as 13:20-15:05=break")
    .addOption(
      new Option("--clock <clock>", "what the transcript's times count").choices(["aired", "media"]).default("aired"),
    )
    .option("--keep-cues", "leave captions that people made as they are: their times, words and lines")
    .option("--title <text>", "the episode's title")
    .option("--at <time>", "when it went to air, such as 18:30; left out: as the slot in programme.md says")
    .addOption(encodingOption())
    .addOption(noListenOption())
    .addOption(modelOption())
    .addOption(contentOption())
    .action(async (id: string, flags: NewFlags) => {
      const [{ newEpisode }, { madeText }, { recognisedText }] = await Promise.all([
        import("../../actions/new.ts"),
        import("../newText.ts"),
        import("../../actions/recognisedText.ts"),
      ]);
      const { findings, made } = await newEpisode({
        ...flags,
        id,
        media: flags.media ?? [],
        cut: flags.cut ?? [],
        now: io.now,
        listen: listening(flags, io),
        recognised: (what) => io.out(recognisedText(what, flags.transcript)),
        progress: (doing) => io.status?.(doing),
      });
      if (findings.length > 0) io.err(formatted(sorted(findings), "text", ""));
      if (made === null) io.exit(1);
      else io.out(madeText(made));
    });

  program
    .command("retime")
    .description("put an editor's corrected words into the transcript, with the times that are there")
    .argument("<episode>", "such as 2026-10-05")
    .option("--text <file>", "(required, or --undo) the words, with NAME: before each turn")
    .option("--times <file>", "take the times from this raw transcript")
    .option("--segment <slug>", "the words are those of this segment alone; all other cues stay as they are")
    .option("--in-points", "move proposed in points of episode.md to where the new words speak for")
    .option("--yes", "don't ask where more than a fifth of the words that are there would go")
    .option("--undo", "put back what the last retiming replaced; undone twice, it is as it was")
    .option("--dry-run", "tell what would change, and write nothing")
    .addOption(encodingOption())
    .addOption(noListenOption())
    .addOption(modelOption())
    .addOption(contentOption())
    .action(async (id: string, { text, undo = false, ...flags }: RetimeFlags) => {
      const { retime, retimedText, undo: putBack } = await import("../retime.ts");
      const end = (findings: readonly Finding[]) => {
        if (findings.length > 0) io.err(formatted(sorted(findings), "text", ""));
        io.exit(findings.some(blocks) ? 1 : 0);
      };
      if (undo !== (text === undefined)) throw new UsageError("Give the words with --text, or --undo: one of the two.");
      if (text === undefined) {
        const { findings, back } = await putBack({ ...flags, id });
        if (back.length > 0) io.out(`Put back: ${back.join(", ")}.`);
        return end(findings);
      }
      const [dryRun, inPoints] = [flags.dryRun === true, flags.inPoints === true];
      const ask = io.asks ? (await import("../ask.ts")).terminalAsk : null;
      const { recognisedText } = await import("../../actions/recognisedText.ts");
      const recognised: RetimeOptions["recognised"] = (what) => io.out(recognisedText(what, flags.times ?? ""));
      const { findings, made } = await retime(
        { ...flags, text, id, dryRun, inPoints, listen: listening(flags, io), recognised },
        ask,
      );
      if (made !== null) io.out(retimedText(made, dryRun));
      end(findings);
    });
}
