import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import { tellingOf } from "../lexicon.ts";
import { quoted } from "../speech.ts";
import type { Subject } from "../subject.ts";
import type { Figure } from "./line.ts";
import { isOfAnotherTime, type Relation, relationOf, sharedContext, writtenFigures } from "./scope.ts";

const COMPARED = new Set(["count", "money", "measure", "percent", "number"]);
/** How sure two figures must be of one thing. Set on changed figures in speeches and reports, no source. */
const LEAST: Readonly<Record<Relation, number>> = { "same-voice": 3, across: 1.5, headline: 1.3 };
/** What a number that counts nothing must have besides. */
const BARE = 1;
/** A speaker who gives two figures in so many sentences means both. */
const NEAR = 3;
/** What adds to it besides the words in common. */
const WORTH = { money: 0.2, per: 0.6, near: 0.3, digits: 0.5 } as const;

export const countDiffers: Check = {
  name: "count-differs",
  level: "warns",
  group: "figures",
  reason:
    "When the introduction says eleven and the report says nine, one of them is wrong, and listeners write in about it.",
  looks:
    "The same unit or thing, for each of the same, with another number: in one segment (its title and summary too), or in the " +
    "headlines and the report. Both must share telling words, by a frequency list. Changes (“from 16 to nine”), parts (“two of " +
    "the”), “more”, “other” and figures of another time are left out; so is a figure that the report also gives.",
  example: "“eleven sailings a week” at 0:12, “from 16 sailings a week to nine” at 1:04.",
  accept: "They are two things, or the difference is what the report is about.",
  judge: (subject) => {
    const figures = [...subject.figures, ...writtenFigures(subject.episode)].filter(isComparable);
    const told = new Set<string>();
    return figures.flatMap((first, n) =>
      figures.slice(n + 1).flatMap((second) => {
        if (!isClash(first, second, figures, subject)) return [];
        const key = [first.unit, first.per, ...[first.value, second.value].toSorted((a, b) => a - b)].join(" ");
        if (told.has(key)) return [];
        told.add(key);
        return tell(first, second, subject);
      }),
    );
  },
};

function isComparable({ kind, unit, role, value, words }: Figure): boolean {
  if (!COMPARED.has(kind) || (unit === null) !== (kind === "number") || role === "from" || role === "part")
    return false;
  return !(value === 1 && words[0]?.fold === "one");
}

const isChange = ({ role }: Figure): boolean => role === "change";
const isOfOne = (a: Figure, b: Figure): boolean =>
  a.kind === b.kind && a.unit === b.unit && a.per === b.per && isChange(a) === isChange(b) && areOfOneStuff(a, b);

/** Litres of milk are no litres of oil. */
function areOfOneStuff(a: Figure, b: Figure): boolean {
  const [one, other] = [a, b].map(({ sentence, at, words }) =>
    sentence.words[at + words.length]?.fold === "of" ? sentence.words[at + words.length + 1]?.fold : undefined,
  );
  return one === undefined || other === undefined || one === other;
}

function isClash(a: Figure, b: Figure, figures: readonly Figure[], subject: Subject): boolean {
  if (a.value === b.value || a.sentence === b.sentence || !isOfOne(a, b)) return false;
  const relation = relationOf(a, b, subject);
  if (relation === null || isOfAnotherTime(a) !== isOfAnotherTime(b)) return false;
  const { sentences } = subject.spoken;
  if (relation === "same-voice" && sentences.indexOf(b.sentence) - sentences.indexOf(a.sentence) < NEAR) return false;
  const gives = (from: Figure, value: number) =>
    relation === "headline" &&
    figures.some((own) => own.sentence.segment === from.sentence.segment && isOfOne(own, from) && own.value === value);
  if (gives(b, a.value) || gives(a, b.value)) return false;
  return sureness(a, b, subject) >= LEAST[relation] + (a.kind === "number" ? BARE : 0);
}

function sureness(a: Figure, b: Figure, { lexicon }: Subject): number {
  const context = sharedContext(a, b, lexicon);
  const thing = a.kind === "count" ? tellingOf(lexicon, a.unit ?? "") : a.kind === "money" ? WORTH.money : 0;
  const ratio = Math.max(a.value, b.value) / Math.max(Math.min(a.value, b.value), 1e-9);
  return (
    context +
    thing +
    (a.per === null ? 0 : WORTH.per) +
    (ratio <= 3 ? WORTH.near : 0) +
    (areConfused(a.value, b.value) ? WORTH.digits : 0)
  );
}

/** Two digits changed places (3.2, 2.3), or a teen was heard for a ten (15, 50). */
function areConfused(a: number, b: number): boolean {
  const digits = (value: number) => String(value).replace(/0+$/, "").replace(".", "").split("").sort().join("");
  if (a >= 10 && digits(a) === digits(b) && String(a).length === String(b).length) return true;
  const [small, large] = [Math.min(a, b), Math.max(a, b)];
  return small >= 13 && small <= 19 && large === (small - 10) * 10;
}

function tell(first: Figure, second: Figure, subject: Subject): readonly Doubt[] {
  const [here, there] = second.words[0]?.written === true ? [second, first] : [first, second];
  const where = there.words[0]?.written === true ? "in the title or summary" : atTime(there.words[0]?.seconds ?? 0);
  const says = `“${withThing(here)}” here, “${withThing(there)}” ${where}.`;
  return doubtOf(
    here.words,
    subject,
    says,
    "Find out which is right; if both are, make the difference plain.",
    there.words,
  );
}

/** A figure with the words that follow it, as far as they belong to it. */
export function withThing({ sentence, at, words }: Figure): string {
  const after = sentence.words.slice(at, at + words.length + 3);
  const end = after.findIndex((word, n) => n >= words.length - 1 && /[,;:.!?]/.test(word.after));
  return quoted(end === -1 ? after : after.slice(0, end + 1));
}
