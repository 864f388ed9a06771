import { textOf } from "../model/ownHtml.ts";
import { MISSPELT_MARK } from "../model/searchMarks.ts";
import { type IndexPage, WORDLESS } from "./segment.ts";

/**
 * What a misspelt question is held against: names and words that stand in the index, with how many records have them.
 * Made from the records alone, so that no word is ever suggested that nobody may find.
 */
export interface SearchWords {
  readonly names: Readonly<Record<string, number>>;
  readonly words: Readonly<Record<string, number>>;
}

/** The file that the search page loads where it finds little: the names first, then the most frequent words. */
export interface WordsFile {
  /** Each with the misspellings that the register gives, `MISSPELT_MARK` before each of them. */
  readonly names: readonly string[];
  readonly words: readonly string[];
}

/** How many are kept of a tier and of a year: little enough to be read for every year in every build. */
export const KEPT = { names: 300, words: 600 } as const;

/** The most that the file takes up, in bytes; two thirds of it are for names. */
const FILE_BYTES = 40_000;
const NAMES_BYTES = 26_000;

/** What stands in titles, topics and summaries is looked for more. */
const HEAD = 3;
const SHORTEST = 4;

/** Takes records one by one, and gives what they have most often. */
export function wordCounter(): { add(page: IndexPage): void; counted(): SearchWords } {
  const [names, words] = [new Map<string, number>(), new Map<string, number>()];
  const count = (into: Map<string, number>, key: string, by = 1) => into.set(key, (into.get(key) ?? 0) + by);
  return {
    add({ html, names: own }) {
      for (const name of own) count(names, name);
      const heads = [...html.matchAll(/ data-(?:title|topics|summary|edition)="([^"]*)"/g)].map(
        ([, text = ""]) => text,
      );
      for (const word of distinct(heads.join(" "))) count(words, word, HEAD);
      for (const word of distinct(html.replace(WORDLESS, ""))) count(words, word);
    },
    counted: () => ({ names: most(names, KEPT.names), words: most(words, KEPT.words) }),
  };
}

/** The words of a text, each once, in small letters. */
function distinct(text: string): ReadonlySet<string> {
  const words =
    textOf(text)
      .toLowerCase()
      .normalize("NFC")
      .match(/\p{L}[\p{L}\p{M}]+/gu) ?? [];
  return new Set(words.filter((word) => word.length >= SHORTEST));
}

/** Several as one. */
export function joinWords(all: readonly SearchWords[], keep: typeof KEPT | null): SearchWords {
  const sum = (of: (own: SearchWords) => Readonly<Record<string, number>>, limit: number) => {
    const counts = new Map<string, number>();
    for (const own of all)
      for (const [key, count] of Object.entries(of(own))) counts.set(key, (counts.get(key) ?? 0) + count);
    return most(counts, limit);
  };
  return {
    names: sum(({ names }) => names, keep?.names ?? Number.POSITIVE_INFINITY),
    words: sum(({ words }) => words, keep?.words ?? Number.POSITIVE_INFINITY),
  };
}

/** The file of the whole site, within its limit. Of misspellings, it has those of names that it has. */
export function wordsFile(all: readonly SearchWords[], misspelt: ReadonlyMap<string, readonly string[]>): string {
  const { names, words } = joinWords(all, null);
  let left = FILE_BYTES;
  const fitting = (keys: readonly string[], least: number) =>
    keys.filter((key) => {
      const bytes = new TextEncoder().encode(JSON.stringify(key)).length + 1;
      if (left - bytes < least) return false;
      left -= bytes;
      return true;
    });
  const file: WordsFile = {
    names: fitting(
      Object.keys(names).map((name) => [name, ...(misspelt.get(name) ?? [])].join(MISSPELT_MARK)),
      FILE_BYTES - NAMES_BYTES,
    ),
    words: fitting(Object.keys(words), '{"names":[],"words":[]}'.length),
  };
  return JSON.stringify(file);
}

/** Those counted most, falling; of as many, by their letters. `__proto__` is nobody's name. */
function most(counts: ReadonlyMap<string, number>, limit: number): Readonly<Record<string, number>> {
  const sorted = [...counts].sort(([a, one], [b, other]) => other - one || (a < b ? -1 : 1));
  return Object.fromEntries(sorted.slice(0, limit));
}
