import { existsSync } from "node:fs";
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { NothingMeasured } from "../../support/broadcasts.ts";
import { wavOf } from "../../support/sounds.ts";
import { airFaults, type Cut, layDown, orderText, sayingsOf, type Truth, truthText } from "./lay.ts";
import { lumpsOf, srtOf, textOf, vttOf } from "./lumps.ts";
import { noisyFrom } from "./noisy.ts";
import { type HeardWord, recognise } from "./recognise.ts";
import { parseScript, type Script } from "./script.ts";
import { needSynthesisers, RATE, run, synthesise } from "./synthesise.ts";
import { VOICES } from "./voices.ts";
import { wronged } from "./wronged.ts";

/** Where the scripts are, and all texts of the broadcasts. */
export const BROADCASTS = import.meta.dirname;

const say = (text: string) => process.stdout.write(`${text}\n`);

/** The names of the register, without the rest of their lines. */
export const namesIn = (csv: string): readonly string[] =>
  csv
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => line.split(",")[0] ?? "");

/** A broadcast's script. */
export async function scriptOf(id: string): Promise<Script> {
  const names = namesIn(await readFile(join(BROADCASTS, "names.csv"), "utf8"));
  return parseScript(await readFile(join(BROADCASTS, id, "script.txt"), "utf8"), names);
}

/**
 * Makes the broadcasts into a folder: the sound from the scripts, the texts as they are here.
 * @param out the folder. @param args ids of those to make, all without one; `renew` before them writes the texts here
 * anew, with what the recogniser hears. @throws where a synthesiser is missing, or its sound is not what the texts here
 * are of.
 */
export async function makeBroadcasts(out: string | undefined, args: readonly string[]): Promise<void> {
  if (out === undefined) throw new NothingMeasured("Nothing was made: name a folder for the broadcasts.");
  needSynthesisers();
  const isNew = args[0] === "renew";
  const wanted = isNew ? args.slice(1) : args;
  const all = (await readdir(BROADCASTS)).filter((id) => existsSync(join(BROADCASTS, id, "script.txt"))).sort();
  const ids = wanted.length > 0 ? wanted : all;
  const unknown = ids.find((id) => !all.includes(id));
  if (unknown !== undefined) throw new NothingMeasured(`Nothing was made: there is no broadcast ${unknown}.`);
  await claim(out, all);
  for (const id of ids) {
    const to = join(out, id);
    await mkdir(to, { recursive: true });
    const script = await scriptOf(id);
    const truth = await makeSound(id, script, to);
    if (isNew) await renew(id, script, truth, to);
    await copyTexts(id, truth, to);
    say(`${id}: ${script.programme}, ${(truth.duration / 60).toFixed(1)} minutes`);
  }
}

/** Names of people in the folder say that it was made here. @throws where it holds anything else. */
async function claim(out: string, ids: readonly string[]): Promise<void> {
  await mkdir(out, { recursive: true });
  const names = await readFile(join(BROADCASTS, "names.csv"));
  const held = await readdir(out);
  const own = await readFile(join(out, "names.csv")).catch(() => null);
  const others = held.filter((name) => name !== "names.csv" && !ids.includes(name));
  if (held.length > 0 && (own === null || !own.equals(names) || others.length > 0))
    throw new NothingMeasured(`Nothing was made: ${out} holds other files. Name an empty folder, or one made before.`);
  await writeFile(join(out, "names.csv"), names);
}

/** A broadcast's recordings: as it went out, and without what was cut. @returns what was said when. */
async function makeSound(id: string, script: Script, to: string): Promise<Truth> {
  const sounds = await eachOf(sayingsOf(script), ({ speaker, sayable }) => {
    const voice = VOICES[speaker];
    if (voice === undefined) throw new Error(`${speaker} has no voice.`);
    return synthesise(sayable, voice);
  });
  const { samples, truth } = layDown(id, script, sounds, RATE);
  await encode(samples, join(to, "aired.mp3"));
  await encode(without(samples, truth.cuts), join(to, "web.mp3"));
  return truth;
}

