import { textsIn } from "./texts.ts";
import { runsIn, wordsIn } from "./words.ts";

/** Whether a file has no words: fonts, pictures, recordings, machine code. Text has no zero bytes. */
export const isBinary = (bytes: Uint8Array): boolean => bytes.subarray(0, 4096).includes(0);

/** The runs of a file's words that are among those that are sought, each once. @param path its ending says what it is. */
export function findRuns(path: string, text: string, isSought: (run: string) => boolean): readonly string[] {
  const found = new Set<string>();
  for (const own of textsIn(path, text)) for (const run of runsIn(wordsIn(own))) if (isSought(run)) found.add(run);
  return [...found];
}
