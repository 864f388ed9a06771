/** How like two words are, by their letters and by their sound. */

/**
 * The least number of letters to put in, take out, change, or swap with the next to make one word of the other (optimal
 * string alignment).
 */
export function distance(a: string, b: string): number {
  let [older, old]: [number[], number[]] = [[], Array.from({ length: b.length + 1 }, (_, at) => at)];
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      row[j] = Math.min(
        (old[j] ?? 0) + 1,
        (row[j - 1] ?? 0) + 1,
        (old[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1),
        swapped ? (older[j - 2] ?? 0) + 1 : Number.POSITIVE_INFINITY,
      );
    }
    [older, old] = [old, row];
  }
  return old[b.length] ?? 0;
}

/** How like two are by their letters alone, from 0 to 1. */
export const writtenLikeness = (a: string, b: string): number => 1 - distance(a, b) / Math.max(a.length, b.length, 1);

/** Letters that English says alike, in the order in which they are put. Our own, after how names were misheard. */
const ALIKE: readonly (readonly [RegExp, string])[] = [
  [/^(?:kn|gn|pn)/, "n"],
  [/^wr/, "r"],
  [/^ps/, "s"],
  [/ph/g, "f"],
  [/[sc]h|tch|ti(?=on)|sc(?=i)|j|g(?=[eiy])|dg/g, "x"],
  [/c(?=[eiy])|z/g, "s"],
  [/ck|qu|[cqg]/g, "k"],
  [/gh/g, ""],
  [/th|d/g, "t"],
  [/b/g, "p"],
  [/v/g, "f"],
];

/** What is left of a text by sound: its consonants, and a vowel only where it begins with one. */
export function soundOf(text: string): string {
  const letters = ALIKE.reduce((so, [pattern, as]) => so.replace(pattern, as), lettersOf(text));
  const first = /^[aeiouy]/.test(letters) ? "a" : "";
  return first + letters.replace(/[aeiouyhw]/g, "").replace(/(.)\1+/g, "$1");
}

/** Small letters without accents and signs. */
export const lettersOf = (text: string): string =>
  text
    .normalize("NFD")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, "");

/** From 0 to 1: by letters and by sound, in equal parts. Two that sound short say little by it. */
export function likeness(a: string, b: string): number {
  const [one, other] = [lettersOf(a), lettersOf(b)];
  const written = writtenLikeness(one, other);
  const [sound, otherSound] = [soundOf(a), soundOf(b)];
  return Math.min(sound.length, otherSound.length) < 2 ? written : (written + writtenLikeness(sound, otherSound)) / 2;
}
