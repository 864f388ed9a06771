import type { Check } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { finderOf } from "../finder.ts";
import { quoted } from "../speech.ts";
import { watchedWords } from "../watch.ts";
import { ALLEGATION_WORDS } from "./lists.ts";
import { personFinder, surnameOf } from "./persons.ts";

export const allegationNamed: Check = {
  name: "allegation-named",
  level: "warns",
  group: "cautions",
  reason:
    "An allegation against a named person can do harm and cost dearly: it needs a source, an answer, and somebody who has read it.",
  looks:
    "Segments without the label `court` in which a sentence holds an entry of the list and a person's name: one of the register, or two " +
    "words with a capital; each person once a segment. The list is in src/checks/cautions/lists.ts; a programme changes it under `watch.allegation`.",
  example: "“Tovar Quenby is accused of taking bribes.”",
  accept: "The person was asked for an answer, the source is known, and the station's code was kept.",
  judge: (subject) => {
    const find = finderOf(watchedWords("allegation", ALLEGATION_WORDS, subject.programme));
    const personsIn = personFinder(subject);
    return subject.episode.segments.flatMap((segment) => {
      if (segment.cautions.includes("court")) return [];
      const told = new Set<string>();
      return (subject.spoken.inSegment.get(segment.slug)?.sentences ?? []).flatMap((sentence) => {
        const [words] = find([sentence]);
        const person = words === undefined ? undefined : personsIn(sentence).find((own) => !told.has(surnameOf(own)));
        if (words === undefined || person === undefined) return [];
        for (const own of personsIn(sentence)) told.add(surnameOf(own));
        const says = `“${quoted(words)}” stands in one sentence with ${quoted(person)}: perhaps an allegation about a named person.`;
        return doubtOf(words, subject, says, MEND);
      });
    });
  },
};

const MEND =
  "Check the source and whether the person was asked for an answer; follow the station's own code, and ask for qualified advice where in doubt.";
