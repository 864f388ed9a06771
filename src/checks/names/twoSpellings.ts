import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import type { Lexicon } from "../lexicon.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { nameRuns } from "./capitals.ts";
import { likeness, type Sounded, soundedOf } from "./likeness.ts";
import { nearMisses } from "./nearMiss.ts";

/** A name that is not in the register, as it is spelled, with all its places. */
interface Spelling {
  readonly folds: readonly string[];
  readonly sounded: readonly Sounded[];
  readonly places: (readonly Word[])[];
}

/** The least likeness of two spellings of one name; names that the frequency list knows must be nearer. No source. */
const LEAST = { unlisted: 0.84, listed: 0.95 } as const;
/** Shorter words are like too many others. Letters. */
const SHORTEST = 5;
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
    const spellings = spellingsIn(subject);
    return spellings.flatMap((one, n) =>
      spellings
        .slice(n + 1)
        .flatMap((other) => (isOneName(one, other, subject.lexicon) ? clash(one, other, subject) : [])),
    );
  },
};

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
  const missed = new Set(nearMisses(subject).flatMap(({ words }) => words));
  const spellings = new Map<string, Spelling>();
  for (const sentence of spoken.sentences) {
    for (const words of nameRuns(sentence, lexicon)) {
      if (words.every(({ fold }) => known.words.has(fold)) || words.some((word) => missed.has(word))) continue;
      const folds = words.map(({ fold }) => fold);
      const key = folds.join(" ");
      const seen = spellings.get(key);
      if (seen === undefined) spellings.set(key, { folds, sounded: folds.map(soundedOf), places: [words] });
      else seen.places.push(words);
    }
  }
  return [...spellings.values()];
}

function isOneName(one: Spelling, other: Spelling, lexicon: Lexicon): boolean {
  if (one.folds.length !== other.folds.length) return false;
  return one.folds.every((fold, n) => {
    const against = other.folds[n] ?? "";
    if (fold === against) return true;
    const [a, b] = [one.sounded[n], other.sounded[n]];
    if (a === undefined || b === undefined || isForm(a.letters, b.letters)) return false;
    if (Math.min(a.letters.length, b.letters.length) < SHORTEST) return false;
    const listed = [fold, against].every((word) => lexicon.proper(word) + lexicon.ordinary(word) > 0);
    return likeness(a, b) >= (listed ? LEAST.listed : LEAST.unlisted);
  });
}

/** Whether one word is the other with an ending, or both are one stem with two. */
function isForm(a: string, b: string): boolean {
  if (a === b) return true;
  let stem = 0;
  while (stem < a.length && a[stem] === b[stem]) stem += 1;
  return stem >= 4 && ENDINGS.test(a.slice(stem)) && ENDINGS.test(b.slice(stem));
}
