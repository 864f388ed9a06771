import { existsSync } from "node:fs";
import { join } from "node:path";
import { saidWords } from "../../src/derive/align/said.ts";
import { wordErrors } from "../../src/derive/align/wordErrors.ts";
import { makeCues } from "../../src/derive/captioning/cues.ts";
import { fitToCuts } from "../../src/derive/propose/cutEdges.ts";
import { findSegments } from "../../src/derive/propose/segments.ts";
import { castOf, proposeVoices } from "../../src/derive/propose/speakers.ts";
import { CAPTION_FIGURES } from "../../src/model/captions.ts";
import type { SpokenWord } from "../../src/model/spoken.ts";
import { clockMs } from "../../src/model/units.ts";
import { broadcastsIn, NothingMeasured } from "../support/broadcasts.ts";
import {
  castIn,
  EVENING,
  editedText,
  orderOf,
  quantile,
  rawWords,
  retimed,
  sentencesOf,
  type Truth,
  truthOf,
} from "../support/evening.ts";

const FORMATS = ["raw.words.json", "raw.vtt", "raw.txt", "raw-noisy.txt", "raw-noisy.vtt"];

/**
 * Measures the way from raw transcripts to captions, and prints what it finds.
 * @param folder broadcasts as `<id>/raw.vtt`, `truth.json` and so on; without one, the excerpt in the fixtures.
 */
export function benchCaptions(folder?: string): void {
  const broadcasts = folder === undefined ? [EVENING] : broadcastsIn(folder).map((id) => join(folder, id));
  if (broadcasts.every((path) => sentencesOf(truthOf(path)).length === 0))
    throw new NothingMeasured("Nothing was measured: nobody says anything in these broadcasts.");
  printErrors(broadcasts);
  const formats = FORMATS.filter((file) => broadcasts.every((path) => existsSync(join(path, file))));
  for (const file of formats) printFormat(file, broadcasts);
  printSpeeds(broadcasts);
}

const say = (text: string) => process.stdout.write(`${text}\n`);
const ms = (values: readonly number[]) =>
  `median ${Math.round(quantile(values, 0.5))} ms, 95 % within ${Math.round(quantile(values, 0.95))} ms, all within ${Math.round(Math.max(...values))} ms`;
const percent = (part: number, whole: number) => `${((part / whole) * 100).toFixed(1)} %`;

const spokenIn = (truth: Truth) => sentencesOf(truth).flatMap(({ spoken }) => spoken.split(" "));

function printErrors(broadcasts: readonly string[]): void {
  say("Word error rate: of the words as spoken, and of the edited text as retime shows it");
  for (const folder of broadcasts) {
    const heard = rawWords(folder, "raw.words.json", null).map(({ text }) => text);
    const said = (words: readonly string[]) => saidWords(words).map((word) => word.said);
    const spoken = wordErrors(spokenIn(truthOf(folder)), heard);
    const edited = wordErrors(said(editedText(folder).words.map(({ text }) => text)), said(heard));
    say(
      `  ${folder.slice(-10)}  ${percent(spoken.rate ?? 0, 1)} of ${spoken.words}; ${percent(edited.rate ?? 0, 1)} of ${edited.words}`,
    );
  }
}

/** Whose word it was, and whose it is proposed to be; null: nobody's. */
interface Voiced {
  readonly who: (typeof HEARD)[number];
  readonly named: boolean;
  readonly right: boolean;
}
const HEARD = ["presenters", "in the running order", "others"] as const;

interface Measured {
  readonly inBlocks: number[];
  readonly sentences: number[];
  readonly found: number[];
  readonly foundAgain: number[];
  readonly voices: Voiced[];
  readonly cues: ReturnType<typeof makeCues>;
}

function printFormat(file: string, broadcasts: readonly string[]): void {
  const all: Measured = { inBlocks: [], sentences: [], found: [], foundAgain: [], voices: [], cues: [] };
  for (const folder of broadcasts) measure(folder, file, all);
  say(`${file}, ${broadcasts.length} broadcasts`);
  if (all.inBlocks.length > 0) say(`  word times inside blocks: ${ms(all.inBlocks)}`);
  say(`  sentence starts after retime: ${ms(all.sentences)}`);
  say(`  in points found: ${ms(all.found)}`);
  say(`  in points found again in the edited words, the cuts known: ${ms(all.foundAgain)}`);
  sayVoices(all.voices);
  const lengths = all.cues.map(({ start, end }) => end - start);
  const rates = all.cues.map(
    ({ start, end, pieces }) => ((pieces[0]?.words.split(/\s+/).length ?? 0) * 60_000) / (end - start),
  );
  const lines = all.cues.flatMap(({ pieces }) => pieces[0]?.words.split("\n") ?? []);
  const { line, shortest, longest, rate, fastest } = CAPTION_FIGURES;
  say(
    `  ${all.cues.length} cues: ${lines.filter((one) => one.length > line).length} lines too long, ` +
      `${lengths.filter((one) => one < shortest).length} cues too short, ${lengths.filter((one) => one > longest).length} too long, ` +
      `${rates.filter((one) => one > rate).length} over ${rate} words a minute, ${rates.filter((one) => Math.round(one) > fastest).length} over ${fastest}, ` +
      `${all.cues.filter(({ pieces }) => /[.!?]["”’]?\s/.test(pieces[0]?.words ?? "")).length} with the end of a sentence inside`,
  );
}

