import type { SpokenWord } from "../../model/spoken.ts";
import type { Span } from "../captioning/lending.ts";
import type { Echo } from "./echoes.ts";
import { type HeardName, piecesOf, type Recording } from "./recording.ts";

/** So many sentences before a voice is first heard somebody introduces it, and after it was last heard thanks it. Common practice, no source. */
const [BEFORE, AFTER] = [2, 1] as const;
/** Words begin and end a little outside the times that are known of them: milliseconds. */
const EDGE = 150;

/** Where the name of a voice may be said: before its first words and after its last. Milliseconds, in their order, apart. */
export function introductionsIn(words: readonly SpokenWord[], recording: Recording): readonly Span[] {
  const spans = piecesOf(words, recording).map(({ from, to }) => ({
    start: words[from]?.start ?? 0,
    end: words[to - 1]?.end ?? 0,
  }));
  const { of } = recording.tellApart(spans);
  const wanted = new Set<number>();
  for (const voice of new Set(of)) {
    if (voice === null) continue;
    const [first, last] = [of.indexOf(voice), of.lastIndexOf(voice)];
    for (let n = first - BEFORE; n < first; n++) wanted.add(n);
    for (let n = last + 1; n <= last + AFTER; n++) wanted.add(n);
  }
  const stretches: { start: number; end: number }[] = [];
  spans.forEach(({ start, end }, n) => {
    if (!wanted.has(n)) return;
    const before = stretches.at(-1);
    if (before !== undefined && wanted.has(n - 1)) before.end = end + EDGE;
    else stretches.push({ start: Math.max(0, start - EDGE, before?.end ?? 0), end: end + EDGE });
  });
  return stretches;
}

/** Where names sound through the words, and where they are heard: what is heard stands before what is only like it. */
export function withHeardNames(
  echoes: readonly Echo[],
  words: readonly SpokenWord[],
  names: readonly HeardName[],
): readonly Echo[] {
  const heard = names.flatMap(({ name, start, end }): readonly Echo[] => {
    const isIn = (word: SpokenWord) => (word.start + word.end) / 2 >= start && (word.start + word.end) / 2 < end;
    const from = words.findIndex(isIn);
    return from < 0 ? [] : [{ name, from, to: words.findLastIndex(isIn) + 1, likeness: 1 }];
  });
  const others = echoes.filter(({ from, to }) => heard.every((one) => to <= one.from || from >= one.to));
  return [...heard, ...others].sort((a, b) => a.from - b.from);
}
