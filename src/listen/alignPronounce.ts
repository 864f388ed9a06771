import { dictionary } from "cmu-pronouncing-dictionary";
import { spellOut } from "./alignSpell.ts";

/** A word's phones, in the alphabet of the CMU dictionary without stress: `["S", "IY"]`. */
export type Pronunciation = readonly string[];

/** More ways to say one word are not tried. Common practice, no source. */
const MOST = 4;

/**
 * How a word may be said: as the CMU pronouncing dictionary has it; else from its parts (an ending, or two words written
 * as one); else by rules from its letters. Never empty for a word with a letter. @param word small letters and apostrophes.
 */
export function pronounce(word: string): readonly Pronunciation[] {
  const bare = word.normalize("NFD").replace(/\p{M}/gu, "");
  const known = inDictionary(bare);
  if (known.length > 0) return known;
  const parts = byEnding(bare) ?? byTwoWords(bare) ?? byLastWord(bare);
  const spelled = spellOut(bare);
  return [...(parts === null ? [] : [parts]), ...(spelled.length === 0 ? [] : [spelled])];
}

/** A word's entries: `a`, `a(2)` and so on. */
function inDictionary(word: string): readonly Pronunciation[] {
  return [word, ...Array.from({ length: MOST - 1 }, (_, n) => `${word}(${n + 2})`)].flatMap((key) => {
    const own = Object.hasOwn(dictionary, key) ? dictionary[key] : undefined;
    return own === undefined
      ? []
      : [
          own
            .replace(/ *#.*$/, "")
            .replace(/\d/g, "")
            .split(" "),
        ];
  });
}

/** Endings, and how they are said after a phone without voice, after a hiss, and otherwise. */
const VOICELESS = new Set(["P", "T", "K", "F", "TH"]);
const HISSES = new Set(["S", "Z", "SH", "ZH", "CH", "JH"]);
const ENDINGS: readonly (readonly [RegExp, (last: string) => Pronunciation])[] = [
  [/'?s$/, (last) => (HISSES.has(last) ? ["IH", "Z"] : [VOICELESS.has(last) ? "S" : "Z"])],
  [/s'$/, (last) => (HISSES.has(last) ? ["IH", "Z"] : [VOICELESS.has(last) ? "S" : "Z"])],
  [/e?d$/, (last) => (last === "T" || last === "D" ? ["IH", "D"] : [VOICELESS.has(last) ? "T" : "D"])],
  [/ing$/, () => ["IH", "NG"]],
  [/'ll$/, () => ["L"]],
  [/'ve$/, () => ["V"]],
];

function byEnding(word: string): Pronunciation | null {
  for (const [ending, said] of ENDINGS) {
    if (!ending.test(word)) continue;
    const stem = word.replace(ending, "");
    const [own] = [stem, `${stem}e`].flatMap((one) => (one.length < 3 ? [] : inDictionary(one)));
    if (own !== undefined) return [...own, ...said(own.at(-1) ?? "")];
  }
  return null;
}

/** Parts of a word written as one are at least this long. */
const PART = 3;

/** Two words of the dictionary that were written as one: the two most alike in length. */
function byTwoWords(word: string): Pronunciation | null {
  const splits = Array.from({ length: Math.max(0, word.length - 2 * PART + 1) }, (_, n) => n + PART);
  const found = splits
    .sort((a, b) => Math.abs(a - word.length / 2) - Math.abs(b - word.length / 2))
    .flatMap((at) => {
      const [one, other] = [inDictionary(word.slice(0, at))[0], inDictionary(word.slice(at))[0]];
      return one === undefined || other === undefined
        ? []
        : [[...one, ...other].filter((phone, n, all) => phone !== all[n - 1])];
    });
  return found[0] ?? null;
}

/** Such a part at a word's end is said as by itself; shorter ones stand in many words by chance. */
const LAST_PART = 5;

/** A word of the dictionary at the end, as in a web address: the longest one; what is before it is said by its letters. */
function byLastWord(word: string): Pronunciation | null {
  for (let at = PART; at <= word.length - LAST_PART; at++) {
    const [last] = inDictionary(word.slice(at));
    const first = spellOut(word.slice(0, at));
    if (last !== undefined && first.length > 0) return [...first, ...last];
  }
  return null;
}
