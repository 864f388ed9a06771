import type { Random } from "../../support/random.ts";

/** Spellings of one sound, as English has them. */
const SOUNDS: readonly (readonly [string, string])[] = [
  ["ai", "ay"],
  ["ay", "ai"],
  ["ea", "ee"],
  ["ee", "ea"],
  ["ie", "y"],
  ["y", "ie"],
  ["i", "y"],
  ["ou", "u"],
  ["er", "or"],
  ["or", "er"],
  ["ar", "er"],
  ["c", "k"],
  ["k", "ck"],
  ["ck", "k"],
  ["ph", "f"],
  ["f", "ph"],
  ["s", "z"],
  ["ll", "l"],
  ["l", "ll"],
  ["nn", "n"],
  ["n", "nn"],
  ["rr", "r"],
  ["r", "rr"],
  ["tt", "t"],
  ["t", "tt"],
  ["ss", "s"],
  ["o", "oh"],
  ["ne", "yn"],
  ["qu", "kw"],
  ["wh", "w"],
  ["gh", ""],
  ["e", "a"],
  ["a", "e"],
  ["o", "a"],
  ["u", "o"],
  ["ow", "au"],
  ["sh", "ch"],
  ["v", "f"],
  ["d", "t"],
  ["b", "p"],
];

/** A word spelled another way that sounds nearly the same; itself where it has nothing to change. */
export function bySound(word: string, random: Random): string {
  const fitting = SOUNDS.filter(([from]) => word.toLowerCase().includes(from));
  if (fitting.length === 0) return word;
  const [from, to] = random.pick(fitting);
  const at = word.toLowerCase().lastIndexOf(from);
  return capital(word.slice(0, at) + to + word.slice(at + from.length));
}

/** A slip of the fingers: a letter left out, doubled, changed for a neighbour, or two letters swapped. */
export function bySpelling(word: string, random: Random): string {
  const at = random.whole(1, word.length - 2);
  const [before, own, after] = [word.slice(0, at), word.charAt(at), word.slice(at + 1)];
  const slips = [
    before + after,
    before + own + own + after,
    before + random.pick([..."aeiourstln"]) + after,
    before + after.charAt(0) + own + after.slice(1),
  ];
  return capital(random.pick(slips));
}

const capital = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1);

/** A name with one or two changes to its words. */
export function mutated(name: string, random: Random): string {
  for (;;) {
    const words = name.split(" ");
    const long = words.flatMap((word, n) => (word.length >= 4 ? [n] : []));
    const changes = random.whole(1, 2);
    for (let n = 0; n < changes; n++) {
      const at = random.pick(long);
      const word = words[at] ?? "";
      words[at] = random.chance(0.6) ? bySound(word, random) : bySpelling(word, random);
    }
    const changed = words.join(" ");
    if (changed !== name) return changed;
  }
}

const ONSETS = [
  "b",
  "br",
  "c",
  "d",
  "dr",
  "f",
  "g",
  "gr",
  "h",
  "j",
  "k",
  "l",
  "m",
  "n",
  "p",
  "pr",
  "r",
  "s",
  "st",
  "t",
  "tr",
  "v",
  "w",
  "th",
];
const VOWELS = ["a", "e", "i", "o", "u", "ai", "ea", "ou", "oo"];
const CODAS = ["n", "r", "l", "s", "t", "d", "m", "rn", "ll", "nd", "ck", "sk", "th", "rd", "st"];
const ENDS = ["er", "on", "ick", "en", "ey", "all", "ard", "ish", "ow", "ard", "ock", "ell"];

/** A word that nobody is called: two or three syllables. */
export function invented(random: Random): string {
  const syllable = () => random.pick(ONSETS) + random.pick(VOWELS) + random.pick(CODAS);
  return capital(syllable() + (random.chance(0.5) ? syllable() : "") + random.pick(ENDS));
}
