import { grouped } from "../../model/grouped.ts";
import { tokensOf } from "../../record/fold.ts";
import type { Lexicon } from "../lexicon.ts";
import { nameRuns } from "../names/capitals.ts";
import type { KnownNames } from "../names/known.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";

/** A folded word, and the one in the text that it is part of: `neil` of `O’Neil`. */
export interface Fold {
  readonly text: string;
  readonly word: Word;
}

const PLAIN = /^[A-Za-z0-9]+$/;

/** Words of one stretch, folded, with where each of them stands and which of them each voice speaks. */
export interface Folded {
  readonly folds: readonly Fold[];
  readonly at: ReadonlyMap<string, readonly number[]>;
  /** By the voice's name, folded: `kit saverell`. */
  readonly spokenBy: ReadonlyMap<string, readonly number[]>;
}

export function foldedIn(words: readonly Word[]): Folded {
  const folds = foldsIn(words);
  const places = folds.map((fold, at) => ({ fold, at }));
  const at = grouped(places, ({ fold }) => fold.text);
  const voices = grouped(places, ({ fold }) => fold.word.voice);
  return {
    folds,
    at: new Map([...at].map(([text, own]) => [text, own.map((place) => place.at)])),
    spokenBy: new Map(
      [...voices].flatMap(([voice, own]) =>
        voice === null ? [] : [[foldsOf(voice).join(" "), own.map((place) => place.at)] as const],
      ),
    ),
  };
}

/** Words for comparison: see `tokensOf` of the record. */
export const foldsIn = (words: readonly Word[]): readonly Fold[] =>
  words.flatMap((word) =>
    // Most words are one, and known without a search.
    PLAIN.test(word.text)
      ? [{ text: word.text.toLowerCase(), word }]
      : foldsOf(word.text).map((text) => ({ text, word })),
  );

/** The same of a text: `o neil`, as a list. Symbols are gaps too: they would join a word to the tag or the table around it. */
export const foldsOf = (text: string): readonly string[] =>
  tokensOf(text.replace(SYMBOLS, " ")).map((token) => token.text);

const SYMBOLS = /\p{S}+/gu;

/** Somebody, and what they are called by. */
export interface Person {
  readonly name: string;
  readonly folds: readonly string[];
  /** Parts of the name that name nobody else: a surname, a first name that is no ordinary word. */
  readonly alone: readonly (readonly string[])[];
  /** The words of their role in the register: said of them whenever they are named. */
  readonly role: readonly string[];
}

/** An ordinary word is no name by itself. Times in the frequency list's 51 million words. */
const ORDINARY = 50;

/**
 * Who is named in sentences or speaks them: persons of the register, and other names of two or more words with capitals.
 * @param leftOut names of those who are heard every evening.
 */
export function personsIn(
  sentences: readonly Sentence[],
  known: KnownNames,
  lexicon: Lexicon,
  leftOut: readonly string[],
): readonly Person[] {
  const out = new Set(leftOut.map((name) => foldsOf(name).join(" ")));
  const folded = sentences.map(({ words }) => foldedIn(words));
  const voices = new Set(sentences.flatMap(({ voice }) => (voice === null ? [] : [foldsOf(voice).join(" ")])));
  const isHere = (person: Person) =>
    voices.has(person.folds.join(" ")) || folded.some((own) => namesIn(own, person).length > 0);
  const registered = registeredPersons(known).filter(isHere);
  const spoken = sentences.flatMap((sentence) => nameRuns(sentence, lexicon).map((run) => quoted(run)));
  const heard = sentences.flatMap(({ voice }) => (voice === null ? [] : [voice]));
  const taken = new Set(registered.map(({ folds: own }) => own.join(" ")));
  const others = [...spoken, ...heard].flatMap((name): Person[] => {
    const person = otherPerson(name, known, lexicon);
    if (person === null || taken.has(person.folds.join(" "))) return [];
    taken.add(person.folds.join(" "));
    return [person];
  });
  return [...registered, ...others].filter((person) => !out.has(person.folds.join(" ")));
}

/** The persons of the register. */
export const registeredPersons = ({ names, single }: KnownNames): readonly Person[] =>
  names
    .filter(({ entry, folds }) => entry.kind === "person" && folds.length > 0)
    .map(({ entry, folds }) => ({
      name: entry.name,
      folds: foldsOf(entry.name),
      alone: folds.filter((fold) => single.get(fold)?.entry === entry).map(foldsOf),
      role: foldsOf(entry.role ?? ""),
    }));

/** Somebody who is not in the register; null for what is no name of two words, or holds one that the register has. */
function otherPerson(name: string, { names, words, single }: KnownNames, lexicon: Lexicon): Person | null {
  const folds = foldsOf(name.replace(/['’]s?$/, ""));
  const own = ` ${folds.join(" ")} `;
  const isKnown = names.some(({ entry }) => {
    const other = ` ${foldsOf(entry.name).join(" ")} `;
    return own.includes(other) || other.includes(own);
  });
  const rare = (fold: string) => lexicon.ordinary(fold) < ORDINARY;
  if (folds.length < 2 || isKnown || !folds.some(rare)) return null;
  const last = folds.at(-1) ?? "";
  const isAlone = rare(last) && lexicon.proper(last) < ORDINARY && !words.has(last) && !single.has(last);
  return { name: name.replace(/['’]s?$/, ""), folds, alone: isAlone ? [[last]] : [], role: [] };
}

/** Where somebody is named, as places in `folds`; the first name alone counts where all of the name stands too. */
export function namesIn(folded: Folded, { folds: full, alone }: Person): readonly number[] {
  const whole = runsOf(folded, full);
  const [first = ""] = full;
  const isCapital = (at: number) => /^\p{Lu}/u.test(folded.folds[at]?.word.text ?? "");
  const short = whole.length === 0 ? [] : (folded.at.get(first) ?? []).filter(isCapital);
  return [...whole, ...alone.flatMap((part) => runsOf(folded, part)), ...short];
}

function runsOf({ folds, at }: Folded, sought: readonly string[]): readonly number[] {
  const [first = ""] = sought;
  const places = at.get(first) ?? [];
  return places.filter((place) => sought.every((text, n) => folds[place + n]?.text === text));
}
