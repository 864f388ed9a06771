import { MISSPELT_MARK } from "../model/searchMarks.ts";
import type { WordsFile } from "../search/words.ts";
import { lettersOf, likeness, soundOf, writtenLikeness } from "./likeness.ts";

/** What was probably meant. */
export interface Suggestion {
  /** As it was typed, and what it is taken for. */
  readonly typed: string;
  readonly meant: string;
}

/** How like a name and a word must be to what was typed. Set by the queries of the bench. */
const NAME = 0.68;
const WORD = 0.8;
/** A word that is no name must be like it by its letters too: `cuts` is no misspelt `quotas`. */
const WRITTEN = 0.7;
/** A name is looked for in so many words one after the other. */
const WINDOW = 5;
const SHORTEST = 4;

/**
 * Takes words that nobody said for names and words that stand in the index. A name is looked for where at least one of
 * the words is unknown, by several words at once: `leave corrisk`.
 * @param typed the loose words of the question. @param unknown those that stand nowhere.
 */
export function suggest(
  typed: readonly string[],
  unknown: ReadonlySet<string>,
  { names, words }: WordsFile,
): readonly Suggestion[] {
  const made: Suggestion[] = [];
  const taken = new Set<number>();
  const known = names.flatMap((name) => nameForms(name));
  const said = new Set(words);
  for (;;) {
    const best = bestName(typed, unknown, known, said, taken);
    if (best === null) break;
    made.push({ typed: typed.slice(best.from, best.to).join(" "), meant: best.name });
    for (let at = best.from; at < best.to; at++) taken.add(at);
  }
  for (const [at, word] of typed.entries()) {
    if (taken.has(at) || !unknown.has(word) || said.has(word) || word.length < SHORTEST) continue;
    const meant = nearest(word, words);
    if (meant !== null) made.push({ typed: word, meant });
  }
  return made;
}

/** A name, whole, by one of its words, or misspelt, each with its sound. */
interface NameForm {
  readonly name: string;
  readonly as: string;
  readonly letters: string;
  readonly sound: string;
}

/** @param entry of the file of words. */
function nameForms(entry: string): readonly NameForm[] {
  const [name = "", ...misspelt] = entry.split(MISSPELT_MARK);
  const parts = name.split(/\s+/).filter((word) => word.length >= SHORTEST);
  const right = [...new Set([name, ...parts])].map((as) => [as, as] as const);
  return [...right, ...misspelt.map((as) => [name, as] as const)].map(([name, as]) => ({
    name,
    as,
    letters: lettersOf(as),
    sound: soundOf(as),
  }));
}

interface Window {
  readonly from: number;
  readonly to: number;
  readonly name: string;
  readonly likeness: number;
}

function bestName(
  typed: readonly string[],
  unknown: ReadonlySet<string>,
  known: readonly NameForm[],
  said: ReadonlySet<string>,
  taken: ReadonlySet<number>,
): Window | null {
  let best: Window | null = null;
  for (let from = 0; from < typed.length; from++) {
    for (let to = from + 1; to <= Math.min(typed.length, from + WINDOW); to++) {
      const own = typed.slice(from, to);
      if (taken.has(to - 1) || !own.some((word) => unknown.has(word))) continue;
      // A word that people use may be part of a name that was misheard; by itself it is what was meant.
      if (own.every((word) => said.has(word)) && own.length === 1) continue;
      const text = own.join("");
      if (text.length < SHORTEST) continue;
      const [letters, sound] = [lettersOf(text), soundOf(text)];
      for (const form of known) {
        // What was typed as the name has it needs no other.
        if (
          (form.letters === letters && form.as === form.name) ||
          Math.abs(form.letters.length - letters.length) > 3 ||
          Math.abs(form.sound.length - sound.length) > 2
        )
          continue;
        const like = likeness(text, form.as);
        // Of two that are as like, the longer one explains more.
        const weight = like + own.length * 0.02;
        if (like >= NAME && (best === null || weight > best.likeness))
          best = { from, to, name: form.name, likeness: weight };
      }
    }
  }
  return best;
}

function nearest(word: string, words: readonly string[]): string | null {
  let best: { readonly word: string; readonly like: number } | null = null;
  for (const other of words) {
    if (Math.abs(other.length - word.length) > 2) continue;
    const like = likeness(word, other);
    if (like >= WORD && writtenLikeness(word, other) >= WRITTEN && (best === null || like > best.like))
      best = { word: other, like };
  }
  return best?.word ?? null;
}
