/** A text cut to a length in UTF-16 units, the mark of what is left out among them. */
export const shortened = (text: string, longest: number): string =>
  text.length > longest ? `${text.slice(0, longest - 1)}…` : text;

/** Words where they stand, marked among those before and after them, for a line of text. */
export const markedIn = ({ before, words, after }: Readonly<Record<"before" | "words" | "after", string>>): string =>
  before + marked(words) + after;
export const marked = (words: string): string => `‹${words}›`;
