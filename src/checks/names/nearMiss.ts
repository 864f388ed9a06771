import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { isCapital, isNameLike, TITLES } from "./capitals.ts";
import type { KnownName } from "./known.ts";
import { likeness, soundedOf, soundLikeness } from "./likeness.ts";

/** Words that stand where a registered name is probably meant. */
export interface NearMiss {
  readonly words: readonly Word[];
  readonly name: KnownName;
  /** What the words would become: the name, or the one word of it that is meant. */
  readonly meant: string;
  /** From 0 to 1. */
  readonly score: number;
  /** Why: `like` it as a whole, or another first name before the `surname`. */
  readonly by: "like" | "surname";
}

/** The least likeness; set on mutated names and on speeches without any, no source. */
const LEAST = { whole: 0.74, small: 0.86, single: 0.86 } as const;
/** Lengths further apart are no misspelling. Letters. */
const APART = 4;
/** A single short word is like too many others. Letters. */
const SHORTEST = 5;

export const nameNearMiss: Check = {
  name: "name-near-miss",
  level: "warns",
  group: "names",
  reason:
    "A name spelled wrong is the error that the person concerned always sees, and it hides them from every search.",
  looks:
    "Words with a capital, up to one more than the registered name has, that are like it in letters (Jaro–Winkler, Levenshtein) " +
    "and sound (Double Metaphone) without being it; and a person's surname after another first name. Common words at the " +
    "beginning of a sentence are left out by a frequency list of spoken English.",
  example: "“Elsa Moraine” where the register has Ilse Marrane.",
  accept: "The words name somebody else, who is not in the register. Better still: enter them.",
  judge: (subject) =>
    nearMisses(subject).flatMap(({ words, name, meant, by }): readonly Doubt[] => {
      if (by === "surname") {
        const surname = name.entry.name.split(" ").at(-1) ?? "";
        const says = `“${quoted(words)}”: the only ${surname} in the register is ${name.entry.name}.`;
        return doubtOf(
          words,
          subject,
          says,
          "Listen again. If it was said so on air, let the words stand and write an on-air correction.",
        );
      }
      const says = `“${quoted(words)}” is spelled like nobody in the register, and is near to ${meant}.`;
      return doubtOf(
        words,
        subject,
        says,
        `Write ${meant}, or enter the other name in the register. \`check --fix names\` can do the first.`,
      );
    }),
};

/** All near misses of an episode: the best reading of every place, in their order. */
export function nearMisses(subject: Subject): readonly NearMiss[] {
  return subject.spoken.sentences.flatMap((sentence) => missesIn(sentence, subject));
}

function missesIn(sentence: Sentence, subject: Subject): NearMiss[] {
  const { known, lexicon } = subject;
  const { words } = sentence;
  const unknown = words.map(
    ({ fold }, at) =>
      !known.words.has(fold) && !known.words.has(fold.replace(/s$/, "")) && isNameLike(sentence, at, lexicon),
  );
  const found = unknown.flatMap((is, at) => (is ? missesAround(words, at, unknown, subject) : []));
  found.sort((a, b) => worthOf(b) - worthOf(a));
  const taken = new Set<Word>();
  const best = found.filter((miss) => {
    if (miss.words.some((word) => taken.has(word))) return false;
    for (const word of miss.words) taken.add(word);
    return true;
  });
  return best.sort((a, b) => (a.words[0]?.seconds ?? 0) - (b.words[0]?.seconds ?? 0));
}

/** A name of several words says more than one of its words by itself. */
const worthOf = ({ score, words }: NearMiss): number => score + (words.length > 1 ? 1 : 0);

/** Readings of the words around an unknown name-like one. */
function missesAround(words: readonly Word[], at: number, unknown: readonly boolean[], { known }: Subject): NearMiss[] {
  const longest = Math.max(1, ...known.names.map(({ folds }) => folds.length)) + 1;
  const found: NearMiss[] = [];
  for (let from = Math.max(0, at - longest + 1); from <= at; from++) {
    for (let to = at + 1; to <= Math.min(words.length, from + longest); to++) {
      const window = words.slice(from, to);
      if (window.slice(0, -1).some(({ after }) => after !== "")) continue;
      if (unknown.slice(from, at).includes(true)) continue;
      found.push(...readingsOf(window, known.names, known.single));
    }
  }
  return found;
}

function readingsOf(
  window: readonly Word[],
  names: readonly KnownName[],
  single: ReadonlyMap<string, KnownName>,
): NearMiss[] {
  const [first] = window;
  const last = window.at(-1);
  if (first === undefined || last === undefined || TITLES.has(first.fold)) return [];
  const sounded = soundedOf(window.map(({ fold }) => fold).join(""));
  const large = window.every(isCapital);
  const found: NearMiss[] = [];
  const put = (name: KnownName, meant: string, least: number) => {
    if (Math.abs(name.sounded.letters.length - sounded.letters.length) > APART) return;
    const score = likeness(sounded, name.sounded);
    if (score >= least && score < 1) found.push({ words: window, name, meant, score, by: "like" });
  };
  for (const name of names) {
    if (name.folds.length < 2 || Math.abs(name.folds.length - window.length) > 1) continue;
    const surname = surnameMiss(window, name);
    if (surname !== null) found.push(surname);
    else if (window.length > 1 && !sharesAllBut(window, name))
      put(name, name.entry.name, large ? LEAST.whole : LEAST.small);
  }
  if (window.length > 1 || sounded.letters.length < SHORTEST || !large) return found;
  for (const [fold, name] of single) {
    const meant = name.entry.name.split(" ").find((word) => word.toLowerCase() === fold) ?? name.entry.name;
    if (fold.length >= SHORTEST) put(name, meant, LEAST.single);
  }
  return found;
}

/** `Port Sollen` beside Port Wennick, `Verrin Bank` beside Verrin Line: a word in common and no likeness in the other. */
function sharesAllBut(window: readonly Word[], { folds }: KnownName): boolean {
  if (folds.length !== window.length) return false;
  const other = window.flatMap(({ fold }, n) => (fold === folds[n] ? [] : [[fold, folds[n] ?? ""] as const]));
  const [only, second] = other;
  if (only === undefined || second !== undefined) return false;
  return (soundLikeness(soundedOf(only[0]), soundedOf(only[1])) ?? 0) < 0.6;
}

/** A registered person's surname, right, after a first name that is not theirs. */
function surnameMiss(window: readonly Word[], name: KnownName): NearMiss | null {
  const [first, last, third] = window;
  const [own, surname] = name.folds;
  if (name.entry.kind !== "person" || name.folds.length !== 2 || third !== undefined) return null;
  if (first === undefined || last === undefined || last.fold !== surname || first.fold === own || !isCapital(last))
    return null;
  const score = likeness(soundedOf(first.fold), soundedOf(own ?? ""));
  return score >= LEAST.whole ? null : { words: window, name, meant: name.entry.name, score: 0.75, by: "surname" };
}
