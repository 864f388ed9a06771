import { type RawBlock, soundOf } from "../../model/spoken.ts";
import { isSurelyName, type KnownSpeakers, labelAt, looksName, voiceNamed } from "./labels.ts";
import { asWords, tidyLines } from "./reading.ts";

/** Somebody else begins: a mark that captions put before a turn. */
const CHEVRONS = /^(?:>>+|»)\s*/;
const DASH = /^[-–—‐]\s+(?=\S)/;
/** A dash without a blank after it, which counts only where every line of the cue has one. */
const BARE_DASH = /^[-–—‐]\s*(?=[\p{L}"'“‘])/u;

/** Somebody whom the file doesn't name; two of them take turns, because it says only that somebody else speaks. */
export const UNNAMED = ["Unnamed voice", "Another unnamed voice"] as const;

const isUnnamed = (voice: string): boolean => UNNAMED.some((own) => own === voice);

/** How often a name before words must stand in a file for it to be believed, by how many words it has. */
const OFTEN = { one: 3, more: 2 } as const;

export interface Voiced {
  /** Their words between single blanks. */
  readonly rawBlocks: readonly RawBlock[];
  /** In the order in which they are first heard. */
  readonly voices: readonly string[];
  /** How many turns begin with a dash or `>>` and no name. */
  readonly unnamedTurns: number;
}

/**
 * The blocks of a raw transcript as turns: names before words, `>>`, and dashes begin one, and it lasts until the next,
 * over as many blocks as it likes. What a reader gave a voice keeps it.
 */
export function intoTurns(rawBlocks: readonly RawBlock[], known: KnownSpeakers): Voiced {
  const isLabel = labelsOf(rawBlocks, known);
  const out: RawBlock[] = [];
  const voices = new Set<string>();
  let [voice, unnamed, unnamedTurns]: [string | null, number, number] = [null, 1, 0];
  let carried: number | null = null;
  for (const block of rawBlocks) {
    if (block.voice !== null) {
      voice = voiceNamed(block.voice, known);
      voices.add(voice);
      out.push({ ...block, voice, ...inLines(block.text.split("\n")) });
      // The voice of a file's own mark ends with it.
      voice = null;
      continue;
    }
    const lines = block.text.split("\n");
    const allDashed = lines.length > 1 && lines.every((line) => BARE_DASH.test(line));
    const pieces: { voice: string | null; words: string[] }[] = [];
    for (const line of lines) {
      const mark = CHEVRONS.exec(line) ?? (allDashed ? BARE_DASH : DASH).exec(line);
      const rest = line.slice(mark?.[0].length ?? 0);
      const label = labelAt(rest);
      const named = label !== null && isLabel(label.name) ? label : null;
      if (named !== null) voice = voiceNamed(named.name, known);
      else if (mark !== null && rest !== "") {
        unnamed = 1 - unnamed;
        voice = UNNAMED[unnamed === 0 ? 0 : 1];
        unnamedTurns++;
      }
      const words = rest.slice(named?.length ?? 0);
      const own = soundOf(words) === null ? voice : null;
      const last = pieces.at(-1);
      if (last === undefined || last.voice !== own || named !== null || mark !== null)
        pieces.push({ voice: own, words: [words] });
      else last.words.push(words);
    }
    // Dashes before every line part the voices of this caption, and say nothing of the next.
    if (allDashed && pieces.every(({ voice: own }) => own === null || isUnnamed(own))) voice = null;
    const spoken = pieces
      .map((piece) => ({ voice: piece.voice, ...inLines(piece.words) }))
      .filter(({ text }) => text !== "");
    const start: number | null = block.start ?? carried;
    // A name alone, with the time of the words below it.
    carried = spoken.length === 0 ? start : null;
    spoken.forEach((piece, n) => {
      if (piece.voice !== null) voices.add(piece.voice);
      out.push({ ...block, ...piece, start: n === 0 ? start : null, end: n === spoken.length - 1 ? block.end : null });
    });
  }
  return { rawBlocks: out, voices: [...voices], unnamedTurns };
}

/** Words as one run, and, where they stood in several lines, as those. */
function inLines(words: readonly string[]): Pick<RawBlock, "text" | "lines"> {
  const lines = tidyLines(words);
  const text = asWords(lines);
  return lines.includes("\n") ? { text, lines } : { text };
}

/** Which names before words are believed: what can be nothing else, and what looks like a name and comes again. */
function labelsOf(rawBlocks: readonly RawBlock[], known: KnownSpeakers): (name: string) => boolean {
  const times = new Map<string, number>();
  for (const { text, voice } of rawBlocks) {
    if (voice !== null || !text.includes(":")) continue;
    for (const line of text.split("\n")) {
      const label = labelAt(line.replace(CHEVRONS, "").replace(DASH, ""));
      if (label !== null) times.set(label.name, (times.get(label.name) ?? 0) + 1);
    }
  }
  const believed = new Map<string, boolean>();
  return (name) => {
    const before = believed.get(name);
    if (before !== undefined) return before;
    const often = (times.get(name) ?? 0) >= (name.includes(" ") ? OFTEN.more : OFTEN.one);
    const is = isSurelyName(name, known) || (often && looksName(name));
    believed.set(name, is);
    return is;
  };
}
