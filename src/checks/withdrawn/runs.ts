import { type Matter, type MatterWord, TELLING, weightIn } from "./matter.ts";
import type { Fold } from "./persons.ts";

/** Where the telling words of matters stand, so that an episode is compared with all of them at once. */
export interface RunIndex {
  readonly matters: readonly Matter[];
  readonly telling: ReadonlyMap<string, readonly { readonly matter: Matter; readonly at: number }[]>;
}

/** The same words in a row. */
export interface Run {
  readonly matter: Matter;
  readonly folds: readonly Fold[];
  readonly score: number;
}

/** So many words in a row are the same words where they tell so much, all told. No source. */
export const RUNS = [
  { words: 5, telling: 1 },
  { words: 3, telling: 1.5 },
] as const;

/** Whether words in a row, by what each of them tells, are more than chance. One of them must tell by itself. */
export const isRun = (telling: readonly number[]): boolean =>
  telling.some((_, from) =>
    RUNS.some((least) => {
      const own = telling.slice(from, from + least.words);
      const sum = own.reduce((all, one) => all + one, 0);
      return own.length === least.words && sum >= least.telling && own.some((one) => one >= TELLING);
    }),
  );

export function runIndexOf(matters: readonly Matter[]): RunIndex {
  const telling = new Map<string, { matter: Matter; at: number }[]>();
  for (const matter of matters)
    matter.words.forEach((word, at) => {
      if (word.telling < TELLING) return;
      const own = telling.get(word.text);
      if (own === undefined) telling.set(word.text, [{ matter, at }]);
      else own.push({ matter, at });
    });
  return { matters, telling };
}

/**
 * Words in a row that a stretch has in common with what was withdrawn: five with something telling among them, or three
 * that tell more. The longest run at each place.
 */
export function runsIn(folds: readonly Fold[], { telling }: RunIndex, episode: string): readonly Run[] {
  const runs: Run[] = [];
  const met = new Set<string>();
  folds.forEach((fold, here) => {
    for (const { matter, at } of telling.get(fold.text) ?? []) {
      const { before, after } = commonAround(folds, here, matter.words, at);
      const from = here - before;
      const key = `${matter.from.withdrawal} ${from} ${at - before}`;
      if (met.has(key)) continue;
      met.add(key);
      const words = matter.words.slice(at - before, at + after + 1);
      const weights = words.map((word) => weightIn(matter, episode, word.stem, { ...word, about: false, nearness: 1 }));
      if (!isRun(weights)) continue;
      runs.push({
        matter,
        folds: folds.slice(from, here + after + 1),
        score: weights.reduce((sum, own) => sum + own, 0),
      });
    }
  });
  return runs;
}

/** How many words are the same on either side of a word in common. */
function commonAround(
  folds: readonly Fold[],
  here: number,
  words: readonly MatterWord[],
  at: number,
): { readonly before: number; readonly after: number } {
  const same = (step: number) => {
    const text = words[at + step]?.text ?? "";
    return text !== "" && folds[here + step]?.text === text;
  };
  let [before, after] = [0, 0];
  while (same(-before - 1)) before += 1;
  while (same(after + 1)) after += 1;
  return { before, after };
}