/** How many words have the right name, and how many of the names are right. */
function sayVoices(voices: readonly Voiced[]): void {
  const right = (of: readonly Voiced[]) => of.filter((one) => one.right).length;
  const named = voices.filter((one) => one.named);
  const kinds = HEARD.map((kind) => {
    const own = voices.filter(({ who }) => who === kind);
    return own.length === 0 ? `${kind} none` : `${kind} ${percent(right(own), own.length)} of ${own.length}`;
  });
  say(
    `  speakers proposed: ${percent(right(voices), voices.length)} of words have the right name (${kinds.join(", ")}), ` +
      `${percent(right(named), named.length)} of names are right`,
  );
}

function measure(folder: string, file: string, into: Measured): void {
  const truth = truthOf(folder);
  const end = truth.duration * 1000;
  const words = rawWords(folder, file, end);
  const exact = rawWords(folder, "raw.words.json", end);
  if (words.length === exact.length && file !== "raw.words.json") {
    into.inBlocks.push(...words.map(({ start }, n) => Math.abs(start - (exact[n]?.start ?? 0))));
  }
  const said = retimed(words, editedText(folder).words).words;
  let n = 0;
  for (const { start, text } of sentencesOf(truth)) {
    into.sentences.push(Math.abs((said[n]?.start ?? 0) - start * 1000));
    n += text.split(" ").length;
  }
  into.cues.push(...makeCues(said, { names: castIn(folder).people.map(({ name }) => name) }));
  into.found.push(...errorsOf(foundIn(folder, words, end), truth));
  const cuts = (truth.cuts ?? []).map(({ from, to }) => ({
    from: clockMs(from * 1000),
    to: clockMs(to * 1000),
    why: "",
  }));
  into.foundAgain.push(
    ...errorsOf(
      fitToCuts(
        foundIn(folder, said, end),
        orderOf(folder).map(({ kind }) => kind),
        cuts,
      ),
      truth,
    ),
  );
  into.voices.push(...voicesRight(folder, words, truth, end));
}

function foundIn(folder: string, words: readonly SpokenWord[], end: number) {
  const { echoes } = castOf(words, castIn(folder).people);
  return findSegments({ words, order: orderOf(folder), echoes, end });
}

const errorsOf = (found: ReturnType<typeof findSegments>, truth: Truth) =>
  found.slice(1).map((segment, k) => Math.abs(segment.in - (truth.segments[k + 1]?.in ?? 0) * 1000));

/** Whether each word has the voice that spoke at its time; words that nobody spoke don't count. */
function voicesRight(folder: string, words: readonly SpokenWord[], truth: Truth, end: number): Voiced[] {
  const order = orderOf(folder);
  const stretches = foundIn(folder, words, end).map((segment, k) => ({
    ...segment,
    kind: order[k]?.kind ?? "reader",
    by: order[k]?.by ?? [],
  }));
  const sentences = sentencesOf(truth);
  const exact = rawWords(folder, "raw.words.json", end);
  const judged = exact.length === words.length ? exact : words;
  const { people, presenters } = castIn(folder);
  const ordered = new Set(order.flatMap(({ by }) => by));
  const kindOf = (who: string): Voiced["who"] =>
    presenters.includes(who) ? "presenters" : ordered.has(who) ? "in the running order" : "others";
  return proposeVoices(words, stretches, presenters, castOf(words, people)).flatMap(({ from, to, voice }) =>
    judged.slice(from, to).flatMap(({ start, end: stop }) => {
      const middle = (start + stop) / 2000;
      const said = sentences.find((sentence) => sentence.start <= middle && middle <= sentence.end);
      if (said === undefined) return [];
      return [{ who: kindOf(said.speaker), named: voice !== null, right: said.speaker === voice }];
    }),
  );
}

/** The parts of the way for an hour, and for two: what takes twice as long twice over is not linear. */
function printSpeeds(broadcasts: readonly string[]): void {
  const longer = (words: readonly SpokenWord[], by: number, span: number) =>
    Array.from({ length: by }, (_, n) =>
      words.map((word) => ({ ...word, start: word.start + n * span, end: word.end + n * span })),
    ).flat();
  const [folder = EVENING] = broadcasts;
  const span = truthOf(folder).duration * 1000;
  const [heard, written] = [rawWords(folder, "raw.vtt", span), editedText(folder).words];
  const hours = (count: number) => Math.round((count * 3_600_000) / span);
  const timed = (work: () => unknown) => {
    const from = performance.now();
    work();
    return performance.now() - from;
  };
  const took = [1, 2].map((count) => {
    const old = longer(heard, hours(count), span);
    const now = Array.from({ length: hours(count) }, () => written).flat();
    return { align: timed(() => retimed(old, now)), cut: timed(() => makeCues(old)), words: old.length };
  });
  const [hour, two] = took;
  if (hour === undefined || two === undefined) return;
  say(`An hour of ${hour.words} words: retime ${Math.round(hour.align)} ms, captions ${Math.round(hour.cut)} ms`);
  say(`Two hours take ${(two.align / hour.align).toFixed(1)} and ${(two.cut / hour.cut).toFixed(1)} times as long`);
}