/** Does something with each, two at a time, in order of the list. */
async function eachOf<T, R>(list: readonly T[], work: (one: T) => Promise<R>): Promise<R[]> {
  const done: R[] = [];
  let next = 0;
  const worker = async () => {
    for (let n = next++; n < list.length; n = next++) {
      const one = list[n];
      if (one !== undefined) done[n] = await work(one);
    }
  };
  await Promise.all([worker(), worker()]);
  return done;
}

async function encode(samples: Float32Array, file: string): Promise<void> {
  const plain = ["-map_metadata", "-1", "-fflags", "+bitexact", "-flags:a", "+bitexact"];
  const lame = ["-c:a", "libmp3lame", "-b:a", "32k", "-y", file];
  await run("ffmpeg", ["-v", "error", "-f", "wav", "-i", "-", ...plain, ...lame], wavOf([samples], RATE));
}

function without(samples: Float32Array, cuts: readonly Cut[]): Float32Array {
  const isCut = (n: number) => cuts.some(({ from, to }) => n >= Math.round(from * RATE) && n < Math.round(to * RATE));
  return cuts.length === 0 ? samples : samples.filter((_, n) => !isCut(n));
}

/**
 * Writes a broadcast's texts anew, from its script and what was heard: that is listened for again only where the truth
 * has changed. @param to the folder of its recordings.
 */
export async function renew(id: string, script: Script, truth: Truth, to: string): Promise<void> {
  const own = (file: string, text: string) => writeFile(join(BROADCASTS, id, file), text);
  const json = (value: unknown) => `${JSON.stringify(value, null, 1)}\n`;
  const words = await wordsOf(id, script, truth, join(to, "aired.mp3"));
  const lumps = lumpsOf(words);
  const noisy = noisyFrom(truth, script.noises, lumps, script.seed);
  await own("truth.json", json(truth));
  await own("truth.txt", truthText(truth));
  await own("order.csv", orderText(truth));
  await own("on-air-faults.json", json(airFaults(truth, script)));
  await own("raw.words.json", wordsText(words));
  await own("raw.txt", textOf(lumps));
  await own("raw.vtt", vttOf(lumps));
  await own("raw.srt", srtOf(lumps));
  await own("raw-noisy.txt", textOf(noisy.lumps));
  await own("raw-noisy.vtt", vttOf(noisy.lumps));
  await own("faults.json", json(noisy.faults));
}

async function wordsOf(id: string, script: Script, truth: Truth, file: string): Promise<readonly HeardWord[]> {
  if (!script.language.startsWith("en")) return wronged(truth, script.seed);
  const [known, heard] = ["truth.json", "raw.words.json"].map((own) => join(BROADCASTS, id, own));
  if (known === undefined || heard === undefined || !existsSync(known) || !existsSync(heard)) return recognise(file);
  const isSame = JSON.stringify(JSON.parse(await readFile(known, "utf8"))) === JSON.stringify(truth);
  return recognise(file, isSame ? JSON.parse(await readFile(heard, "utf8")) : null);
}

const wordsText = (words: readonly HeardWord[]): string =>
  `[\n${words.map(({ start, end, word }) => `{"start": ${start}, "end": ${end}, "word": ${JSON.stringify(word)}}`).join(",\n")}\n]\n`;

/** The texts beside the sound; `truth.json` with the recordings. @throws where they are of another sound. */
async function copyTexts(id: string, truth: Truth, to: string): Promise<void> {
  const from = join(BROADCASTS, id);
  const known = JSON.parse(await readFile(join(from, "truth.json"), "utf8"));
  if (JSON.stringify(known) !== JSON.stringify(truth))
    throw new NothingMeasured(
      `${id}: these synthesisers give other sound than the texts here are of. The broadcast in ${to} is not whole.`,
    );
  for (const file of await readdir(from))
    if (file !== "script.txt" && file !== "truth.json")
      await writeFile(join(to, file), await readFile(join(from, file)));
  const gone = truth.cuts.reduce((sum, { from: start, to: end }) => sum + end - start, 0);
  const media = [
    { src: "aired.mp3", clock: "aired", duration: truth.duration },
    { src: "web.mp3", clock: "media", duration: Math.round((truth.duration - gone) * 1000) / 1000 },
  ].map(({ src, clock, duration }) => ({ src, clock, type: "audio/mpeg", duration }));
  await writeFile(join(to, "truth.json"), `${JSON.stringify({ ...truth, media }, null, 1)}\n`);
}
