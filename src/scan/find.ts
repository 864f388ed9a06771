import { textsIn } from "./texts.ts";
import { runsIn, wordsIn } from "./words.ts";

/** Whether a file has no words: fonts, pictures, recordings, machine code. Text has no zero bytes. */
export const isBinary = (bytes: Uint8Array): boolean => bytes.subarray(0, 4096).includes(0);

/** Three words take up as many characters with what stands between them. */
const SHORTEST = 5;

/** Where a page may be parted: no text goes on over the tags of these. */
const BLOCK =
  /(?=<\/?(?:p|li|ol|ul|div|dl|dt|dd|h[1-6]|section|article|header|footer|nav|main|figure|aside|tr|script)[\s>])/;

/**
 * The runs of a file's words that are among those that are sought, each once. @param path its ending says what it is.
 * @param clean pieces of files that have none, and are not read again: the pages of an episode have most in common.
 */
export function findRuns(
  path: string,
  text: string,
  isSought: (run: string) => boolean,
  clean: Set<string> = new Set(),
): readonly string[] {
  const found = new Set<string>();
  for (const piece of path.endsWith(".html") ? text.split(BLOCK) : [text]) {
    if (clean.has(piece)) continue;
    let isClean = true;
    for (const own of textsIn(path, piece)) {
      if (own.length < SHORTEST || clean.has(own)) continue;
      const runs = runsIn(wordsIn(own)).filter(isSought);
      for (const run of runs) found.add(run);
      if (runs.length === 0) clean.add(own);
      else isClean = false;
    }
    if (isClean) clean.add(piece);
  }
  return [...found];
}
