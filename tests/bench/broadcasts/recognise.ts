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
/** What nobody said and should not seem to have: pieces in which it is heard are heard again without such words. */
const UNWANTED =
  /^(afghan|afghanistan|america|americans?|austrians?|austria|australians?|australia|bosnia|cuba|cuban|egypt|greece|haiti|iranian|iraqi|koreans?|korea|kuwait|lebanon|libyan?|poland|serbia|stalin|syria|vietnam|bitch|britain|british|bush|canada|china|chinese|clinton|damned|england|france|french|fuck\w*|germans?|germany|hell|hitler|india|indian|iran|iraq|ireland|israel|israeli|italy|japan|mexico|nazis?|obama|pakistan|porn|rape[ds]?|reagan|russia|russian|scotland|sex|sexual|shit\w*|spain|trump|ukraine|washington|whores?)('s)?(\(\d+\))?$/;

interface Piece {
  readonly from: number;
  readonly to: number;
}

/**
 * What pocketsphinx hears in a recording, with its own acoustic and language models: split at pauses, in two processes.
 * @param file that ffmpeg can decode. @param before what was heard earlier, where only unwanted words are to be heard again.
 */
export async function recognise(
  file: string,
  before: readonly HeardWord[] | null = null,
): Promise<readonly HeardWord[]> {
  const bytes = await run("ffmpeg", ["-v", "error", "-i", file, "-ac", "1", "-ar", String(RATE), "-f", "s16le", "-"]);
  const samples = Float32Array.from({ length: bytes.length >> 1 }, (_, n) => bytes.readInt16LE(n * 2) / 32768);
  const pieces = piecesOf(samples);
  const words = before ?? (await hear(samples, pieces, () => true));
  const isIn = ({ start }: HeardWord, { from, to }: Piece) => start >= from / RATE && start < to / RATE;
  const bad = pieces.filter((piece) => words.some((word) => isIn(word, piece) && UNWANTED.test(word.word)));
  if (bad.length === 0) return words;
  const again = await hear(samples, bad, (word) => !UNWANTED.test(word));
  return [...words.filter((word) => !bad.some((piece) => isIn(word, piece))), ...again].sort(
    (a, b) => a.start - b.start,
  );
}

async function hear(
  samples: Float32Array,
  pieces: readonly Piece[],
  isKept: (word: string) => boolean,
): Promise<readonly HeardWord[]> {
  const folder = await mkdtemp(join(tmpdir(), "recognise-"));
  try {
    await mkdir(join(folder, "pieces"));
    for (const [n, { from, to }] of pieces.entries())
      await writeFile(join(folder, "pieces", `${n}.wav`), wavOf([samples.subarray(from, to)], RATE));
    await writeFile(join(folder, "list"), `${pieces.map((_, n) => n).join("\n")}\n`);
    const dictionary = await readFile(join(MODEL, "cmudict-en-us.dict"), "utf8");
    const kept = dictionary.split("\n").filter((line) => isKept(line.split(" ")[0] ?? ""));
    await writeFile(join(folder, "dictionary"), kept.join("\n"));
    const half = Math.ceil(pieces.length / 2);
    const heard = await Promise.all([0, half].map((offset) => hearSome(folder, offset, half)));
    return heard
      .flatMap((text) => text.trim().split("\n"))
      .flatMap((line) => wordsFrom(line, (n) => (pieces[n]?.from ?? 0) / RATE));
  } finally {
    await rm(folder, { recursive: true });
  }
}

/** One process, for so many pieces of the list. @returns the words of each in a line, with the frames they begin at. */
async function hearSome(folder: string, offset: number, count: number): Promise<string> {
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
    ctlcount: String(count),
    // Less work than what is set without them: every second frame's states, fewer candidates.
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
}

/** Stretches of samples that end in pauses. */
function piecesOf(samples: Float32Array): readonly Piece[] {
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
  if (first < 2) return [];
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
