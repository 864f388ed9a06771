import { runsIn, wordsIn } from "./words.ts";

/** Where texts begin and end: what stands beside them in a sentence of the program is no accident of theirs. */
export interface Edges {
  /** The first word of each text, and the first two. */
  readonly starts: ReadonlySet<string>;
  readonly ends: ReadonlySet<string>;
  /** Texts of one word. */
  readonly alone: ReadonlySet<string>;
}

export function edgesOf(texts: Iterable<string>): Edges {
  const [starts, ends, alone] = [new Set<string>(), new Set<string>(), new Set<string>()];
  for (const text of texts) {
    const words = wordsIn(text);
    const [first, last] = [words[0], words.at(-1)];
    if (first === undefined || last === undefined) continue;
    starts.add(first).add(words.slice(0, 2).join(" "));
    ends.add(last).add(words.slice(-2).join(" "));
    if (words.length === 1) alone.add(first);
  }
  return { starts, ends, alone };
}

/** The words of some texts, and their runs of two and of three. */
export function gramsOf(texts: Iterable<string>): ReadonlySet<string> {
  const grams = new Set<string>();
  for (const text of texts) {
    const words = wordsIn(text);
    for (const [at, word] of words.entries()) grams.add(word).add(`${words[at - 1] ?? ""} ${word}`);
    for (const run of runsIn(words)) grams.add(run);
  }
  return grams;
}

/**
 * Whether a run comes about where the program's sentences and texts that may be shown meet: "Error in" and the title
 * "The Long Evening" make "in the long". A sentence that leaks has runs that no such seam explains.
 * @param own the words of the program's sentences.
 */
export function isComposed(run: string, own: ReadonlySet<string>, { starts, ends, alone }: Edges): boolean {
  if (own.has(run)) return true;
  const [a = "", b = "", c = ""] = run.split(" ");
  const seam = (left: string, right: string): boolean =>
    (ends.has(left) && (starts.has(right) || own.has(right))) || (own.has(left) && starts.has(right));
  return seam(a, `${b} ${c}`) || seam(`${a} ${b}`, c) || (alone.has(b) && own.has(a) && own.has(c));
}
