import { nameRuns } from "../names/capitals.ts";
import type { Sentence, Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** Words so common are no name. Times in the lexicon's 51 million words. */
const ORDINARY = 500;

/**
 * Finds the people whom a sentence names, each once: registered ones by the whole name or the surname, first, then runs of two
 * words with a capital that are in no other entry.
 */
export function personFinder({
  known,
  programme,
  lexicon,
}: Pick<Subject, "known" | "programme" | "lexicon">): (sentence: Sentence) => readonly (readonly Word[])[] {
  const people = new Set(
    known.names.filter(({ entry }) => entry.kind === "person").map(({ folds }) => folds.at(-1) ?? ""),
  );
  const taken = new Set(programme.names.flatMap(({ name }) => name.toLowerCase().split(" ")));
  const isStranger = (run: readonly Word[]) =>
    run.length === 2 && run.every(({ fold }) => !taken.has(fold) && lexicon.ordinary(fold) < ORDINARY);
  return (sentence) => {
    const registered = sentence.words.filter(({ fold, text }) => people.has(fold) && /^\p{Lu}/u.test(text));
    const all = [...registered.map((word) => [word]), ...nameRuns(sentence, lexicon).filter(isStranger)];
    return [...new Map(all.toReversed().map((words) => [surnameOf(words), words])).values()].toReversed();
  };
}

/** By which a person is known again. */
export const surnameOf = (person: readonly Word[]): string => person.at(-1)?.fold ?? "";
