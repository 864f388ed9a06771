import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { wavOf } from "../../support/sounds.ts";
import { run } from "./synthesise.ts";

/** A word as a recogniser hears it; seconds of the aired clock. */
export interface HeardWord {
  readonly start: number;
  readonly end: number;
  readonly word: string;
}

/** Samples a second that the model was made for. */
const RATE = 16_000;
const FRAME = RATE / 100;
/** Pieces: at least so long, and cut in a pause of at least so many hundredths of a second. */
const [LEAST, PAUSE] = [600, 20];
const MODEL = "/usr/share/pocketsphinx/model/en-us";
/** Left out of the vocabulary: what is heard by mistake would name real countries and people. */
const LEFT_OUT =
  /^(america|american|americans|britain|british|china|chinese|clinton|england|obama|bush|france|french|german|germany|iran|iraq|israel|israeli|japan|reagan|russia|russian|trump|ukraine|washington)('s)?(\(\d\))?$/;

/**
 * What pocketsphinx hears in a recording, with its own acoustic and language models: split at pauses, in two processes.
 * @param file that ffmpeg can decode.
 */
export async function recognise(file: string): Promise<readonly HeardWord[]> {
  const folder = await mkdtemp(join(tmpdir(), "recognise-"));
  try {
    const bytes = await run("ffmpeg", ["-v", "error", "-i", file, "-ac", "1", "-ar", String(RATE), "-f", "s16le", "-"]);
    const samples = Float32Array.from({ length: bytes.length >> 1 }, (_, n) => bytes.readInt16LE(n * 2) / 32768);
    const pieces = piecesOf(samples);
    await mkdir(join(folder, "pieces"));
    for (const [n, { from, to }] of pieces.entries())
      await writeFile(join(folder, "pieces", `${n}.wav`), wavOf([samples.subarray(from, to)], RATE));
    await writeFile(join(folder, "list"), `${pieces.map((_, n) => n).join("\n")}\n`);
    const dictionary = await readFile(join(MODEL, "cmudict-en-us.dict"), "utf8");
    const kept = dictionary.split("\n").filter((line) => !LEFT_OUT.test(line.split(" ")[0] ?? ""));
    await writeFile(join(folder, "dictionary"), kept.join("\n"));
    const half = Math.ceil(pieces.length / 2);
    const heard = await Promise.all(
      [0, half].map(async (offset) => {
        const out = join(folder, `segments-${offset}`);
        const options = {
          hmm: join(MODEL, "en-us"),
          lm: join(MODEL, "en-us.lm.bin"),
          dict: join(folder, "dictionary"),
          ctl: join(folder, "list"),
          cepdir: join(folder, "pieces"),
          cepext: ".wav",
          adcin: "yes",
          adchdr: "44",
          ctloffset: String(offset),
          ctlcount: String(half),
          // Half the time of what is set without them.
          ds: "2",
          topn: "2",
          maxhmmpf: "5000",
          hypseg: out,
        };
        await run(
          "pocketsphinx_batch",
          Object.entries(options).flatMap(([key, value]) => [`-${key}`, value]),
        );
        return readFile(out, "utf8");
      }),
    );
    return heard
      .flatMap((text) => text.trim().split("\n"))
      .flatMap((line) => wordsFrom(line, (n) => (pieces[n]?.from ?? 0) / RATE));
  } finally {
    await rm(folder, { recursive: true });
  }
}

/** Stretches of samples that end in pauses. */
function piecesOf(samples: Float32Array): readonly { readonly from: number; readonly to: number }[] {
  const loud = Array.from({ length: Math.floor(samples.length / FRAME) }, (_, n) => {
    const own = samples.subarray(n * FRAME, (n + 1) * FRAME);
    return own.reduce((sum, one) => sum + one * one, 0) / FRAME > 1e-5;
  });
  const pieces: { from: number; to: number }[] = [];
  let [from, quiet] = [0, 0];
  for (const [n, isLoud] of loud.entries()) {
    quiet = isLoud ? 0 : quiet + 1;
    const isPause = quiet >= PAUSE && n - from >= LEAST;
    // Music and wind have no pauses.
    if (isPause || n - from >= 5 * LEAST) {
      const to = n - (isPause ? PAUSE >> 1 : 0);
      pieces.push({ from: from * FRAME, to: to * FRAME });
      from = to;
    }
  }
  pieces.push({ from: from * FRAME, to: samples.length });
  return pieces;
}

/** `7 S 0 T -123 A -100 L -23 0 -5 -3 word 23 -5 -3 word 60`: of each word where it begins, in frames, and two scores. */
function wordsFrom(line: string, startOf: (piece: number) => number): readonly HeardWord[] {
  const [piece = "0", ...cells] = line.split(/\s+/);
  const first = cells.indexOf("L") + 2;
  const own: { readonly at: number; readonly word: string }[] = [];
  let n = first;
  for (; n + 3 < cells.length; n += 4) own.push({ at: Number(cells[n]), word: cells[n + 3] ?? "" });
  const end = Number(cells[n]);
  const from = startOf(Number(piece));
  const seconds = (frame: number) => Math.round((from + frame / 100) * 100) / 100;
  return own.flatMap(({ at, word }, k) => {
    const plain = word.replace(/\(\d+\)$/, "");
    if (/^[<[+]/.test(plain)) return [];
    return [{ start: seconds(at), end: seconds(own[k + 1]?.at ?? end), word: plain }];
  });
}
