import {
  type Correcting,
  enterCorrection,
  fillDraft,
  openToCorrect,
  type Preview,
  placedAt,
  previewCorrection,
} from "../actions/correct.ts";
import type { Draft } from "../model/correctionDraft.ts";
import { kindDoes } from "../model/correctionKinds.ts";
import { markedIn } from "../model/excerpt.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { UsageError } from "../model/usageError.ts";
import type { LaidEpisode } from "../record/laid.ts";
import type { FoundWords } from "../record/search.ts";
import { askDraft, askWhich } from "./correctionQuestions.ts";
import { tellDue } from "./publish.ts";
import { asUsage, type RecordIo, stands } from "./recordIo.ts";
import { showChange } from "./showChange.ts";

export interface CorrectOptions extends Draft {
  readonly content: string;
  readonly episode: string;
  readonly dryRun: boolean;
  /** Don't ask whether it is right. */
  readonly yes: boolean;
}

/**
 * `afterair correct`: appends a dated correction to a published episode and enters it in the record, after showing what
 * it will do. What the flags leave open is asked, where somebody can be asked.
 * @returns what was found; where anything of it blocks, nothing was written.
 */
export async function correct(options: CorrectOptions, io: RecordIo): Promise<readonly Finding[]> {
  const { content, episode, dryRun, yes, ...given } = options;
  const about: Correcting = { content, episode, begun: io.now };
  const { laid, findings } = await openToCorrect(about, io);
  if (laid === null) {
    stands(findings, content, io);
    return findings;
  }
  const draft = await completed(given, laid, io);
  if (draft === null) return told(io, "Nothing was written.");
  const preview = await previewCorrection(draft, about, io).catch(asUsage);
  await show(preview, draft, options, io);
  if (preview.findings.some(blocks) || dryRun) return preview.findings;
  const asked = !yes && io.ask !== null;
  if (asked && (await io.ask.confirm("Publish this correction?")) !== true) return told(io, "Nothing was written.");
  const { id, refused, ...entered } = await enterCorrection(draft, about, asked ? preview.digest : null, io);
  tellDue({ ...entered, refused }, { content, episode }, io);
  if (refused !== null) throw new UsageError(refused);
  if (id !== null) io.out(`Entered as ${id}.`);
  return entered.findings;
}

function told(io: RecordIo, text: string): readonly Finding[] {
  io.out(text);
  return [];
}

/** The draft with everything that its kind needs; null where whoever was asked went away. */
async function completed(given: Draft, laid: LaidEpisode, io: RecordIo): Promise<Draft | null> {
  const draft = io.ask === null ? given : await askDraft(given, laid, io.ask);
  if (draft === null) return null;
  const filled = fillDraft(draft, laid);
  switch (filled.state) {
    case "missing":
      throw new UsageError(`Missing: ${filled.names.map((name) => `--${name}`).join(", ")}.`);
    case "places": {
      if (io.ask === null) throw new UsageError(placesText(draft.said ?? "", filled.found));
      const chosen = await askWhich(filled.found, io.ask);
      return chosen === null ? null : placedAt(draft, chosen);
    }
    case "complete":
      return filled.draft;
  }
}

function placesText(said: string, found: readonly FoundWords[]): string {
  const places = found.map((own) => `  ${own.at.padStart(7)}  ${markedIn(own)}`);
  const says = `"${said}" stands in ${found.length} places: choose one with --at, or --every.`;
  return [says, ...places].join("\n");
}

/** Shows what the correction does, and what is wrong with it. */
async function show(
  preview: Preview,
  draft: Draft,
  { content, episode, dryRun }: CorrectOptions,
  io: RecordIo,
): Promise<void> {
  if (stands(preview.findings, content, io)) {
    io.err("Nothing was written.");
    return;
  }
  const { id, file, text, change, read } = preview;
  io.out(`${file}\n${text}`);
  if (change !== null) for (const line of showChange(change, episode)) io.out(line);
  if (kindDoes(draft.kind, "takes-away")) {
    const { elsewhereLines } = await import("./correctElsewhere.ts");
    for (const line of await elsewhereLines({ content, id, read }, io)) io.out(line);
  }
  if (dryRun) io.out("Nothing was written: this was a trial.");
}
