import type { SpokenWord } from "../../model/spoken.ts";
import type { Move } from "./band.ts";
import type { SaidWord } from "./said.ts";

/** Words that one text has and the other has not, or has elsewhere. */
export interface Change {
  readonly kind: "deleted" | "inserted" | "moved";
  readonly text: string;
  readonly words: number;
  /** When the words were said, in the old text; where they were put in, when the word before was. Milliseconds. */
  readonly at: number;
  /** Where moved words stand now, in words from the beginning; null for the others. */
  readonly to: number | null;
}

/** Words that one text has alone. `from`, `to`: written words; `said`: as they are said. */
interface Run {
  readonly from: number;
  readonly to: number;
  readonly said: readonly string[];
  readonly at: number;
}

/** Words that must agree before a passage counts as moved, and the share of the passage that must. Common practice, no source. */
const [LEAST, SHARE] = [4, 0.6] as const;

export function changesOf(
  moves: readonly Move[],
  heard: readonly SaidWord[],
  said: readonly SaidWord[],
  old: readonly SpokenWord[],
  written: readonly { readonly text: string }[],
): readonly Change[] {
  const deleted = runsOf("row", moves, heard, said, old);
  const inserted = runsOf("column", moves, heard, said, old);
  const moved = new Map<Run, Run>();
  for (const run of inserted) {
    const from = deleted.find((other) => !moved.has(other) && isSamePassage(other.said, run.said));
    if (from !== undefined) moved.set(from, run);
  }
  const taken = new Set(moved.values());
  const change = (
    kind: Change["kind"],
    run: Run,
    words: readonly { readonly text: string }[],
    to: number | null,
  ): Change => ({
    kind,
    text: words
      .slice(run.from, run.to)
      .map(({ text }) => text)
      .join(" "),
    words: run.to - run.from,
    at: run.at,
    to,
  });
  return [
    ...deleted.map((run) => {
      const to = moved.get(run);
      return change(to === undefined ? "deleted" : "moved", run, old, to?.from ?? null);
    }),
    ...inserted.filter((run) => !taken.has(run)).map((run) => change("inserted", run, written, null)),
  ].sort((a, b) => a.at - b.at);
}

/** The unbroken runs of one move, at the times of the old words. */
function runsOf(
  wanted: "row" | "column",
  moves: readonly Move[],
  heard: readonly SaidWord[],
  said: readonly SaidWord[],
  old: readonly SpokenWord[],
): readonly Run[] {
  const runs: { from: number; to: number; said: string[]; at: number }[] = [];
  let [i, j] = [0, 0];
  let open: (typeof runs)[number] | null = null;
  for (const move of moves) {
    const own = wanted === "row" ? heard[i] : said[j];
    if (move !== wanted || own === undefined) open = null;
    else if (open === null) {
      const timed = old[(wanted === "row" ? heard[i] : heard[i - 1])?.of ?? 0];
      open = { from: own.of, to: own.of + 1, said: [own.said], at: timed?.start ?? 0 };
      runs.push(open);
    } else {
      open.to = own.of + 1;
      open.said.push(own.said);
    }
    if (move !== "column") i++;
    if (move !== "row") j++;
  }
  return runs;
}

/** Whether two passages have most of their rows of three words in common. */
function isSamePassage(one: readonly string[], other: readonly string[]): boolean {
  if (Math.min(one.length, other.length) < LEAST) return false;
  const rowsOf = (words: readonly string[]) =>
    words.slice(2).map((word, n) => [words[n], words[n + 1], word].join(" "));
  const [rows, known] = [rowsOf(other), new Set(rowsOf(one))];
  return rows.filter((row) => known.has(row)).length >= rows.length * SHARE;
}
