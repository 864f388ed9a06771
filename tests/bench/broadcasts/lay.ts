import { randomFrom } from "../../support/random.ts";
import { musicOf } from "./music.ts";
import { type Script, type ScriptSegment, sentencesIn } from "./script.ts";
import { sayableOf, spokenOf, writtenOf } from "./spoken.ts";
import { VOICES } from "./voices.ts";

/** A sentence of the truth; seconds of the aired clock. */
export interface TrueSentence {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  readonly spoken: string;
}
export interface TrueTurn {
  readonly segment: string;
  readonly speaker: string;
  readonly start: number;
  readonly end: number;
  readonly text: string;
  readonly sentences: readonly TrueSentence[];
}
export interface TrueSegment extends Omit<ScriptSegment, "lines" | "rights"> {
  readonly in: number;
  readonly out: number;
  readonly rights: { readonly withheld: true; readonly holder: string; readonly show: string } | null;
  readonly speakers: readonly string[];
}
export interface TrueSound {
  readonly kind: string;
  readonly start: number;
  readonly end: number;
}
export interface Cut {
  readonly from: number;
  readonly to: number;
  readonly why: string;
  readonly segment: string;
}

/** What was really broadcast. */
export interface Truth {
  readonly episode: string;
  readonly programme: string;
  readonly station: string;
  readonly title: string;
  readonly aired: string;
  readonly language: string;
  readonly clock: "aired";
  readonly duration: number;
  readonly cuts: readonly Cut[];
  readonly segments: readonly TrueSegment[];
  readonly sounds: readonly TrueSound[];
  readonly turns: readonly TrueTurn[];
}

/** Pauses in seconds, each between two lengths. Wider than what people leave, and what the demo's broadcasts have. */
const PAUSES = { sentence: [0.16, 0.62], turn: [0.12, 0.95], segment: [0.35, 1.1], music: [0.2, 0.6] } as const;

/** All sentences of a script in order, each with its speaker and its words for a synthesiser. */
export const sayingsOf = (script: Script): readonly { readonly speaker: string; readonly sayable: string }[] =>
  script.segments.flatMap(({ lines }) =>
    lines.flatMap((line) =>
      "sound" in line
        ? []
        : sentencesIn(line.text, script.language).map((text) => ({
            speaker: line.speaker,
            sayable: sayableOf(text, script.language),
          })),
    ),
  );

/**
 * Lays the sentences and the music of a script one after the other.
 * @param sounds the sentences' samples, in the order of `sayingsOf`. @returns the whole, and when what was said.
 */
export function layDown(
  episode: string,
  script: Script,
  sounds: readonly Float32Array[],
  rate: number,
): { readonly samples: Float32Array; readonly truth: Truth } {
  const random = randomFrom(script.seed);
  const placed: { readonly at: number; readonly samples: Float32Array }[] = [];
  const [segments, music, turns]: [TrueSegment[], TrueSound[], TrueTurn[]] = [[], [], []];
  let [at, next] = [0, 0];
  const pause = (kind: keyof typeof PAUSES): number => {
    const [least, most] = PAUSES[kind];
    return Math.round((least + (most - least) * random.next()) * 1000) / 1000;
  };
  const put = (samples: Float32Array): { readonly start: number; readonly end: number } => {
    const start = at;
    placed.push({ at: Math.round(start * rate), samples });
    at = round(start + samples.length / rate);
    return { start, end: at };
  };
  for (const own of script.segments) {
    const from = at;
    const isMusicFirst = own.lines[0] !== undefined && "sound" in own.lines[0];
    if (!isMusicFirst) at = round(at + pause("segment") / 2);
    own.lines.forEach((line, n) => {
      if (n > 0) at = round(at + pause("sound" in line ? "music" : "turn"));
      if ("sound" in line) {
        music.push({ kind: line.sound, ...put(musicOf(line.mood, line.seconds, rate, script.seed + music.length)) });
        return;
      }
      const sentences = sentencesIn(line.text, script.language).map((text, k) => {
        if (k > 0) at = round(at + pause("sentence"));
        const times = put(sounds[next++] ?? new Float32Array(0));
        return { ...times, text: writtenOf(text), spoken: spokenOf(sayableOf(text, script.language)) };
      });
      turns.push({
        segment: own.slug,
        speaker: line.speaker,
        start: sentences[0]?.start ?? at,
        end: at,
        text: sentences.map(({ text }) => text).join(" "),
        sentences,
      });
    });
    at = round(at + pause("segment") / 2);
    const { lines: _, rights, ...rest } = own;
    const speakers = [...new Set(turns.filter(({ segment }) => segment === own.slug).map(({ speaker }) => speaker))];
    segments.push({
      ...rest,
      in: from,
      out: at,
      rights: rights === null ? null : { withheld: true, ...rights },
      speakers,
    });
  }
  const truth: Truth = {
    episode,
    programme: script.programme,
    station: script.station,
    title: script.title,
    aired: script.aired,
    language: script.language,
    clock: "aired",
    duration: at,
    cuts: cutsOf(segments),
    segments,
    sounds: music,
    turns,
  };
  return { samples: mixed(placed, turns, at, rate), truth };
}

