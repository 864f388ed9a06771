import { grouped } from "../../model/grouped.ts";
import { announcing, type InSentence } from "../figures/pairs.ts";
import type { Sentence, Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { casesOf } from "./cases.ts";
import { personFinder, surnameOf } from "./persons.ts";

/** Something that a sentence says of somebody who stands in court, and the words that say it. */
export interface Said<T> extends InSentence {
  readonly what: T;
}

/** The same, and of whom. */
export interface SaidOf<T> extends Said<T> {
  /** A surname; null: the segment names nobody of whom such a thing is said. */
  readonly who: string | null;
  /** The name before it, where it is said. */
  readonly first: string | null;
  /** `skipper` of `the skipper`; null: a name, a pronoun or the like. */
  readonly role: string | null;
}

const COURT = /^(?:court|courts|judge|judges|jury|magistrates?|trial|sheriff|verdict)$/;
/** More than one person, or one of several, or somebody's relation. */
const MANY =
  /^(?:men|women|people|brothers?|sisters?|cousins?|wife|husband|sons?|daughters?|mate|uncle|one|two|three|four|five|six|both|others?|another|third|pair|they|each|all|accomplices?|co-defendants?|some|none|nobody|neither)$/;
/** Who stands in no dock, or only asks or hears. */
const ELSE =
  /^(?:council|company|firm|government|ministry|minister|union|police|prosecution|prosecutors?|lawyer|solicitor|barrister|counsel|defence|crown|witness|victim|complainant|judge|jury|court|magistrate|hospital|club|station|school|bank|church)$/;
/** A role that everybody in the dock has. */
const ANY = /^(?:accused|defendant|man|woman|he|she|it|who|that|heard|told)$/;
/** Of whom they say something is named after them: `the jury acquitted Aldous Frayne`. */
const DECIDES = /^(?:jury|jurors|court|judge|judges|magistrates?)$/;
/** Words before what is said, among which its subject stands. */
const BEFORE = 6;

/**
 * Which of them are of one person: by the name before the words, else by the only one whom the segment names for such a thing.
 * What is said of several, or of one of several, is left out; so is a segment that is of no court and announces none.
 */
export function saidOf<T>(all: readonly Said<T>[], subject: Subject): readonly SaidOf<T>[] {
  if (all.length < 2) return [];
  const announces = announcing(subject.episode.segments);
  const find = personFinder(subject);
  const { peopleIn } = casesOf(subject);
  return [...grouped(all, ({ sentence }) => sentence.segment)].flatMap(([slug, own]) => {
    const inSegment = subject.spoken.inSegment.get(slug)?.sentences ?? [];
    if (slug === null || (!announces.has(slug) && !isOfCourt(inSegment))) return [];
    const people = peopleIn(inSegment);
    const known = own.flatMap((said): SaidOf<T>[] => {
      const before = beforeIn(said);
      const role = roleIn(before);
      if (before.some(({ fold }) => MANY.test(fold)) || (role !== null && ELSE.test(role))) return [];
      const name = nameIn(decidedOf(said) ?? before, find(said.sentence), people);
      return [{ ...said, who: name.at(-1)?.fold ?? null, first: name.at(-2)?.fold ?? null, role }];
    });
    const names = new Set(known.flatMap(({ who }) => who ?? []));
    const [only = null] = names;
    return known.flatMap((said) => (said.who !== null ? [said] : names.size > 1 ? [] : [{ ...said, who: only }]));
  });
}

const isOfCourt = (sentences: readonly Sentence[]): boolean =>
  sentences.some(({ words }) => words.some(({ fold }) => COURT.test(fold)));

/** Words of a sentence before what is said in it. */
function beforeIn({ sentence, words: [first] }: InSentence): readonly Word[] {
  const at = first === undefined ? 0 : sentence.words.indexOf(first);
  return sentence.words.slice(Math.max(0, at - BEFORE), at);
}

/** Words among which the person stands of whom a court decides something; null: it is nothing of the kind. */
function decidedOf({ sentence, words }: InSentence): readonly Word[] | null {
  const [first] = words;
  if (first === undefined || !DECIDES.test(first.fold)) return null;
  const at = sentence.words.indexOf(first);
  return sentence.words.slice(at + 1, at + words.length + 2);
}

/** The last person named in some words: of `found`, the people of the sentence, or by a surname alone. */
function nameIn(
  words: readonly Word[],
  found: readonly (readonly Word[])[],
  people: ReadonlySet<string>,
): readonly Word[] {
  const at = words.findLastIndex(
    (word) =>
      /^\p{Lu}/u.test(word.text) &&
      (people.has(word.fold) || found.some((person) => surnameOf(person) === word.fold && person.includes(word))),
  );
  if (at === -1) return [];
  const before = words[at - 1];
  const isFirst = before !== undefined && before.after === "" && /^\p{Lu}/u.test(before.text);
  return words.slice(isFirst && !TITLE.test(before.fold) ? at - 1 : at, at + 1);
}

const TITLE = /^(?:mr|mrs|ms|miss|dr|captain|councillor)$/;

/** `the former treasurer has`: the noun, unless everybody in the dock is one. */
function roleIn(words: readonly Word[]): string | null {
  const at = words.findLastIndex(({ fold }) => /^(?:the|a|an)$/.test(fold));
  const after = words
    .slice(at + 1)
    .filter(({ fold }) => !/^(?:has|had|have|is|was|also|then|who|later)$|ly$/.test(fold));
  const noun = at === -1 ? undefined : after.at(-1);
  return noun === undefined || /^\p{Lu}/u.test(noun.text) || ANY.test(noun.fold) || after.length > 3 ? null : noun.fold;
}

/** Whether two things that `comparePairs` gives are said of one person. */
export function isOfOne(a: SaidOf<unknown>, b: SaidOf<unknown>): boolean {
  if (a.sentence === b.sentence || a.who !== b.who) return false;
  if (a.who === null && a.sentence.segment !== b.sentence.segment) return false;
  return !isOther(a.first, b.first) && !isOther(a.role, b.role);
}

const isOther = (a: string | null, b: string | null): boolean => a !== null && b !== null && a !== b;
