import type { Check } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { finderOf } from "../finder.ts";
import { nameRuns } from "../names/capitals.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { watchedWords } from "../watch.ts";
import { ALLEGATION_WORDS } from "./lists.ts";

export const allegationNamed: Check = {
  name: "allegation-named",
  level: "warns",
  group: "cautions",
  reason:
    "An allegation against a named person can do harm and cost dearly: it needs a source, an answer, and somebody who has read it.",
  looks:
    "Segments without the label `court` in which a sentence holds an entry of the list and a person's name: one of the register, or two " +
    "words with a capital. The list is in src/checks/cautions/lists.ts; a programme changes it under `watch.allegation`.",
  example: "“Tovar Quenby is accused of taking bribes.”",
  accept: "The person was asked for an answer, the source is known, and the station's code was kept.",
  judge: (subject) => {
    const find = finderOf(watchedWords("allegation", ALLEGATION_WORDS, subject.programme));
    const personIn = personFinder(subject);
    return subject.episode.segments.flatMap((segment) => {
      if (segment.cautions.includes("court")) return [];
      for (const sentence of subject.spoken.inSegment.get(segment.slug)?.sentences ?? []) {
        const [words] = find([sentence]);
        const person = words === undefined ? null : personIn(sentence);
        if (words === undefined || person === null) continue;
        const says = `“${quoted(words)}” stands in one sentence with ${quoted(person)}: perhaps an allegation about a named person.`;
        return doubtOf(words, subject, says, MEND);
      }
      return [];
    });
  },
};

const MEND =
  "Check the source and whether the person was asked for an answer; follow the station's own code, and ask for qualified advice where in doubt.";

/** Finds a registered person, by the whole name or the surname, or a run of two words with a capital that are in no other entry. */
function personFinder({ known, programme, lexicon }: Subject): (sentence: Sentence) => readonly Word[] | null {
  const people = new Set(
    known.names.filter(({ entry }) => entry.kind === "person").map(({ folds }) => folds.at(-1) ?? ""),
  );
  const taken = new Set(programme.names.flatMap(({ name }) => name.toLowerCase().split(" ")));
  const isStranger = (run: readonly Word[]) =>
    run.length === 2 && run.every(({ fold }) => !taken.has(fold) && lexicon.ordinary(fold) < 500);
  return (sentence) => {
    const registered = sentence.words.findIndex(({ fold, text }) => people.has(fold) && /^\p{Lu}/u.test(text));
    if (registered !== -1) return sentence.words.slice(registered, registered + 1);
    return nameRuns(sentence, lexicon).find(isStranger) ?? null;
  };
}
