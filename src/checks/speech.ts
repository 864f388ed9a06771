import { homesIn } from "../derive/holdings.ts";
import { soundIn } from "../derive/turns.ts";
import type { Place } from "../model/finding.ts";
import { grouped } from "../model/grouped.ts";
import type { ClockMs } from "../model/units.ts";
import type { LaidCue, LaidEpisode, LaidPiece } from "../record/laid.ts";

/** A word of the transcript: a run between white space that holds a letter or a digit. */
export interface Word {
  /** Without the punctuation around it: `O'Neil`, `3.2`, `4–0`, `T.E.T.`. */
  readonly text: string;
  /** `text` in small letters, with straight apostrophes and without a possessive. */
  readonly fold: string;
  /** The punctuation that follows it: `,`, `.”`, or "". */
  readonly after: string;
  readonly cue: LaidCue;
  /** Which piece of the cue, and where in its words. */
  readonly piece: number;
  readonly offset: number;
  /** Seconds in the episode's clock, by its share of the cue's words. */
  readonly seconds: number;
  readonly voice: string | null;
  /** The slug of the segment its cue goes with; null: none. */
  readonly segment: string | null;
  /** Whether a correction lies on it. */
  readonly noted: boolean;
  /** Whether it stands in a title or a summary, and not in the transcript. */
  readonly written: boolean;
}

/** Words up to a full stop, a change of voice or of segment. */
export interface Sentence {
  /** Which of the transcript it is, from 0; -1 where it stands in a title or a summary. */
  readonly index: number;
  readonly words: readonly Word[];
  readonly segment: string | null;
  readonly voice: string | null;
}

export interface Spoken {
  readonly words: readonly Word[];
  readonly sentences: readonly Sentence[];
  /** The same by the slug of the segment; null: of none. */
  readonly inSegment: ReadonlyMap<string | null, Pick<Spoken, "words" | "sentences">>;
  /** The words of each cue of speech, in file order. */
  readonly inCue: ReadonlyMap<LaidCue, readonly Word[]>;
  /** Sounds heard but not said. */
  readonly sounds: readonly { readonly cue: LaidCue; readonly text: string }[];
}

/** Where a text that is read, not heard, belongs. */
export interface Written {
  readonly at: Place;
  readonly in: ClockMs;
  readonly slug: string | null;
}

const SENTENCE_END = /[.!?…]/;
/** Written with a full stop that ends no sentence. */
const SHORTENED = /^(?:mr|mrs|ms|dr|st|prof|rev|hon|capt|sgt|lt|col|gen|gov|sen|rep|vs|jr|sr|[a-z])$/i;
/** Whose full stop may end one: `no. 4` and `She said no.`; `ropes, nets, etc. were lost`. */
const MAYBE_SHORTENED = /^(?:nos?|etc)$/i;
const DOTTED = /^(?:\p{L}\.){2,}$/u;
const LETTER = /[\p{L}\p{N}]/u;

/** Most words are of this kind, and are read in one step. */
const PLAIN = /^[A-Za-z0-9]+$/;
const PLAIN_RUN = /^([A-Za-z0-9]+)([.,;:!?]*)$/;

export const foldWord = (text: string): string =>
  PLAIN.test(text)
    ? text.toLowerCase()
    : text
        .normalize("NFC")
        .toLowerCase()
        .replace(/[’‘]/g, "'")
        .replace(/'s$|'$/, "");

/** The words of what was said, in the order of the file, with the sentences they make. Withheld words are among them. */
export function spokenIn({ cues, segments }: LaidEpisode): Spoken {
  const sounds: { cue: LaidCue; text: string }[] = [];
  const inCue = new Map<LaidCue, readonly Word[]>();
  const homeOf = homesIn(segments);
  for (const cue of cues) {
    const text = soundIn(cue);
    if (text !== null) {
      sounds.push({ cue, text });
      continue;
    }
    const words = wordsOf(cue, homeOf(cue)?.slug ?? null);
    if (words.length > 0) inCue.set(cue, words);
  }
  const words = [...inCue.values()].flat();
  const sentences = sentencesOf(words);
  const [wordsIn, sentencesIn] = [
    grouped(words, ({ segment }) => segment),
    grouped(sentences, ({ segment }) => segment),
  ];
  const inSegment = new Map(
    [...wordsIn].map(([slug, own]) => [slug, { words: own, sentences: sentencesIn.get(slug) ?? [] }]),
  );
  return { words, sentences, inSegment, inCue, sounds };
}

