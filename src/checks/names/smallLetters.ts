import { grouped } from "../../model/grouped.ts";
import type { Check } from "../check.ts";
import { doubtMendedBy, manyAsOne } from "../doubts.ts";
import { quoted, type Word, withoutPossessive } from "../speech.ts";
import type { Subject } from "../subject.ts";
import type { KnownName } from "./known.ts";

/** A registered name that stands in the transcript in other capitals. */
export interface SmallName {
  readonly words: readonly Word[];
  readonly meant: string;
}

export const nameSmallLetters: Check = {
  name: "name-small-letters",
  level: "warns",
  group: "names",
  reason: "A raw transcript has no capitals; a name without them reads as a slip in every place that quotes it.",
  looks:
    "Words that are a registered name but for their capitals; names that are ordinary words alone are left out " +
    "by a frequency list. In a transcript with many, one finding speaks for all.",
  example: "“sollen district court”.",
  accept: "Nothing is gained by accepting it: `check --fix names` writes the capitals.",
  judge: (subject) => {
    const found = smallNames(subject);
    const doubts = found.flatMap(({ words, meant }) =>
      doubtMendedBy(
        meant,
        words,
        subject,
        `“${quoted(words)}” is ${meant} in the register.`,
        `Write ${meant}; \`check --fix names\` does it.`,
      ),
    );
    return manyAsOne(doubts, subject.spoken.words.length, "words begin a registered name in other letters", subject);
  },
};

/** An ordinary word: `second wind` is no vessel unless the transcript says so. Times in the list's 51 million words. */
const ORDINARY = 50;

/**
 * Every such place, longest names first where they overlap, in the order of the words. Names of ordinary words alone are
 * left out, but for the programme's own.
 */
export function smallNames({ spoken, known, lexicon, programme, nearMisses }: Subject): readonly SmallName[] {
  // `ron sollen`, where the register has that as a misspelling of somebody: no Sollen is meant.
  const misspelt = new Set(nearMisses().flatMap(({ by, words }) => (by === "register" ? words : [])));
  const isTold = ({ folds, entry }: KnownName) =>
    entry.name === programme.title || folds.some((fold) => lexicon.ordinary(fold) < ORDINARY);
  const single = [...known.single.values()].filter(({ entry }) => !entry.name.includes(" "));
  const names = [...known.names.filter((name) => name.folds.length > 1 && isTold(name)), ...single];
  const byFolds = new Map<string, KnownName>();
  for (const name of names) byFolds.set(name.folds.join(" "), byFolds.get(name.folds.join(" ")) ?? name);
  const lengths = new Map<string, readonly number[]>();
  for (const [first, own] of grouped(names, ({ folds }) => folds[0] ?? ""))
    lengths.set(
      first,
      [...new Set(own.map(({ folds }) => folds.length))].sort((a, b) => b - a),
    );
  const found: SmallName[] = [];
  for (let at = 0; at < spoken.words.length; ) {
    const here = nameAt(spoken.words, at, lengths.get(spoken.words[at]?.fold ?? "") ?? [], byFolds);
    const words = spoken.words.slice(at, at + (here?.folds.length ?? 1));
    if (here !== null && !isSpelled(words, here.entry.name) && !words.some((word) => misspelt.has(word)))
      found.push({ words, meant: here.entry.name });
    at += words.length;
  }
  return found;
}

/** The longest name that stands from a word on, without punctuation inside. `lengths`: those that it may have, longest first. */
function nameAt(
  words: readonly Word[],
  at: number,
  lengths: readonly number[],
  byFolds: ReadonlyMap<string, KnownName>,
): KnownName | null {
  for (const length of lengths) {
    const window = words.slice(at, at + length);
    if (window.slice(0, -1).some(({ after }) => after !== "")) continue;
    const name = byFolds.get(window.map(({ fold }) => fold).join(" "));
    if (name !== undefined && name.folds.length === length) return name;
  }
  return null;
}

/** Whether the words have the name's capitals; an article may be small. */
function isSpelled(words: readonly Word[], name: string): boolean {
  const spelled = name.split(" ");
  return words.every(({ text }, n) => {
    const own = spelled[n] ?? "";
    const letters = withoutPossessive(text);
    return (
      letters.startsWith(own) ||
      own.startsWith(letters) ||
      (n === 0 && /^the$/i.test(own)) ||
      /^\p{Lu}[\p{Lu}’'-]+$/u.test(letters)
    );
  });
}
