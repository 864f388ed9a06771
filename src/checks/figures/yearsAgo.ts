import type { Check } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";
import { type Figure, isYear } from "./line.ts";
import { atomsOf, readNumber } from "./numbers.ts";
import { ROUGH } from "./rate.ts";

/** So many words may stand between a year and what is counted from it. No source. */
const BESIDE = 9;
/** Of whole decades or centuries people say the nearest: to a tenth where it is called rough. Common practice, no source. */
const ROUGHLY = 0.1;
/** Verbs of a second thing that happened: `finished in 2006, and repaired ten years ago`. */
const SECOND =
  /^(?:and|but|or|when|then|set|repaired|closed|bought|until|died|from|to|he|she|they|it|its|fell|celebrated)$/;
const NUMBER_OF_YEARS: readonly (readonly [RegExp, number])[] = [
  [/^half a century ago\b/, 50],
  [/^(?:a|one) century ago\b/, 100],
  [/^two centuries ago\b/, 200],
];
/** Between `ninety years ago` and its year: `in the summer of 1936`. */
const IN =
  /^(?:in|on|the|of|back|early|late|spring|summer|autumn|winter|january|february|march|april|may|june|july|august|september|october|november|december|\d{1,2})$/;
/** An age or an anniversary of a person, or of another day than today. */
const OF_ANOTHER = /^(?:he|she|who|her|his|born|fell|celebrated|said|told|asked|would|will)$/;
const PRESENT = /^(?:is|are|it's|marks|celebrates|turns|today|now|this)$/;

export const yearsAgoNotYear: Check = {
  name: "years-ago-not-year",
  level: "warns",
  group: "figures",
  reason: "In 2026 the year 1926 is a hundred years ago: one of the two was heard or worked out wrong.",
  looks:
    `A year and, beside it in one sentence (within ${BESIDE} words), how long ago that is: “ninety years ago”, “a century ago”, an anniversary or an ` +
    "age that something “is” or “marks”. The year of the broadcast less the year must be that number, or one more (the day is still to " +
    "come); to 10% where it is rough. A second thing that happened between them parts them. English.",
  example: "“built in 1926, ninety years ago” in 2026: a hundred.",
  accept: "The number is counted from another year, and the report says so.",
  judge: (subject) => {
    const aired = Number(subject.date.slice(0, 4));
    // Once for a sentence: a very long one may have a thousand years in it.
    const agos = new Map<Figure["sentence"], Ago | null>();
    const agoIn = (sentence: Figure["sentence"]): Ago | null => {
      const known = agos.get(sentence);
      if (known !== undefined) return known;
      const ago = onlyAgo(sentence.words);
      agos.set(sentence, ago);
      return ago;
    };
    return subject.figures.filter(isPastYear(aired)).flatMap((year) => {
      const since = aired - (year.date?.year ?? year.value);
      const ago = agoIn(year.sentence);
      if (ago === null || !isBeside(ago, year)) return [];
      const off = Math.min(Math.abs(ago.years - since), Math.abs(ago.years - (since - 1)));
      if (off <= (ago.isRough ? Math.max(1, since * ROUGHLY) : 0)) return [];
      const says = `“${quoted(ago.words)}” is not ${year.date?.year ?? year.value}: ${aired} less that is ${since}.`;
      return doubtOf(ago.words, subject, says, "Find out the year, and count again.", year.words);
    });
  },
};

const isPastYear =
  (aired: number) =>
  ({ kind, value, date }: Figure): boolean => {
    const year = kind === "year" ? value : (date?.year ?? null);
    return year !== null && isYear(year) && year < aired;
  };

interface Ago {
  /** Which word of the sentence it begins with. */
  readonly from: number;
  readonly years: number;
  readonly isRough: boolean;
  readonly words: readonly Word[];
}

/** What a sentence counts from its one year; null: it has several years, or counts nothing, or more than one thing. */
function onlyAgo(words: readonly Word[]): Ago | null {
  if (words.filter(({ text }) => /^\d{4}$/.test(text) && isYear(Number(text))).length > 1) return null;
  const [ago, ...others] = words.flatMap((_, n) => agoAt(words, n) ?? []);
  return ago === undefined || others.length > 0 ? null : ago;
}

/** Whether it is counted from this year, by where it stands. */
function isBeside(ago: Ago, { sentence: { words }, at, words: own }: Figure): boolean {
  const isAfter = ago.from > at;
  const between = isAfter ? words.slice(at + own.length, ago.from) : words.slice(ago.from + ago.words.length, at);
  if (between.length > BESIDE || words.slice(at, ago.from).some(({ after }) => /[;.]/.test(after))) return false;
  if (ago.words.at(-1)?.fold !== "ago")
    return words.some(({ fold }) => PRESENT.test(fold)) && !words.some(({ fold }) => OF_ANOTHER.test(fold));
  if (!isAfter) return between.every(({ fold }) => IN.test(fold));
  const isNext =
    words[ago.from - (ago.isRough ? 2 : 1)]?.after === "," ||
    ago.from === at + own.length ||
    words[ago.from - 1]?.after === ",";
  const isThat = own.at(-1)?.after === "," && between.some(({ fold }) => /^(?:that|which)$/.test(fold));
  return (isNext || isThat) && !between.some(({ fold }) => SECOND.test(fold));
}

function agoAt(words: readonly Word[], at: number): Ago | null {
  const isRough = [1, 2].some((n) => ROUGH.test(words[at - n]?.fold ?? ""));
  const said = words
    .slice(at, at + 4)
    .map(({ fold }) => fold)
    .join(" ");
  if (words[at - 1]?.fold === "half") return null;
  for (const [pattern, years] of NUMBER_OF_YEARS) {
    const match = pattern.exec(said);
    if (match !== null) return { from: at, years, isRough, words: words.slice(at, at + match[0].split(" ").length) };
  }
  const first = /^(\d+)(?:st|nd|rd|th)$/.exec(words[at]?.fold ?? "");
  const start = words[at]?.fold === "a" ? at + 1 : at;
  const atoms = atomsOf(words.slice(start, start + 8).map(({ fold }) => fold));
  const read = readNumber(atoms, 0);
  const last = read === null ? undefined : atoms[read.length - 1];
  if (isPartOfOne(words, at) || (read === null && first === null)) return null;
  const to = first !== null || last === undefined ? at + 1 : start + last.word + 1;
  const value = first === null ? (read?.value ?? 0) : Number(first[1]);
  if ((first !== null || read?.ordinal === true) && words[to]?.fold === "anniversary")
    return { from: at, years: value, isRough: false, words: words.slice(at, to + 1) };
  const isYears = /^years?$/.test(words[to]?.fold ?? "") && /^(?:ago|old)$/.test(words[to + 1]?.fold ?? "");
  return isYears && first === null && read?.ordinal === false
    ? { from: at, years: value, isRough, words: words.slice(at, to + 2) }
    : null;
}

/** Whether a word goes on with a number that began before it. */
const isPartOfOne = (words: readonly Word[], at: number): boolean => {
  const before = words.slice(Math.max(0, at - 2), at).map(({ fold }) => fold);
  const joined = before.at(-1) === "and" ? before.at(-2) : before.at(-1);
  return (
    /^(?:half|hundred|thousand|a|\d+|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|one|two|three|four|five|six|seven|eight|nine)$/.test(
      joined ?? "",
    ) &&
    words[at - 1]?.after === "" &&
    words[at]?.fold !== "a"
  );
};
