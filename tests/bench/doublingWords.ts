export const times = <T>(count: number, make: (n: number) => T): T[] =>
  Array.from({ length: count }, (_, n) => make(n));

/** A word with a capital that is in no list: another for each number. */
export function inventedWord(n: number): string {
  let [rest, word] = [n + 11 ** 3, ""];
  while (rest > 0) {
    word += `${"bdfglmnprst"[rest % 11]}${"aeiou"[rest % 5]}`;
    rest = Math.floor(rest / 11);
  }
  return word.charAt(0).toUpperCase() + word.slice(1);
}
