import { ABOUT, type Matter, type MatterWord, TELLING } from "./matter.ts";
import { foldsOf } from "./persons.ts";
import { isRun, RUNS } from "./runs.ts";
import type { Stems } from "./stems.ts";

/** Somebody's name in a file, with the stems of the words that are looked for near it. */
interface NameHint {
  /** The longest word of `folds`, all of which stand where somebody is named. */
  readonly needle: string;
  readonly folds: readonly string[];
  readonly stems: ReadonlySet<string>;
}

/**
 * What to look for in the files of an episode, so that only few of thousands are read as episodes: parts of names, and
 * one word of every run of words that counts.
 */
export interface Hints {
  readonly names: readonly NameHint[];
  /** By the word: the runs. */
  readonly runs: ReadonlyMap<string, ReadonlySet<string>>;
  readonly stems: Stems;
}

export function hintsOf(matters: readonly Matter[], stems: Stems): Hints {
  const runs = new Map<string, Set<string>>();
  for (const { words } of matters) {
    const keys = new Set<number>();
    for (const least of RUNS)
      words.forEach((_, from) => {
        const own = words.slice(from, from + least.words);
        if (own.some(({ text }) => text === "") || !isRun(own.map(({ telling }) => telling))) return;
        const known = own.findIndex((_, n) => keys.has(from + n));
        const at = known === -1 ? mostTellingOf(own) : known;
        keys.add(from + at);
        const needle = own[at]?.text ?? "";
        const texts = runs.get(needle) ?? new Set();
        runs.set(needle, texts.add(own.map(({ text }) => text).join(" ")));
      });
  }
  return { names: matters.flatMap(nameHints), runs, stems };
}

const mostTellingOf = (words: readonly MatterWord[]): number =>
  words.reduce((best, { telling }, n) => (telling > (words[best]?.telling ?? 0) ? n : best), 0);

const nameHints = ({ persons }: Matter): readonly NameHint[] =>
  persons.flatMap(({ folds, alone, words }) => {
    const stems = new Set([...words].flatMap(([stem, { telling }]) => (telling * ABOUT >= TELLING ? [stem] : [])));
    return stems.size === 0 ? [] : [folds, ...alone].map((own) => ({ needle: longest(own), folds: own, stems }));
  });

const longest = (folds: readonly string[]): string =>
  folds.reduce((best, fold) => (fold.length > best.length ? fold : best), "");

/** How far around a name words are looked for, in characters of a transcript: more than is said in `NEAR_SECONDS`. */
const AROUND_NAME = 1500;
/** How far around a word its neighbours can be: over the timings of the next cue, and the tag of its voice. */
const AROUND_WORD = 300;

/**
 * Whether a file (a transcript, episode.md or a correction) may hold a place of the matters: true for every file of which
 * `placesIn` would find something, and for a few others. An order of magnitude cheaper than reading an episode.
 */
export function mayStandIn(file: string, { names, runs, stems }: Hints): boolean {
  if (ODD.test(file)) return true;
  const text = searchable(file);
  // In a text that is read a name and a word may stand far apart.
  const reach = /^\ufeff?WEBVTT/.test(file) ? AROUND_NAME : text.length;
  return (
    names.some(({ needle, folds, stems: sought }) =>
      around(text, needle, reach).some((stretch) => {
        const own = foldsOf(stretch);
        return folds.every((fold) => own.includes(fold)) && own.some((fold) => sought.has(stems(fold)));
      }),
    ) ||
    (runs.size > MANY
      ? hasRun(text, new Set([...runs.values()].flatMap((own) => [...own])))
      : [...runs].some(([needle, own]) =>
          around(text, needle, AROUND_WORD).some((stretch) => mayHaveRun(stretch, own) && hasRun(stretch, own)),
        ))
  );
}

/** To look for more words than this one after the other takes longer than to compare all words. */
const MANY = 100;

/** Whether all words of a run are somewhere in a stretch: the cheaper question. */
const mayHaveRun = (stretch: string, runs: ReadonlySet<string>): boolean =>
  [...runs].some((run) => run.split(" ").every((word) => stretch.includes(word)));

function hasRun(text: string, runs: ReadonlySet<string>): boolean {
  const folds = foldsOf(plain(text));
  return folds.some((_, at) => RUNS.some(({ words }) => runs.has(folds.slice(at, at + words).join(" "))));
}

/** Letters written as references or escapes: such a file is looked at whole. */
const ODD = /&(?!(?:amp|lt|gt|nbsp|lrm|rlm);)[#a-z]\w*;|\\[xuU][\da-fA-F]/;
const ASCII = /^[\0-\x7f]*$/;

/** A file folded as words are, see `tokensOf` of the record, but with all that stands between them. */
const searchable = (file: string): string =>
  ASCII.test(file)
    ? file.toLowerCase()
    : file
        .normalize("NFKC")
        .replace(/\p{Cf}/gu, "")
        .toUpperCase()
        .toLowerCase();

const LETTER = /[\p{L}\p{M}\p{N}]/u;

/** What stands around each place of a word in a text. */
function around(text: string, needle: string, reach: number): readonly string[] {
  const found: string[] = [];
  for (let at = text.indexOf(needle); at !== -1; at = text.indexOf(needle, at + needle.length)) {
    const [before = "", after = ""] = [text[at - 1], text[at + needle.length]];
    if (LETTER.test(before) || LETTER.test(after)) continue;
    found.push(text.slice(Math.max(0, at - reach), at + needle.length + reach));
  }
  return found;
}

/** Without what stands between the words of two cues: comments, identifiers, timings and tags. */
const plain = (text: string): string =>
  text
    .replaceAll("\r\n", "\n")
    .replace(/\n\nnote\b[\s\S]*?\n(?=\n)/g, "\n")
    .replace(/\n\n(?:[^\n]*\n)?[^\n]*-->[^\n]*/g, " ")
    .replace(/<[^>]*>|&\w+;/g, " ");

/** Which of some stems a file has, whatever they stand in: for telling what is said every evening. */
export function stemsIn(file: string, sought: ReadonlySet<string>, stems: Stems): ReadonlySet<string> {
  return new Set(
    foldsOf(plain(searchable(file)))
      .map(stems)
      .filter((stem) => sought.has(stem)),
  );
}
