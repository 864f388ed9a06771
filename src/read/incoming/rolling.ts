import type { RawBlock } from "../../model/spoken.ts";

/** Cues further apart than this don't roll: the second begins anew. Milliseconds. Common practice, no source. */
const APART = 1000;
/** So many cues must go on from the ones before them, and such a share, for a file to be taken for rolling captions. */
const [LEAST, SHARE] = [3, 0.2] as const;

/**
 * Captions that roll: each repeats the last line of the one before, or builds up word by word. What is repeated is taken
 * out, so that every word stands once, where it was first seen. A file is taken for such only where cue after cue goes on
 * with new words; a cue that only says again what the last one said is no sign, because people do.
 * @returns how many cues were joined with those before them.
 */
export function unrolled(rawBlocks: readonly RawBlock[]): {
  readonly rawBlocks: readonly RawBlock[];
  readonly joined: number;
} {
  const seen = rawBlocks.map(({ text }) => text.split("\n").map((line) => line.split(" ")));
  const again = rawBlocks.map((block, n) => {
    const before = rawBlocks[n - 1];
    return before !== undefined && goesOn(before, block) ? repeated(seen[n - 1] ?? [], (seen[n] ?? []).flat()) : 0;
  });
  const grown = again.filter((words, n) => words > 0 && words < (seen[n] ?? []).flat().length).length;
  if (grown < LEAST || grown < (rawBlocks.length - 1) * SHARE) return { rawBlocks, joined: 0 };
  const kept = rawBlocks.flatMap((block, n): RawBlock[] => {
    const text = withoutFirst(seen[n] ?? [], again[n] ?? 0);
    return text === "" ? [] : [{ ...block, text }];
  });
  return { rawBlocks: kept, joined: again.filter((words) => words > 0).length };
}

const goesOn = (before: RawBlock, block: RawBlock): boolean =>
  before.start !== null &&
  block.start !== null &&
  before.voice === block.voice &&
  block.start >= before.start &&
  block.start - (before.end ?? before.start) <= APART;

/** How many words at the beginning of `now` are the last lines of what was seen before, whole from a line's beginning. */
function repeated(before: readonly (readonly string[])[], now: readonly string[]): number {
  for (let from = 0; from < before.length; from++) {
    const lines = before.slice(from).flat();
    if (lines.length <= now.length && lines.every((word, n) => word === now[n])) return lines.length;
  }
  return 0;
}

function withoutFirst(lines: readonly (readonly string[])[], words: number): string {
  let left = words;
  const kept = lines.map((line) => {
    const rest = line.slice(left);
    left = Math.max(0, left - line.length);
    return rest.join(" ");
  });
  return kept.filter((line) => line !== "").join("\n");
}