function wordsOf(cue: LaidCue, segment: string | null): Word[] {
  const length = cue.pieces.reduce((sum, { words }) => sum + words.length, 0) || 1;
  let before = 0;
  return cue.pieces.flatMap((piece, index) => {
    const start = before;
    before += piece.words.length;
    const isNoted = notedIn(piece);
    return tokensOf(piece.words).map(({ text, after, offset }) => ({
      text,
      fold: foldWord(text),
      after,
      cue,
      piece: index,
      offset,
      seconds: (cue.start + ((cue.end - cue.start) * (start + offset)) / length) / 1000,
      voice: piece.voice,
      segment,
      noted: isNoted(offset),
      written: false,
    }));
  });
}

/** Runs of a text with their punctuation taken off, and where each begins. */
export function tokensOf(text: string): { text: string; after: string; offset: number }[] {
  return [...text.matchAll(/[^\s—]+/g)].flatMap((found) => {
    const run = found[0];
    const plain = PLAIN_RUN.exec(run);
    if (plain !== null) return [{ text: plain[1] ?? "", after: plain[2] ?? "", offset: found.index }];
    const inner = run.search(/[\p{L}\p{N}£$€]/u);
    if (inner === -1 || !LETTER.test(run)) return [];
    const body = run.slice(inner);
    const kept = DOTTED.test(body) ? body : body.replace(/[^\p{L}\p{N}\p{M}%°]+$/u, "");
    return [{ text: kept, after: body.slice(kept.length), offset: found.index + inner }];
  });
}

/** Whether a correction lies on an offset of a piece's words. To be asked in the order of the words. */
function notedIn({ runs }: LaidPiece): (offset: number) => boolean {
  let [at, end] = [0, runs[0]?.text.length ?? 0];
  return (offset) => {
    while (at < runs.length && offset >= end) {
      at += 1;
      end += runs[at]?.text.length ?? 0;
    }
    return (runs[at]?.mark ?? null) !== null;
  };
}

/** Whether a sentence ends with `word`. `next`: the word after it. */
function endsSentence(word: Word, next: Word | undefined): boolean {
  if (next === undefined || next.voice !== word.voice || next.segment !== word.segment) return true;
  if (DOTTED.test(word.text)) return /^\p{Lu}/u.test(next.text) && !next.text.includes(".");
  if (!SENTENCE_END.test(word.after)) return false;
  if (!word.after.startsWith(".")) return true;
  return MAYBE_SHORTENED.test(word.text) ? /^\p{Lu}/u.test(next.text) : !SHORTENED.test(word.text);
}

function sentencesOf(words: readonly Word[]): Sentence[] {
  const sentences: Sentence[] = [];
  let open: Word[] = [];
  words.forEach((word, n) => {
    open.push(word);
    if (!endsSentence(word, words[n + 1])) return;
    sentences.push({ index: sentences.length, words: open, segment: word.segment, voice: word.voice });
    open = [];
  });
  return sentences;
}

/** A title or a summary as a sentence, as if it had been said at its segment's in point. Its place is the segment's. */
export function writtenSentence(text: string, { at, in: start, slug }: Written): Sentence[] {
  const piece = { voice: null, language: null, words: text, runs: [{ text, mark: null }], speaker: null };
  const cue = { id: "", place: -1, start, end: start, pieces: [piece], settings: "", at };
  const words = tokensOf(text).map(
    (token): Word => ({
      ...token,
      fold: foldWord(token.text),
      cue,
      piece: 0,
      seconds: start / 1000,
      voice: null,
      segment: slug,
      noted: false,
      written: true,
    }),
  );
  return words.length === 0 ? [] : [{ index: -1, words, segment: slug, voice: null }];
}

/** A word without a possessive: `Brask` of `Brask’s`. */
export const withoutPossessive = (text: string): string => text.replace(/['’]s?$/, "");

/** Words as a person would quote them. */
export const quoted = (words: readonly Word[]): string =>
  words.map(({ text, after }, n) => text + (n === words.length - 1 ? "" : after)).join(" ");
