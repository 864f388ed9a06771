import { createReadStream } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import type { TellApart } from "../derive/propose/voiceNames.ts";
import { cepstra, RATE } from "../listen/alignFeatures.ts";
import { MODEL_FILES, type ModelFiles, parseModel } from "../listen/alignModel.ts";
import { asMono, type Decoded, decode, type Piece, UndecodableSound } from "../listen/decode.ts";
import { type Hearing, hearing, type ToJudge } from "../listen/hear.ts";
import type { HeardSpans, Listening } from "../listen/heardSpans.ts";
import { kindFrames } from "../listen/kindFrames.ts";
import { type Division, divide } from "../listen/kinds.ts";
import { voicesIn } from "../listen/voices.ts";
import { waveform } from "../listen/waveform.ts";
import { findFfmpeg } from "../write/ffmpeg.ts";
import { alignerInThreads } from "./alignThreads.ts";

export interface ListenOptions {
  /** The folder of the acoustic model. */
  readonly model: string;
  /** The name or path of ffmpeg, for what has no decoder here. */
  readonly ffmpeg: string;
  /** The names that are listened for besides the words. */
  readonly names?: readonly string[];
  /** Is told what share of the work is done. */
  readonly progress?: (share: number) => void;
}

/** What came of opening a recording: something to hold words against, or why there is none, as a sentence. */
export type Opened =
  | {
      readonly ok: true;
      readonly listening: Listening;
      readonly sound: Sound | null;
      readonly peaks: Uint8Array;
      /** Tells voices apart, by pieces in milliseconds of the media. */
      readonly tellApart: TellApart;
    }
  | { readonly ok: false; readonly says: string };

/** What the recording is like; null where ffmpeg decoded it, and nothing but its words was heard. */
export type Sound = Omit<ToJudge, "wanted">;

const WITHOUT = "so the times of words were worked out from the text";
/** Decoding takes about so much of the time. */
const DECODING = 0.3;

/** Opens an episode's recording and the acoustic model. @param files the recordings, best first; addresses are none. */
export async function openListening(files: readonly string[], options: ListenOptions): Promise<Opened> {
  const { model: folder, progress } = options;
  const there = await Promise.all(files.map(isFile));
  const file = files.find((_, n) => there[n]);
  if (file === undefined) return no(`The recording isn't on this machine, ${WITHOUT}.`);
  const model = await readModel(folder);
  if (typeof model === "string") return no(model);
  const opened = await framesOf(file, options);
  if (typeof opened === "string") return no(opened);
  const { frames, division, peaks, sound } = opened;
  return {
    ok: true,
    sound,
    peaks,
    tellApart: (pieces) => voicesIn(frames, pieces, division),
    listening: {
      align: alignerInThreads(frames, model, options.names),
      division,
      ...(progress === undefined ? {} : { progress: (share) => progress(DECODING + share * (1 - DECODING)) }),
    },
  };
}

/** Where the times of words come from, as a sentence. @param heard null where too few words were heard. */
export function listenedText(opened: Opened, heard: Pick<HeardSpans, "sayable" | "heard"> | null): string {
  if (!opened.ok) return opened.says;
  if (heard === null)
    return `Too few of the words are in the recording: it may be another one, or its cuts are, ${WITHOUT}.`;
  const missing = heard.sayable - heard.heard;
  const rest =
    missing === 0 ? "all words were heard" : `${missing} words were not heard, and stand between their neighbours`;
  const loudness = opened.sound?.heard.loudness ?? null;
  const level = loudness === null ? "" : ` Its loudness is ${loudness.toFixed(1)} LUFS (ITU-R BS.1770).`;
  return `The times of words come from the recording: ${rest}.${level}`;
}

const no = (says: string): Opened => ({ ok: false, says });

const isFile = (path: string): Promise<boolean> =>
  stat(path).then(
    (found) => found.isFile(),
    () => false,
  );

/** The files of the model in a folder; a sentence where there is none that can be used. */
async function readModel(folder: string): Promise<ModelFiles | string> {
  const entries = await Promise.all(
    Object.values(MODEL_FILES).map((name) => readFile(join(folder, name)).catch(() => null)),
  );
  const [mdef, means, variances, transitions, sendump] = entries.map((own) =>
    own === null ? null : new Uint8Array(own),
  );
  if (!mdef || !means || !variances || !transitions || !sendump)
    return `There is no acoustic model in ${folder} (Debian's package pocketsphinx-en-us has one), ${WITHOUT}.`;
  const files = { mdef, means, variances, transitions, sendump };
  try {
    parseModel(files);
    return files;
  } catch (error) {
    return `The acoustic model in ${folder} can't be used: ${error instanceof Error ? error.message : String(error)}; ${WITHOUT}.`;
  }
}

interface OneListening {
  readonly frames: Float32Array;
  readonly division: Division;
  /** The waveform (`waveform.ts`). */
  readonly peaks: Uint8Array;
}

/** What the search for words, the division and the waveform are made from, as it comes. */
function allEars() {
  const [words, kinds, outline] = [cepstra(), kindFrames(), waveform()];
  return {
    take: (samples: Float32Array): void => {
      words.take(samples);
      kinds.take(samples);
      outline.take(samples);
    },
    heard: (): OneListening => ({
      frames: words.frames(),
      division: divide(kinds.frames()),
      peaks: outline.peaks(),
    }),
  };
}

/** The cepstra of a recording and its division; a sentence where it has no sound that can be heard. */
async function framesOf(
  file: string,
  { ffmpeg: program, progress }: ListenOptions,
): Promise<(OneListening & { readonly sound: Sound | null }) | string> {
  const { size } = await stat(file);
  const own = allEars();
  try {
    const bytes = told(createReadStream(file), (read) => progress?.((read / size) * DECODING));
    const ears = hearing();
    const sound = asMono(heardBy(ears, decode(bytes)), RATE);
    for (;;) {
      const { done, value } = await sound.next();
      if (done === true) return { ...own.heard(), sound: { ...value, heard: ears.heard() } };
      own.take(value);
    }
  } catch (error) {
    if (!(error instanceof UndecodableSound)) throw error;
    const ffmpeg = await findFfmpeg(program);
    if (ffmpeg === null) return `${file} can't be heard: ${error.says} With ffmpeg installed it may be; ${WITHOUT}.`;
    const other = allEars();
    const done = await ffmpeg.samples(file, RATE, (samples) => other.take(samples));
    const heard = other.heard();
    if (done.ok && heard.frames.length > 0) return { ...heard, sound: null };
    return `${file} can't be heard: ${error.says} ${WITHOUT.replace("so", "So")}.`;
  }
}

/** The same bytes; `tell` is told how many have come. */
async function* told(bytes: AsyncIterable<Uint8Array>, tell: (read: number) => void): AsyncGenerator<Uint8Array> {
  let read = 0;
  for await (const chunk of bytes) {
    read += chunk.length;
    tell(read);
    yield chunk;
  }
}

/** The same pieces; `ears` hear each. */
async function* heardBy(ears: Hearing, pieces: AsyncGenerator<Piece, Decoded>): AsyncGenerator<Piece, Decoded> {
  for (;;) {
    const { done, value } = await pieces.next();
    if (done === true) return value;
    ears.take(value);
    yield value;
  }
}
