import { distance } from "fastest-levenshtein";

/** The known word that was most likely meant; undefined when none is near. Words over 60 characters are not compared. */
export function findNearest(written: string, known: readonly string[]): string | undefined {
  if (written.length > 60) return undefined;
  const plain = (word: string) => word.toLowerCase().replace(/[\s_-]/g, "");
  const wanted = plain(written);
  const limit = wanted.length < 4 ? 1 : Math.max(2, Math.floor(wanted.length / 3));
  return known
    .map((word) => ({ word, far: distance(wanted, plain(word)) }))
    .filter(({ far }) => far <= limit)
    .sort((a, b) => a.far - b.far)[0]?.word;
}

/** `a`, `b` or `c`, each as code. */
export function listed(words: readonly string[]): string {
  const marked = words.map((word) => `\`${word}\``);
  return marked.length < 2 ? marked.join("") : `${marked.slice(0, -1).join(", ")} or ${marked.at(-1)}`;
}
