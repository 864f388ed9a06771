import { distance } from "fastest-levenshtein";
import type { LaidSegment } from "../../record/laid.ts";
import { foldWord, type Sentence, tokensOf, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { namesOfSides } from "./courtSides.ts";
import { personFinder, surnameOf } from "./persons.ts";

/** Tells court cases of one evening apart: by the people in them. */
export interface Cases {
  /** The people of a case, by surname: not who reports it, nor who sits or pleads in court. */
  readonly peopleIn: (sentences: readonly Sentence[]) => ReadonlySet<string>;
  /** Whether a segment, its title or its summary names one of them. */
  readonly speaksOf: (segment: LaidSegment, people: ReadonlySet<string>) => boolean;
}

/** Before the name of somebody who is in court for the work. */
const OFFICER =
  /^(?:judge|justice|magistrate|sheriff|prosecutor|barrister|solicitor|lawyer|counsel|coroner|inspector|sergeant|constable|detective|recorder)$/;

export function casesOf(subject: Subject): Cases {
  const { episode, spoken, programme } = subject;
  const reporters = new Set(
    [
      ...programme.presenters,
      ...episode.segments.flatMap(({ by }) => by),
      ...new Set(spoken.sentences.map(({ voice }) => voice ?? "")),
    ]
      .flatMap((name) => tokensOf(name).slice(-1))
      .map(({ text }) => foldWord(text)),
  );
  const sides = namesOfSides(spoken.sentences);
  const find = personFinder(subject);
  const isOfficer = (sentence: Sentence, person: readonly Word[]): boolean => {
    const [first] = person;
    const at = first === undefined ? 0 : sentence.words.indexOf(first);
    return sentence.words.slice(Math.max(0, at - 2), at).some(({ fold }) => OFFICER.test(fold));
  };
  const peopleIn: Cases["peopleIn"] = (sentences) =>
    new Set(
      sentences
        .flatMap((sentence) => find(sentence).filter((person) => !isOfficer(sentence, person)))
        .map(surnameOf)
        .filter((name) => name !== "" && !reporters.has(name) && !sides.has(name)),
    );
  const names = new Map(
    episode.segments.map(({ slug, title, summary }) => {
      const said = (spoken.inSegment.get(slug)?.words ?? []).filter(({ text }) => /^\p{Lu}/u.test(text));
      const written = tokensOf(`${title} ${summary ?? ""}`).map(({ text }) => foldWord(text));
      return [slug, new Set([...said.map(({ fold }) => fold), ...written])] as const;
    }),
  );
  const speaksOf: Cases["speaksOf"] = ({ slug }, people) =>
    [...(names.get(slug) ?? [])].some((fold) => [...people].some((name) => isSameName(fold, name)));
  return { peopleIn, speaksOf };
}

/** A recogniser spells a name in two ways. */
const isSameName = (a: string, b: string): boolean =>
  a === b || (Math.min(a.length, b.length) >= 5 && distance(a, b) <= 1);
