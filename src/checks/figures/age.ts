import { grouped } from "../../model/grouped.ts";
import type { Check } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import type { Figure } from "./line.ts";

/** A year is a birth year up to this many words after `born`. */
const AFTER_BORN = 5;

export const ageNotBirthYear: Check = {
  name: "age-not-birth-year",
  level: "warns",
  group: "figures",
  reason: "An age and a birth year that disagree may describe somebody else, and in a court report that is serious.",
  looks:
    "An age in the same sentence as a birth year or the one before or after it: the year of the broadcast less the birth year must be " +
    "the age, or one more (the birthday is still to come).",
  example: "“Aldous Frayne, who is 58, was born in 1958” in 2026.",
  accept: "They are two people's.",
  judge: (subject) => {
    const ages = agesBySentence(subject.figures);
    return subject.figures.filter(isBirthYear).flatMap((birth) => {
      const year = birth.date?.year ?? birth.value;
      const { index, segment } = birth.sentence;
      const beside = [index - 1, index, index + 1]
        .flatMap((n) => ages.get(n) ?? [])
        .filter(({ first }) => first.sentence.segment === segment);
      const [age] = beside.map(({ first }) => first);
      const turns = Number(subject.date.slice(0, 4)) - year;
      if (age === undefined || beside.some(({ values }) => values.has(turns) || values.has(turns - 1))) return [];
      const says = `Born in ${year} is ${turns - 1} or ${turns} now, not ${age.value} as ${atTime(age.words[0]?.seconds ?? 0)}.`;
      return doubtOf(birth.words, subject, says, "Find out the age and the year of birth.", age.words);
    });
  },
};

function isBirthYear({ kind, date, sentence, at }: Figure): boolean {
  if (kind !== "year" && (date?.year ?? null) === null) return false;
  const before = sentence.words.slice(Math.max(0, at - AFTER_BORN), at);
  const born = before.findLastIndex(({ fold }) => fold === "born");
  return born !== -1 && before.slice(born).every(({ after }) => after === "" || after === ",");
}

/** The ages that a sentence says: the first of them, and all as numbers. By the sentence's index. */
function agesBySentence(figures: readonly Figure[]) {
  const ages = figures.filter(({ kind }) => kind === "age");
  const bySentence = [...grouped(ages, ({ sentence }) => sentence.index)];
  return new Map(
    bySentence.flatMap(([index, own]) =>
      own.slice(0, 1).map((first) => [index, { first, values: new Set(own.map(({ value }) => value)) }] as const),
    ),
  );
}
