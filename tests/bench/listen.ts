import { createReadStream, existsSync } from "node:fs";
import { join } from "node:path";
import { layWords } from "../../src/derive/align/layWords.ts";
import { makeCues } from "../../src/derive/captioning/cues.ts";
import { ALWAYS } from "../../src/derive/captioning/room.ts";
import { alignerFor } from "../../src/listen/align.ts";
import { cepstra, RATE } from "../../src/listen/alignFeatures.ts";
import { asMono, decode } from "../../src/listen/decode.ts";
import { heardSpans, type Listening } from "../../src/listen/heardSpans.ts";
import type { SpokenWord } from "../../src/model/spoken.ts";
import { broadcastsIn, NothingMeasured } from "../support/broadcasts.ts";
import { castIn, editedText, quantile, rawWords, retimed, sentencesOf, truthOf } from "../support/evening.ts";
import { debianModel, HAS_MODEL } from "../support/listening.ts";
import { benchHuman } from "./listenHuman.ts";
import { benchHeld, benchKinds } from "./listenKinds.ts";
import { benchVoices, groupingText } from "./listenVoices.ts";

/** Not every broadcast has had faults put in. */
const formatsIn = (broadcast: string): readonly string[] =>
  ["raw.txt", "raw-noisy.txt"].filter((file) => existsSync(join(broadcast, file)));

/**
 * Measures what listening gives: the same figures with the sound and without. The voices of the broadcasts are
 * synthetic. @param folder broadcasts as `<id>/aired.mp3`, `truth.json` and so on. @param human "human": people's
 * recordings too, which Debian's packages have.
 * @throws where there is nothing to measure.
 */
export async function benchListen(folder?: string, human?: string): Promise<void> {
  if (!HAS_MODEL)
    throw new NothingMeasured("Nothing was measured: install pocketsphinx-en-us, whose model is listened with.");
  if (folder === undefined) throw new NothingMeasured("Nothing was measured: name a folder of broadcasts.");
  const ids = broadcastsIn(folder, "aired.mp3");
  if (ids.every((id) => sentencesOf(truthOf(join(folder, id))).length === 0))
    throw new NothingMeasured("Nothing was measured: nobody says anything in these broadcasts.");
  const model = debianModel();
  await benchKinds(folder, ids);
  await benchHeld(folder, ids, model);
  for (const id of ids) {
    const frames = await framesOf(join(folder, id, "aired.mp3"), id);
    const sentences = sentencesOf(truthOf(join(folder, id)));
    say(`${id}, voices: ${groupingText(frames, sentences)}`);
    for (const format of formatsIn(join(folder, id)))
      await measure(join(folder, id), id, format, {
        align: alignerFor(frames, model),
        division: { stretches: [], pauses: [] },
      });
  }
  await benchVoices(folder, ids, formatsIn);
  say(`The most memory at one time: ${Math.round(process.resourceUsage().maxRSS / 1024)} MB`);
  if (human === "human") await benchHuman(model);
}

const say = (text: string) => process.stdout.write(`${text}\n`);
const within = (values: readonly number[]): string =>
  `${Math.round(quantile(values, 0.5))} ms, ${Math.round(quantile(values, 0.95))} ms, ${Math.round(Math.max(...values))} ms`;

/** Processor time of some work: other work on the machine takes the clock's. */
async function worked<T>(work: () => Promise<T> | T): Promise<{ readonly value: T; readonly seconds: number }> {
  const from = process.cpuUsage();
  const value = await work();
  const { user, system } = process.cpuUsage(from);
  return { value, seconds: (user + system) / 1e6 };
}

async function framesOf(file: string, id: string): Promise<Float32Array> {
  const { value, seconds } = await worked(async () => {
    const own = cepstra();
    for await (const samples of asMono(decode(createReadStream(file)), RATE)) own.take(samples);
    return own.frames();
  });
  say(`${id}: decoded and made into features at ${Math.round(value.length / 1300 / seconds)} times real time`);
  return value;
}

async function measure(folder: string, id: string, format: string, sound: Listening): Promise<void> {
  const truth = truthOf(folder);
  const end = truth.duration * 1000;
  const timed = { clock: "media" as const, cuts: [] };
  const written = editedText(folder).words;
  const without = retimed(rawWords(folder, format, end), written);
  const texts = written.map(({ text }) => text);
  const { value: heard, seconds } = await worked(() => heardSpans(texts, without.words, timed, end, sound));
  if (heard === null) throw new Error(`${id}, ${format}: the words were not found in the recording.`);
  const withSound = layWords(written, heard.spans, { room: [ALWAYS] }) ?? [];
  say(`${id}, ${format}: median, 95 % and all within`);
  say(
    `  sentence starts: without ${within(startsOff(without.words, folder))}; with ${within(startsOff(withSound, folder))}`,
  );
  say(
    `  captions that begin 0.1 s before their voice: without ${early(without.words, folder)}; with ${early(withSound, folder)}`,
  );
  say(
    `  ${heard.sayable - heard.heard} of ${heard.sayable} words not found; ${Math.round(truth.duration / seconds)} times real time on one core`,
  );
}

/** How far the first words of sentences are from where they were laid down. */
function startsOff(words: readonly SpokenWord[], folder: string): readonly number[] {
  let n = 0;
  return sentencesOf(truthOf(folder)).map(({ start, text }) => {
    const off = Math.abs((words[n]?.start ?? Number.POSITIVE_INFINITY) - start * 1000);
    n += text.split(" ").length;
    return off;
  });
}

/** Of the captions that begin with a sentence, those that begin before its voice. */
function early(words: readonly SpokenWord[], folder: string): string {
  const starts = new Map<number, number>();
  let n = 0;
  for (const { start, text } of sentencesOf(truthOf(folder))) {
    starts.set(n, start * 1000);
    n += text.split(" ").length;
  }
  let [first, all, before] = [0, 0, 0];
  for (const { start, pieces } of makeCues(words, { names: castIn(folder).people.map(({ name }) => name) })) {
    const voice = starts.get(first);
    first += pieces.reduce((sum, piece) => sum + piece.words.split(/\s+/).filter((word) => word !== "").length, 0);
    if (voice === undefined) continue;
    all++;
    if (start < voice - 100) before++;
  }
  return `${before} of ${all}`;
}
