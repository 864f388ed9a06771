import { wordsIn } from "./words.ts";

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

/** The words of some texts, and all that stand in them in a row. */
export interface Grams {
  has(words: string): boolean;
}

/** Few are asked about, each often: to look for one is quicker than to list all. */
export function gramsOf(texts: readonly string[]): Grams {
  const all = texts.map((text) => ` ${wordsIn(text).join(" ")} `).join("|");
  const known = new Map<string, boolean>();
  return {
    has(words) {
      const has = known.get(words) ?? all.includes(` ${words} `);
      known.set(words, has);
      return has;
    },
  };
}

/**
 * Whether a run comes about where the program's sentences and texts that may be shown meet: "Error in" and the title
 * "The Long Evening" make "in the long". A sentence that leaks has runs that no such seam explains.
 * @param own the words of the program's sentences.
 */
export function isComposed(run: string, own: Grams, { starts, ends, alone }: Edges): boolean {
  if (own.has(run)) return true;
  const [a = "", b = "", c = ""] = run.split(" ");
  const seam = (left: string, right: string): boolean =>
    (ends.has(left) && (starts.has(right) || own.has(right))) || (own.has(left) && starts.has(right));
  return seam(a, `${b} ${c}`) || seam(`${a} ${b}`, c) || (alone.has(b) && own.has(a) && own.has(c));
}
