import type { Programme, WatchList } from "../model/programme.ts";

/** A list of words as this programme has it: the usual ones, with its own added and some taken out. */
export function watchedWords(list: WatchList, usual: readonly string[], { watch }: Programme): readonly string[] {
  const change = watch?.[list];
  if (change === undefined) return usual;
  const small = (words: readonly string[]) => words.map((word) => word.toLowerCase().replaceAll("’", "'"));
  const dropped = new Set(small(change.drop));
  return [...usual.filter((word) => !dropped.has(word)), ...small(change.add)];
}
