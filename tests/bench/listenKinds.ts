import { createReadStream, existsSync } from "node:fs";
import { join } from "node:path";
import { alignerFor } from "../../src/listen/align.ts";
import { cepstra } from "../../src/listen/alignFeatures.ts";
import type { AcousticModel } from "../../src/listen/alignModel.ts";
import { asMono, decode } from "../../src/listen/decode.ts";
import { heardBlocks } from "../../src/listen/heardSpans.ts";
import { breaksAgainst, type HeardFault } from "../../src/listen/heldAgainst.ts";
import { KIND_RATE, kindFrames } from "../../src/listen/kindFrames.ts";
import { type Division, divide, type SoundKind } from "../../src/listen/kinds.ts";
import type { RawBlock } from "../../src/model/spoken.ts";
import { clockMs } from "../../src/model/units.ts";
import { rawBlocksIn, sentencesOf, type Truth, truthOf } from "../support/evening.ts";
import type { Mixed } from "./kindsMixed.ts";

/** Kinds by time: seconds. */
type KindTruth = Mixed["truth"];

const KINDS = ["speech", "music", "tone", "silence"] as const;
/** So near to an edge of the truth nothing is counted, as in NIST's Rich Transcription evaluations. Seconds. */
const COLLAR = 0.25;
/** A pause between sentences that is longer is no part of speech. Seconds. */
const A_SILENCE = 1;

interface Counts {
  readonly both: number;
  readonly truth: number;
  readonly said: number;
}

/** Hundredths of a second of each kind, off the edges. */
function counted(truth: KindTruth, { stretches }: Division, seconds: number): ReadonlyMap<SoundKind, Counts> {
  const count = Math.floor(seconds * 100);
  const [real, said] = [0, 1].map(() => new Array<SoundKind>(count).fill("silence")) as [SoundKind[], SoundKind[]];
  for (const { kind, from, to } of truth)
    real.fill(kind, Math.round(from * 100), Math.min(count, Math.round(to * 100)));
  for (const { kind, start, end } of stretches)
    said.fill(kind, Math.round(start / 10), Math.min(count, Math.round(end / 10)));
  const near = new Uint8Array(count);
  for (let n = 1; n < count; n++)
    if (real[n] !== real[n - 1]) near.fill(1, Math.max(0, n - COLLAR * 100), n + COLLAR * 100);
  return new Map(
    KINDS.map((kind) => {
      let [both, inTruth, inSaid] = [0, 0, 0];
      for (let n = 0; n < count; n++) {
        if (near[n] === 1) continue;
        if (real[n] === kind) inTruth++;
        if (said[n] === kind) inSaid++;
        if (real[n] === kind && said[n] === kind) both++;
      }
      return [kind, { both, truth: inTruth, said: inSaid }];
    }),
  );
}

export const kindsText = (truth: KindTruth, division: Division, seconds: number): string =>
  [...counted(truth, division, seconds)]
    .filter(([, { truth: own, said }]) => own + said > 0)
    .map(([kind, { both, truth: own, said }]) => {
      const rate = (of: number) => (of === 0 ? "-" : (both / of).toFixed(3));
      return `${kind} ${rate(said)} and ${rate(own)} (${(own / 100).toFixed(0)} s)`;
    })
    .join("; ");

/** The frames of some sound, and its division. */
export function framesFrom(samples: Float32Array): Float32Array {
  const own = kindFrames();
  for (let at = 0; at < samples.length; at += 4096) own.take(samples.subarray(at, at + 4096));
  return own.frames();
}

type Sounded = Truth & {
  readonly sounds: readonly { readonly start: number; readonly end: number }[];
};

function kindTruth(truth: Sounded): KindTruth {
  const sentences = sentencesOf(truth).toSorted((a, b) => a.start - b.start);
  return [
    ...truth.sounds.map(({ start, end }) => ({ kind: "music" as const, from: start, to: end })),
    ...sentences.map(({ start, end }, n) => {
      const next = sentences[n + 1]?.start ?? Number.POSITIVE_INFINITY;
      return { kind: "speech" as const, from: start, to: next - end < A_SILENCE ? next : end };
    }),
  ];
}

/** Two seconds of digital silence after every twelfth sentence, and when everything is then. */
function withSilences(samples: Float32Array, truth: Sounded): Mixed & { readonly seconds: number } {
  const points = sentencesOf(truth)
    .map(({ end }) => end + 0.1)
    .filter((_, n) => n % 12 === 11);
  const moved = (at: number) => at + 2 * points.filter((point) => point <= at).length;
  const whole = new Float32Array(samples.length + points.length * 2 * KIND_RATE);
  let from = 0;
  [...points, samples.length / KIND_RATE].forEach((to, n) => {
    const [first, last] = [Math.round(from * KIND_RATE), Math.round(to * KIND_RATE)];
    whole.set(samples.subarray(first, last), first + 2 * n * KIND_RATE);
    from = to;
  });
  const parts = kindTruth(truth).map(({ kind, from: start, to }) => ({
    kind,
    from: moved(start),
    to: moved(to - 0.001),
  }));
  const quiet = points.map((point, n) => ({ kind: "silence" as const, from: point + 2 * n, to: point + 2 * n + 2 }));
  return { samples: whole, truth: [...parts, ...quiet], seconds: whole.length / KIND_RATE };
}

interface Broadcast {
  readonly id: string;
  readonly truth: KindTruth;
  readonly seconds: number;
  readonly frames: Float32Array;
}

const say = (text: string) => process.stdout.write(`${text}\n`);
const GRID = Array.from({ length: 15 }, (_, n) => 4 + n * 0.25);

