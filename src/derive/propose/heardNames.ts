import { firstWhere } from "../../model/firstWhere.ts";
import type { MisheardName } from "../../model/misheardNames.ts";
import type { SpokenWord } from "../../model/spoken.ts";
import { nameWord } from "../captioning/stops.ts";
import { type Echo, echoOf } from "./echoes.ts";
import type { HeardName } from "./recording.ts";

/**
 * What is told to somebody as a mishearing: how well the sound fits the name, above the least, and how like it the written words
 * are make so much together, for it is in both. Chosen on the demo's three broadcasts and a bulletin; no source.
 */
const TOGETHER = 1;
/** Words that are less like the name than this, or are so many more, only stand about there. No source. */
const [LEAST_LIKE, MORE_WORDS] = [0.2, 2] as const;
/** A name that stands so many words beside where it is heard is the same one. */
const AROUND = 1;

interface HeardThere extends Echo {
  readonly fit: number;
}

/** The words that stand where names are heard, whatever they are. */
function heardAt(words: readonly SpokenWord[], names: readonly HeardName[]): readonly HeardThere[] {
  const middle = (n: number): number => ((words[n]?.start ?? 0) + (words[n]?.end ?? 0)) / 2;
  return names.flatMap(({ name, start, end, fit }) => {
    const from = firstWhere(words.length, (n) => middle(n) >= start);
    const to = firstWhere(words.length, (n) => middle(n) >= end);
    return to <= from ? [] : [{ name, from, to, fit, likeness: echoOf(words.slice(from, to), name) }];
  });
}

/** Where names sound through the words, and where they are heard: what is heard stands before what is only like it. */
export function withHeardNames(
  echoes: readonly Echo[],
  words: readonly SpokenWord[],
  names: readonly HeardName[],
): readonly Echo[] {
  const heard = heardAt(words, names).map(({ name, from, to }) => ({ name, from, to, likeness: 1 }));
  const others = echoes.filter(({ from, to }) => heard.every((one) => to <= one.from || from >= one.to));
  return [...heard, ...others].sort((a, b) => a.from - b.from);
}

/** The names that are heard where other words stand, not even the last name among them. */
export function misheardNames(words: readonly SpokenWord[], names: readonly HeardName[]): readonly MisheardName[] {
  return heardAt(words, names).flatMap(({ name, from, to, fit, likeness }) => {
    const parts = name.split(/\s+/);
    if (fit + likeness < TOGETHER || likeness < LEAST_LIKE || to - from > parts.length + MORE_WORDS) return [];
    const last = nameWord(parts.at(-1) ?? "");
    const around = words.slice(Math.max(0, from - AROUND), to + AROUND);
    if (around.some(({ text }) => nameWord(text) === last)) return [];
    const there = words.slice(from, to);
    return [{ at: Math.round(there[0]?.start ?? 0), name, words: there.map(({ text }) => text).join(" ") }];
  });
}
