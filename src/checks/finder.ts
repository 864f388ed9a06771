import { foldWord, type Word } from "./speech.ts";

/** A word of an entry: `*` at its end stands for any ending. */
interface Wanted {
  readonly fold: string;
  readonly isOpen: boolean;
}

interface Entry {
  readonly index: number;
  readonly wanted: readonly Wanted[];
}

/** A sentence, or as many as may be gone through as one. */
interface InWords {
  readonly words: readonly Word[];
}

/** Looks for the entries of a list in sentences: the words of the first match of each entry, in the list's order. */
export type Finder = (sentences: readonly InWords[]) => readonly (readonly Word[])[];

/** Entries are looked up by their first word, so that a long list takes no longer than a short one. */
export function finderOf(list: readonly string[]): Finder {
  const entries = list.map((text, index) => ({ index, wanted: text.split(" ").map(wantedOf) }));
  const [closed, open] = [new Map<string, Entry[]>(), new Map<string, Entry[]>()];
  for (const entry of entries) {
    const [first] = entry.wanted;
    if (first === undefined) continue;
    const [map, key] = first.isOpen ? [open, first.fold.charAt(0)] : [closed, first.fold];
    map.set(key, map.get(key) ?? []);
    map.get(key)?.push(entry);
  }
  const anyWord = open.get("") ?? [];
  return (sentences) => {
    const found = new Map<number, readonly Word[]>();
    const look = (sentence: InWords, at: number, likely: readonly Entry[]) => {
      for (const { index, wanted } of likely) {
        if (found.has(index) || !standsAt(sentence, at, wanted)) continue;
        found.set(index, sentence.words.slice(at, at + wanted.length));
      }
    };
    for (const sentence of sentences) {
      for (const [at, { fold }] of sentence.words.entries()) {
        look(sentence, at, closed.get(fold) ?? []);
        look(sentence, at, open.get(fold.charAt(0)) ?? []);
        look(sentence, at, anyWord);
      }
    }
    return [...found].sort(([a], [b]) => a - b).map(([, words]) => words);
  };
}

const wantedOf = (word: string): Wanted => ({ fold: foldWord(word.replace(/\*$/, "")), isOpen: word.endsWith("*") });

function standsAt({ words }: InWords, at: number, wanted: readonly Wanted[]): boolean {
  return (
    at + wanted.length <= words.length &&
    wanted.every(({ fold, isOpen }, n) => {
      const own = words[at + n]?.fold ?? "";
      return isOpen ? own.startsWith(fold) : own === fold;
    })
  );
}
