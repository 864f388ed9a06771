import { resolve } from "node:path";
import { type Command, Option } from "commander";
import { UsageError } from "../../model/usageError.ts";
import type { VttKind } from "../../webvtt/index.ts";
import { FORMATS, type Format } from "../report.ts";
import { type ContentFlags, contentOption, onOption, type Terminal } from "./shared.ts";

interface CheckFlags extends ContentFlags {
  readonly format: Format;
  readonly explain?: string | true;
  readonly figures?: string;
  readonly order?: string;
  readonly fix?: "names";
  readonly dryRun?: boolean;
  readonly all?: boolean;
  readonly json?: boolean;
}

/** `check` and `cues`. */
export function addCheckCommands(program: Command, io: Terminal): void {
  program
    .command("check")
    .description("tell all faults and warnings, with file, line and column")
    .argument("[episode...]", "only these, such as 2026-10-05")
    .addOption(contentOption())
    .addOption(onOption())
    .addOption(new Option("--format <format>", "text, json, or github").choices(FORMATS).default("text"))
    .option("--json", "the same as --format json")
    .option("--all", "each finding by itself, also where many of one kind are told as one; --json always does")
    .option(
      "--explain [rule]",
      "what an editorial rule looks for, and how to accept a finding; without a name, list them",
    )
    .option("--figures <episode>", "the figures sheet of an episode, to tick")
    .option("--order <episode>", "the running order as it went out: planned and actual, over and under, back-timed")
    .addOption(
      new Option("--fix <what>", "write names in unpublished transcripts as the register has them").choices(["names"]),
    )
    .option("--dry-run", "with --fix: only show what would change")
    .action(async (episodes: string[], flags: CheckFlags) => {
      const options = { ...flags, on: flags.on ?? null, now: io.now };
      if (flags.explain !== undefined) return explainRule(flags.explain);
      if (flags.figures !== undefined) {
        const { figuresSheet } = await import("../figures.ts");
        return io.out(await figuresSheet(flags.figures, options));
      }
      if (flags.order !== undefined) {
        const { orderTable } = await import("../orderTable.ts");
        return io.out(orderTable(flags.order, flags.content));
      }
      const { check, fix } = await import("../check.ts");
      const format = flags.json === true ? "json" : flags.format;
      const each = flags.all === true || format === "json";
      if (flags.fix === undefined) return io.exit(await check({ ...options, episodes, each }, format, io));
      if (episodes.length === 0)
        throw new UsageError("--fix names takes the episodes to be fixed, such as 2026-10-05.");
      await fix({ ...options, episodes }, flags.dryRun === true, io);
    });

  async function explainRule(rule: string | true): Promise<void> {
    const { explain: pageOf, listOfChecks } = await import("../../checks/explain.ts");
    const page = rule === true ? listOfChecks() : pageOf(rule);
    if (page === null) throw new UsageError(`There is no editorial rule ${rule}. --explain without a name lists them.`);
    io.out(page);
  }

  program
    .command("cues")
    .description("show WebVTT files as the standard's parser sees them, with their problems")
    .argument("<file...>", "WebVTT files")
    .option("--json", "one JSON object a line, one line a file")
    .addOption(
      new Option("--kind <kind>", "what the cues are for")
        .choices(["captions", "chapters", "metadata"])
        .default("captions"),
    )
    .action(async (files: string[], flags: { readonly json?: boolean; readonly kind: VttKind }) => {
      const { cues } = await import("../cues.ts");
      const { readFile } = await import("node:fs/promises");
      const read = (path: string) => readFile(resolve(path));
      io.exit(
        await cues(files, { json: flags.json === true, kind: flags.kind }, { err: io.err, write: io.write, read }),
      );
    });
}