/** How well kinds are told on broadcasts: by the figure that is used, which none of them set, and by one set on the others. */
export async function benchKinds(folder: string, ids: readonly string[]): Promise<void> {
  const all: Broadcast[] = [];
  for (const id of ids) {
    const pieces: Float32Array[] = [];
    for await (const samples of asMono(decode(createReadStream(join(folder, id, "aired.mp3"))), KIND_RATE))
      pieces.push(samples);
    const whole = new Float32Array(pieces.reduce((sum, { length }) => sum + length, 0));
    let at = 0;
    for (const piece of pieces) {
      whole.set(piece, at);
      at += piece.length;
    }
    const { samples, truth, seconds } = withSilences(whole, truthOf(join(folder, id)) as Sounded);
    all.push({ id, truth, seconds, frames: framesFrom(samples) });
  }
  const errors = ({ truth, seconds, frames }: Broadcast, least: number) =>
    [...counted(truth, divide(frames, least), seconds).values()].reduce(
      (sum, own) => sum + own.truth + own.said - 2 * own.both,
      0,
    );
  const wrong = new Map(all.map((own) => [own.id, GRID.map((least) => errors(own, least))]));
  say("What is heard when: precision and recall by hundredths of a second, 0.25 s off the edges of the truth");
  for (const own of all) {
    const others = all.filter(({ id }) => id !== own.id);
    const sums = GRID.map((_, n) => others.reduce((sum, { id }) => sum + (wrong.get(id)?.[n] ?? 0), 0));
    const best = GRID.filter((_, n) => sums[n] === Math.min(...sums));
    const least = best[best.length >> 1] ?? 0;
    say(`  ${own.id}: ${kindsText(own.truth, divide(own.frames), own.seconds)}`);
    if (others.length > 0)
      say(`    set on the others, at ${least} dB: ${kindsText(own.truth, divide(own.frames, least), own.seconds)}`);
  }
}

interface Ears {
  readonly frames: Float32Array;
  readonly division: Division;
}

async function heardIn(file: string): Promise<Ears> {
  const [words, kinds] = [cepstra(), kindFrames()];
  for await (const samples of asMono(decode(createReadStream(file)), KIND_RATE)) {
    words.take(samples);
    kinds.take(samples);
  }
  return { frames: words.frames(), division: divide(kinds.frames()) };
}

/** What `new` tells of a broadcast's texts, with both of its recordings, and of a text from which speech was taken out. */
export async function benchHeld(folder: string, ids: readonly string[], model: AcousticModel): Promise<void> {
  for (const id of ids) {
    const own = join(folder, id);
    const truth = truthOf(own) as Sounded;
    const cuts = (truth.cuts ?? []).map(({ from, to, why }) => ({
      from: clockMs(from * 1000),
      to: clockMs(to * 1000),
      why,
    }));
    const timed = (name: string) => ({ clock: "aired" as const, cuts: name === "web.mp3" ? cuts : [] });
    for (const name of ["aired.mp3", "web.mp3"].filter((file) => existsSync(join(own, file)))) {
      const ears = await heardIn(join(own, name));
      const end = truth.duration * 1000;
      const listening = { align: alignerFor(ears.frames, model), division: ears.division };
      const told = async (blocks: readonly RawBlock[]) =>
        (await heardBlocks(blocks, timed(name), end, listening))?.heard.against ?? [];
      for (const format of ["raw.txt", "raw-noisy.txt"].filter((file) => existsSync(join(own, file))))
        tellFaults(`${id}, ${name}, ${format}`, await told(rawBlocksIn(own, format)));
      if (name === "web.mp3") continue;
      const { blocks, gone } = withoutWords(own);
      const found = (await told(blocks)).filter(({ rule }) => rule === "speech-without-words");
      const hits = gone.filter(({ from, to }) => found.some(({ around }) => around.start < to && around.end > from));
      say(`${id}, speech taken out of the text: ${hits.length} of ${gone.length} found, ${found.length} told`);
      const [real] = truth.segments.flatMap((segment) => {
        const { slug, in: start, out } = segment as typeof segment & { readonly out: number };
        return slug.startsWith("break") ? [{ slug, start: start * 1000, end: out * 1000 }] : [];
      });
      if (real === undefined) continue;
      const moves = [-90, -60, -40, -28, -10, -3, 0, 3, 10, 28, 40, 60, 90];
      const cried = moves.filter((by) => {
        const moved = { ...real, start: real.start + by * 1000, end: real.end + by * 1000 };
        return breaksAgainst([moved], ears.division, timed(name)).length > 0;
      });
      say(`${id}, the break said to be later by ${moves.join(", ")} s: told at ${cried.join(", ")}`);
    }
  }
}

function tellFaults(what: string, faults: readonly HeardFault[]): void {
  say(`${what}: ${faults.length} told`);
  for (const { rule, says } of faults) say(`    ${rule}: ${says}`);
}

/** The recogniser's words with their times, without those of four stretches of 8 seconds. */
function withoutWords(folder: string): {
  readonly blocks: readonly RawBlock[];
  readonly gone: readonly { readonly from: number; readonly to: number }[];
} {
  const blocks = rawBlocksIn(folder, "raw.words.json");
  const { duration } = truthOf(folder);
  const gone = [0.15, 0.35, 0.72, 0.9].map((share) => ({
    from: share * duration * 1000,
    to: share * duration * 1000 + 8000,
  }));
  const isGone = ({ start }: RawBlock) => start !== null && gone.some(({ from, to }) => from <= start && start < to);
  return { blocks: blocks.filter((block) => !isGone(block)), gone };
}
