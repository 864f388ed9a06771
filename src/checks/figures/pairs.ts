import type { Segment } from "../../model/episode.ts";
import { firstWhere } from "../../model/firstWhere.ts";
import type { Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** Words of a sentence that are compared with others. */
export interface InSentence {
  readonly sentence: Sentence;
  readonly words: readonly Word[];
}

/** Segments that speak of what others report. */
const ANNOUNCES = new Set(["headlines", "close"]);

/**
 * With so many later ones in its segment, and so many in those that announce it or that it announces, each is compared:
 * all of them with all would take ten thousand times as long for a hundred times as many. No segment of a broadcast that
 * we know has half as many figures of one thing; what has more is told of.
 */
export const COMPARED_WITH = 200;

/** So many differences of one thing are told; past them one says that there are more, for nobody reads on. No source. */
export const MOST_TOLD = 100;

/** What both limits mean for who reads of a check. */
export const LIMITS = `Each is compared with the ${COMPARED_WITH} that follow it; of one thing ${MOST_TOLD} differences are told.`;

/** Says where a thing has more differences than are told. */
export function moreTold({ words }: InSentence, subject: Subject): readonly Doubt[] {
  const says = `There are more differences of this kind from “${quoted(words)}” on than the ${MOST_TOLD} that are told.`;
  return doubtOf(words, subject, says, sheet(subject));
}

/** Says where more follow a thing than it was compared with. */
export function notCompared({ words }: InSentence, subject: Subject): readonly Doubt[] {
  const says = `More than ${COMPARED_WITH} of the same kind follow “${quoted(words)}”: it was not compared with all of them.`;
  return doubtOf(words, subject, says, sheet(subject));
}

const sheet = ({ episode }: Subject): string => `Go through \`afterair check --figures ${episode.id}\`.`;

/** Which segments announce others, by slug. */
export const announcing = (segments: readonly Segment[]): ReadonlySet<string> =>
  new Set(segments.flatMap(({ slug, kind }) => (ANNOUNCES.has(kind) ? [slug] : [])));

/**
 * Calls `compare` for every two that may speak of one thing: in one segment, or in one that announces and one that does
 * not; in their order, until it returns false.
 * @returns the first that was not compared with all of them; null where every one was.
 */
export function comparePairs<T extends InSentence>(
  things: readonly T[],
  announces: ReadonlySet<string>,
  compare: (first: T, second: T) => boolean,
): T | null {
  const [own, across] = [new Map<string, number[]>(), new Map<boolean, number[]>()];
  const sideOf = ({ sentence }: T): boolean => announces.has(sentence.segment ?? "");
  for (const [n, thing] of things.entries()) {
    const { segment } = thing.sentence;
    if (segment === null) continue;
    own.set(segment, own.get(segment) ?? []);
    own.get(segment)?.push(n);
    across.set(sideOf(thing), across.get(sideOf(thing)) ?? []);
    across.get(sideOf(thing))?.push(n);
  }
  let left: T | null = null;
  for (const [n, first] of things.entries()) {
    const { segment } = first.sentence;
    if (segment === null) continue;
    const lists = [own.get(segment) ?? [], across.get(!sideOf(first)) ?? []].map((list) => after(list, n));
    if (lists.some(({ length }) => length > COMPARED_WITH)) left ??= first;
    const seconds = lists.flatMap((list) => list.slice(0, COMPARED_WITH)).sort((a, b) => a - b);
    for (const m of seconds) {
      const second = things[m];
      if (second !== undefined && !compare(first, second)) return left;
    }
  }
  return left;
}

/** Of numbers that rise, those over `n`, and no more of them than are needed. */
function after(list: readonly number[], n: number): readonly number[] {
  const from = firstWhere(list.length, (place) => (list[place] ?? 0) > n);
  return list.slice(from, from + COMPARED_WITH + 1);
}
