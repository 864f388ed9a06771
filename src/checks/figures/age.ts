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
    "the age, or one more (the birthday is still to come). Where the sentence says when somebody died, that year counts.",
  example: "“Aldous Frayne, who is 58, was born in 1958” in 2026.",
  accept: "They are two people's.",
  judge: (subject) => {
    const ages = agesBySentence(subject.figures);
    const years = new Set(subject.figures.filter(({ kind }) => kind === "year").map(({ sentence }) => sentence));
    return subject.figures.filter(isBirthYear).flatMap((birth) => {
      const year = birth.date?.year ?? birth.value;
      const { index, segment } = birth.sentence;
      const beside = [index - 1, index, index + 1]
        .flatMap((n) => ages.get(n) ?? [])
        .filter(({ first }) => first.sentence.segment === segment)
        // `In 2005 he was aged 30`.
        .filter(({ first }) => first.sentence === birth.sentence || !years.has(first.sentence));
      const [age] = beside.map(({ first }) => first);
      const died = deathIn(birth, subject.figures);
      const turns = (died ?? Number(subject.date.slice(0, 4))) - year;
      if (age === undefined || beside.some(({ values }) => values.has(turns) || values.has(turns - 1))) return [];
      const says = `Born in ${year} is ${turns - 1} or ${turns} ${died === null ? "now" : `in ${died}`}, not ${age.value} as ${atTime(age.words[0]?.seconds ?? 0)}.`;
      return doubtOf(birth.words, subject, says, "Find out the age and the year of birth.", age.words);
    });
  },
};

function isBirthYear({ kind, date, sentence, at }: Figure): boolean {
  if (kind !== "year" && (date?.year ?? null) === null) return false;
  const before = sentence.words.slice(Math.max(0, at - AFTER_BORN), at);
  const born = before.findLastIndex(({ fold }) => fold === "born");
  const since = before.slice(born);
  return (
    born !== -1 &&
    since.every(({ after }) => after === "" || after === ",") &&
    !since.some(({ fold }) => DEATH.test(fold) || /^\d{4}$/.test(fold))
  );
}

const DEATH = /^(?:died|killed|drowned|death|dead)$/;

/** The year of a death in the sentence of a birth; null: it says none. */
function deathIn({ sentence, at }: Figure, figures: readonly Figure[]): number | null {
  if (!sentence.words.some(({ fold }) => DEATH.test(fold))) return null;
  const year = figures.find(
    (own) => own.sentence === sentence && own.at !== at && (own.kind === "year" || (own.date?.year ?? null) !== null),
  );
  return year === undefined ? null : (year.date?.year ?? year.value);
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