const round = (seconds: number): number => Math.round(seconds * 1000) / 1000;

/** Breaks, and what an agency has the rights of. */
const cutsOf = (segments: readonly TrueSegment[]): readonly Cut[] =>
  segments
    .filter(({ kind, rights }) => kind === "break" || rights !== null)
    .map(({ in: from, out: to, kind, slug }) => ({
      from,
      to,
      why: kind === "break" ? "break" : "rights",
      segment: slug,
    }));

/** A faint hiss everywhere, and wind where somebody speaks out of doors. */
function mixed(
  placed: readonly { readonly at: number; readonly samples: Float32Array }[],
  turns: readonly TrueTurn[],
  seconds: number,
  rate: number,
): Float32Array {
  const random = randomFrom(1);
  const out = Float32Array.from({ length: Math.round(seconds * rate) }, () => (random.next() - 0.5) * 2e-4);
  for (const { at, samples } of placed)
    for (let n = 0; n < samples.length; n++) out[at + n] = (out[at + n] ?? 0) + (samples[n] ?? 0);
  for (const { speaker, start, end } of turns) {
    if (VOICES[speaker]?.from !== "outdoors") continue;
    const [from, to] = [Math.round(Math.max(0, start - 0.1) * rate), Math.round((end + 0.1) * rate)];
    let low = 0;
    for (let n = from; n < Math.min(to, out.length); n++) {
      low += 0.03 * ((random.next() - 0.5) * 2 - low);
      out[n] = (out[n] ?? 0) + 0.05 * low;
    }
  }
  return out.map((own) => Math.max(-0.98, Math.min(0.98, own)));
}

/** The edited script: `NAME: text` paragraphs. */
export const truthText = (truth: Truth): string =>
  `${truth.turns.map(({ speaker, text }) => `${speaker.toUpperCase()}: ${text}`).join("\n\n")}\n`;

/** The running order as it was printed before. */
export function orderText({ segments }: Truth): string {
  const cell = (text: string) => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const rows = segments.map(({ slug, title, kind, planned, by }) =>
    [slug, title, kind, planned, by.join("; ")].map(cell).join(","),
  );
  return `${["slug,title,kind,planned,by", ...rows].join("\n")}\n`;
}

/** The mistakes that went out on air, each with the sentence that has it. @throws where a mistake stands nowhere. */
export function airFaults(truth: Truth, script: Script): unknown {
  const faults = script.faults.map(({ kind, segment, said, correct, why }, n) => {
    const own = truth.turns.filter((turn) => turn.segment === segment);
    const found = own.flatMap(({ speaker, sentences }) =>
      sentences.filter(({ text }) => text.includes(said)).map((sentence) => ({ speaker, sentence })),
    )[0];
    if (found === undefined) throw new Error(`${truth.episode}: nobody says "${said}" in ${segment}.`);
    const { speaker, sentence } = found;
    const { start: at, end: until, text } = sentence;
    return { id: `a${n + 1}`, kind, segment, speaker, at, until, said, correct, sentence: text, why };
  });
  const note =
    "Faults that went out on air, on purpose. The transcript is to keep the words as said; the correction stands beside them. Times are seconds in the aired clock.";
  return { episode: truth.episode, note, faults };
}
