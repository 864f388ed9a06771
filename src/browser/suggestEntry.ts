import type { WordsFile } from "../search/words.ts";
import type { Asked } from "./asked.ts";
import { suggest } from "./suggest.ts";

let file: Promise<WordsFile> | null = null;

/** What was probably meant, whole; null: nothing else. @param words the address of the file of words, fetched once. */
export async function meantBy(
  { clauses, typed }: Asked,
  unknown: ReadonlySet<string>,
  words: string,
): Promise<string | null> {
  file ??= fetchWords(words);
  const suggested = suggest(typed, unknown, await file);
  if (suggested.length === 0) return null;
  const quoted = clauses.flatMap(({ is, terms }) => (is === "phrase" ? terms : []));
  const meant = suggested.reduce((text, own) => text.replace(own.typed, () => own.meant), typed.join(" "));
  return [...quoted, meant].join(" ");
}

async function fetchWords(address: string): Promise<WordsFile> {
  try {
    return (await (await fetch(address)).json()) as WordsFile; // written by our own build, beside this script
  } catch (error) {
    file = null; // the next search tries again
    throw error;
  }
}
