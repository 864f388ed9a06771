import { type Command, Option } from "commander";
import { CORRECTION_KINDS, type CorrectionKind } from "../../model/correctionKinds.ts";
import { blocks, type Finding } from "../../model/finding.ts";
import type { RecordIo } from "../recordIo.ts";
import { FORMATS, type Format } from "../report.ts";
import { contentOption, type Terminal } from "./shared.ts";

interface PublishFlags {
  readonly content: string;
  readonly reissue?: boolean;
  readonly reason?: string;
  readonly earlier?: string;
  readonly repair?: boolean;
  readonly clock?: boolean;
  readonly merge?: true | string;
  readonly rename?: string;
  readonly dryRun?: boolean;
  readonly proposalsAreRight?: boolean;
}
interface CorrectFlags {
  readonly content: string;
  readonly kind?: CorrectionKind;
  readonly segment?: string;
  readonly at?: string;
  readonly field?: string;
  readonly said?: string;
  readonly now?: string;
  readonly every?: boolean;
  readonly signed?: string;
  readonly supersedes?: string;
  readonly note?: string;
  readonly dryRun?: boolean;
  readonly yes?: boolean;
}
interface AuditFlags {
  readonly content: string;
  readonly against?: string;
  readonly format: Format;
}

/** `publish`, `correct` and `audit`. */
export function addRecordCommands(program: Command, io: Terminal): void {
  const end = (findings: readonly Finding[]): void => io.exit(findings.some(blocks) ? 1 : 0);

  program
    .command("publish")
    .description("enter an episode, or what is pending, in its record: from then on it is frozen")
    .argument("<episode>", "such as 2026-10-05")
    .addOption(contentOption())
    .option("--reissue", "replace the published text by the one that lies there now; the earlier one stays reachable")
    .option("--reason <text>", "with --reissue: why, in words that the public reads")
    .option("--earlier <folder>", "with --reissue: where the text as it was published can be found")
    .option(
      "--proposals-are-right",
      "don't ask: all speakers, in points and cuts that are marked as proposed are right",
    )
    .option("--repair", "mend a last line of the record that a cut write left behind")
    .option("--clock", "say in the record that entries were made by a clock that ran ahead: they count from now")
    .option("--rename <correction>", "give an entered correction another id, where one of another episode has its")
    .option(
      "--merge [record]",
      "make one of this record and another copy's: of the two that version control has, or of a file",
    )
    .option("--dry-run", "show what would be entered, and write nothing")
    .action(async (episode: string, flags: PublishFlags) => {
      const { publish } = await import("../publish.ts");
      const reissue = flags.reissue ? { reason: flags.reason ?? "", earlier: flags.earlier ?? null } : null;
      const [repair, dryRun] = [flags.repair === true, flags.dryRun === true];
      const proposalsAreRight = flags.proposalsAreRight === true;
      const options = { content: flags.content, episode, reissue, repair, dryRun, proposalsAreRight };
      const merge = flags.merge === undefined ? {} : { merge: { record: flags.merge === true ? null : flags.merge } };
      end(
        await publish(
          { ...options, ...merge, rename: flags.rename ?? null, setsClock: flags.clock === true },
          await recordIo(io),
        ),
      );
    });

  program
    .command("correct")
    .description("append a dated correction to a published episode, after showing what it will do")
    .argument("<episode>", "such as 2026-10-05")
    .addOption(contentOption())
    .addOption(
      new Option("--kind <kind>", "what went wrong; asked for, and required in a script").choices(CORRECTION_KINDS),
    )
    .option("--segment <slug>", "the segment concerned")
    .option("--at <time>", "where, in the episode's clock: 3:41")
    .option("--field <field>", "page: title, summary, by, in, out; transcript: speaker")
    .option("--said <words>", "the exact published words concerned")
    .option("--now <words>", "what they become")
    .option("--every", "every occurrence in the episode")
    .option("--signed <who>", "who signs it; asked for, and required in a script")
    .option("--supersedes <id>", "the correction that this one takes the place of")
    .option("--note <text>", "what the public reads, in Markdown; asked for, and required in a script")
    .option("--dry-run", "show what it would do, and write nothing")
    .option("--yes", "don't ask whether it is right")
    .action(async (episode: string, flags: CorrectFlags) => {
      const { correct } = await import("../correct.ts");
      const { kind = null, segment = null, at = null, field = null, said = null, now = null } = flags;
      const { signed = null, supersedes = null, note = null } = flags;
      const draft = { kind, segment, at, field, said, now, every: flags.every === true, signed, supersedes, note };
      const options = { content: flags.content, episode, dryRun: flags.dryRun === true, yes: flags.yes === true };
      end(await correct({ ...draft, ...options }, await recordIo(io)));
    });

  program
    .command("audit")
    .description("prove that nothing published changed in silence, or name what did")
    .argument("[episode...]", "only these")
    .addOption(contentOption())
    .option(
      "--against <copy>",
      "an earlier site folder, content folder or checksum list: its records must be the beginning of today's",
    )
    .addOption(new Option("--format <format>", "text, json, or github").choices(FORMATS).default("text"))
    .action(async (episodes: string[], { content, against, format }: AuditFlags) => {
      const { audit } = await import("../audit.ts");
      end(await audit({ content, episodes, against: against ?? null, site: "site", format }, io));
    });
}

async function recordIo(io: Terminal): Promise<RecordIo> {
  const [{ terminalAsk }, { nodeFiles }] = await Promise.all([import("../ask.ts"), import("../../write/record.ts")]);
  return { ...io, clock: () => new Date(), ask: io.asks ? terminalAsk : null, files: nodeFiles };
}
