import { foldWord, type Sentence, type Word } from "../speech.ts";

/** An entry of a list, ready to be matched: `*` at the end of a word stands for any ending. */
export type Entry = readonly { readonly fold: string; readonly open: boolean }[];

export const entryOf = (text: string): Entry =>
  text.split(" ").map((word) => ({ fold: foldWord(word.replace(/\*$/, "")), open: word.endsWith("*") }));

/** The words of a sentence that an entry matches; null when none. */
export function matchIn({ words }: Sentence, entry: Entry): readonly Word[] | null {
  for (let at = 0; at + entry.length <= words.length; at++) {
    if (entry.every((want, n) => fits(words[at + n]?.fold ?? "", want))) return words.slice(at, at + entry.length);
  }
  return null;
}

const fits = (fold: string, want: Entry[number]): boolean =>
  want.open ? fold.startsWith(want.fold) : fold === want.fold;
