import { grouped } from "../../model/grouped.ts";
import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import type { Lexicon } from "../lexicon.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { nameRuns } from "./capitals.ts";
import { likenessFrom, type Sounded, soundedOf } from "./likeness.ts";

/** A name that is not in the register, as it is spelled, with all its places. */
interface Spelling {
  readonly words: readonly SpelledWord[];
  readonly places: (readonly Word[])[];
}

interface SpelledWord extends Sounded {
  readonly fold: string;
  /** Whether the frequency list knows it. */
  readonly isListed: boolean;
}

/** The least likeness of two spellings of one name; names that the frequency list knows must be nearer. No source. */
const LEAST = { unlisted: 0.84, listed: 0.95 } as const;
/** Shorter words are like too many others. Letters. */
const SHORTEST = 5;
/** Longer ones are no names, and take long to compare. Letters. */
const LONGEST = 60;
/** What makes another word of the same name: `Verrin`, `Verriners`; `Sollen`, `Sollenish`. */
const ENDINGS = /^(?:s|es|n|an|ans|ian|ians|er|ers|ese|ish|i|is|ic|ist|ists|ism|man|men|al|ally|y|ly)?$/;

export const nameTwoSpellings: Check = {
  name: "name-two-spellings",
  level: "warns",
  group: "names",
  reason: "One of two spellings of a name is wrong, and nobody who reads only one place can see it.",
  looks:
    "Names with a capital that are not in the register, of the same number of words, whose differing words are alike in letters " +
    "and sound. Two names that a frequency list knows must be almost the same; plurals and forms such as -ish don't count.",
  example: "“Tovar Quenby” at 1:02 and “Tovar Quenbie” at 3:40.",
  accept: "They are two people, or two places.",
  judge: (subject) => {
    const { told, left } = clashesIn(spellingsIn(subject));
    return [
      ...told.slice(0, MOST_TOLD).flatMap(({ one, other }) => clash(one, other, subject)),
      ...limitOf(told[MOST_TOLD]?.one ?? null, left, subject),
    ];
  },
};

/** Says what is left out: pairs from `more` on, or comparisons of `left`. */
function limitOf(more: Spelling | null, left: Spelling | null, subject: Subject): readonly Doubt[] {
  const words = (more ?? left)?.places[0] ?? [];
  const says =
    more === null
      ? `More than ${COMPARED_WITH} names that are not in the register follow “${quoted(words)}”: it was not compared with all.`
      : `From “${quoted(words)}” on more names are spelled two ways than the ${MOST_TOLD} that are told.`;
  const mend = "Enter the names that are right in the register: every name is compared with those.";
  return doubtOf(words, subject, says, mend);
}

/** So many pairs are told; past them one doubt says that there are more, for nobody reads on. No source. */
const MOST_TOLD = 100;
/**
 * A name is compared with so many of as many words that come after it: all with all would take ten thousand times as long
 * for a hundred times as many. Half an hour of news has some fifty.
 */
const COMPARED_WITH = 1000;

interface Clash {
  readonly one: Spelling;
  readonly other: Spelling;
}

/** Pairs in their order, one more than are told; and the first name that was not compared with all others, if any. */
function clashesIn(spellings: readonly Spelling[]): {
  readonly told: readonly Clash[];
  readonly left: Spelling | null;
} {
  const told: (Clash & { readonly index: number })[] = [];
  let left: Spelling | null = null;
  const index = new Map(spellings.map((one, n) => [one, n]));
  for (const same of grouped(spellings, ({ words }) => words.length).values()) {
    for (const [n, one] of same.entries()) {
      if (same.length - n - 1 > COMPARED_WITH) left ??= one;
      for (let m = n + 1; m <= n + COMPARED_WITH && m < same.length; m++) {
        const other = same[m];
        if (other !== undefined && isOneName(one, other)) told.push({ one, other, index: index.get(one) ?? 0 });
      }
      if (told.length > MOST_TOLD) break;
    }
  }
  return { told: told.sort((a, b) => a.index - b.index), left };
}

function clash(one: Spelling, other: Spelling, subject: Subject): readonly Doubt[] {
  const [fewer, more] = other.places.length <= one.places.length ? [other, one] : [one, other];
  const [words, usual] = [fewer.places[0] ?? [], more.places[0] ?? []];
  const says = `“${quoted(words)}” here, “${quoted(usual)}” ${atTime(usual[0]?.seconds ?? 0)}: probably one name spelled two ways.`;
  return doubtOf(
    words,
    subject,
    says,
    "Find out which is right, write it in both places, and enter it in the register.",
    usual,
  );
}

/** What is a near miss of a registered name is told of there. */
function spellingsIn(subject: Subject): readonly Spelling[] {
  const { spoken, known, lexicon } = subject;
  const missed = new Set(subject.nearMisses().flatMap(({ words }) => words));
  const spellings = new Map<string, Spelling>();
  for (const sentence of spoken.sentences) {
    for (const words of nameRuns(sentence, lexicon)) {
      if (words.every(({ fold }) => known.words.has(fold)) || words.some((word) => missed.has(word))) continue;
      const key = words.map(({ fold }) => fold).join(" ");
      const seen = spellings.get(key);
      if (seen !== undefined) seen.places.push(words);
      else spellings.set(key, { words: words.map(({ fold }) => spelled(fold, lexicon)), places: [words] });
    }
  }
  return [...spellings.values()];
}

const spelled = (fold: string, lexicon: Lexicon): SpelledWord => ({
  ...soundedOf(fold),
  fold,
  isListed: lexicon.proper(fold) + lexicon.ordinary(fold) > 0,
});

function isOneName(one: Spelling, other: Spelling): boolean {
  for (let n = 0; n < one.words.length; n++) {
    const [a, b] = [one.words[n], other.words[n]];
    if (a === undefined || b === undefined) return false;
    if (a.fold === b.fold) continue;
    const [short, long] = [Math.min(a.letters.length, b.letters.length), Math.max(a.letters.length, b.letters.length)];
    if (short < SHORTEST || long > LONGEST) return false;
    if (likenessFrom(a.isListed && b.isListed ? LEAST.listed : LEAST.unlisted, a, b) === null) return false;
    if (isForm(a.letters, b.letters)) return false;
  }
  return true;
}

/** Whether one word is the other with an ending, or both are one stem with two. */
function isForm(a: string, b: string): boolean {
  if (a === b) return true;
  let stem = 0;
  while (stem < a.length && a[stem] === b[stem]) stem += 1;
  return stem >= 4 && ENDINGS.test(a.slice(stem)) && ENDINGS.test(b.slice(stem));
}
