import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type Aligned, align, type WrittenWord } from "../../src/derive/align/align.ts";
import { layWords } from "../../src/derive/align/layWords.ts";
import { ALWAYS } from "../../src/derive/captioning/room.ts";
import { timeWords } from "../../src/derive/captioning/wordTimes.ts";
import type { RegisteredName } from "../../src/model/programme.ts";
import type { PlannedSegment, RawBlock, SpokenWord } from "../../src/model/spoken.ts";
import { parseEdited } from "../../src/read/incoming/edited.ts";
import { parseRunningOrder } from "../../src/read/incoming/runningOrder.ts";
import { parseRawTranscript } from "../../src/read/incoming/transcript.ts";
import { parseName } from "../../src/read/index.ts";
import { ownProgramme } from "./ownProgramme.ts";

/** What was really said, and when: seconds. */
export interface Truth {
  readonly duration: number;
  readonly cuts?: readonly { readonly from: number; readonly to: number; readonly why: string }[];
  readonly segments: readonly { readonly slug: string; readonly in: number }[];
  readonly sentences: readonly {
    readonly start: number;
    readonly end: number;
    readonly speaker: string;
    readonly text: string;
    readonly spoken: string;
  }[];
}

/** The fixture has its sentences in one list, a broadcast's folder in turns. */
export function sentencesOf(
  truth: Truth & { readonly turns?: readonly { readonly speaker: string; readonly sentences: Truth["sentences"] }[] },
): Truth["sentences"] {
  return (
    truth.turns?.flatMap(({ speaker, sentences }) => sentences.map((sentence) => ({ ...sentence, speaker }))) ??
    truth.sentences
  );
}

/** The people of the demo's register. */
export const PEOPLE = (() => {
  const folder = join(import.meta.dirname, "../../content/names");
  const sources = readdirSync(folder).map((file) => ({
    file,
    bytes: new Uint8Array(readFileSync(join(folder, file))),
  }));
  return sources.flatMap((source) => {
    const read = parseName(source);
    return read.ok && read.value.kind === "person" ? [read.value] : [];
  });
})();

/** A broadcast's folder: the excerpt in the fixtures, or one like it. */
export const EVENING = join(import.meta.dirname, "../fixtures/raw/evening");

const bytesOf = (folder: string, file: string) => ({ file, bytes: new Uint8Array(readFileSync(join(folder, file))) });

export const truthOf = (folder: string): Truth => JSON.parse(readFileSync(join(folder, "truth.json"), "utf8"));

export const rawBlocksIn = (folder: string, file: string): readonly RawBlock[] =>
  parseRawTranscript(bytesOf(folder, file)).rawBlocks;

export function rawWords(folder: string, file: string, end: number | null): readonly SpokenWord[] {
  return timeWords(rawBlocksIn(folder, file), { end });
}

/** The people of a broadcast's own register, and who present; the demo's where it has none, or is the demo's. */
export const castIn = (
  folder: string,
): { readonly people: readonly RegisteredName[]; readonly presenters: readonly string[] } => {
  const own = ownProgramme(folder);
  return { people: own?.people ?? PEOPLE, presenters: own?.presenters ?? ["Tamsin Hathersay"] };
};

export const editedText = (folder: string) =>
  parseEdited(
    bytesOf(folder, "truth.txt"),
    castIn(folder).people.map(({ name }) => name),
  );

export function orderOf(folder: string): readonly PlannedSegment[] {
  const read = parseRunningOrder(bytesOf(folder, "order.csv"), {
    frameRate: 25,
    slotAt: ownProgramme(folder)?.slotAt ?? "18:30",
  });
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return read.value;
}

/** Written words with the times of old ones, with all the time there is. */
export function retimed(
  old: readonly SpokenWord[],
  written: readonly WrittenWord[],
): Omit<Aligned, "spans" | "same"> & { readonly words: readonly SpokenWord[] } {
  const aligned = align(old, written);
  return { ...aligned, words: layWords(written, aligned.spans, { room: [ALWAYS] }) ?? [] };
}

/** The value that this share of the others is not above. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0;
}
