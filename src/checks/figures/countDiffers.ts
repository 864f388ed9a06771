import { grouped } from "../../model/grouped.ts";
import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import { type Lexicon, tellingOf } from "../lexicon.ts";
import { once } from "../once.ts";
import { quoted, type Sentence } from "../speech.ts";
import type { Subject } from "../subject.ts";
import type { Figure } from "./line.ts";
import { type About, aboutOf, areOfOtherThings } from "./otherThings.ts";
import { announcing, comparePairs, LIMITS, MOST_TOLD, moreTold, notCompared } from "./pairs.ts";
import { pointsBack } from "./pointsBack.ts";
import {
  type Context,
  contextOf,
  isOfAnotherTime,
  type Relation,
  relationOf,
  sharedContext,
  writtenFigures,
} from "./scope.ts";

const COMPARED = new Set(["count", "money", "measure", "percent", "number"]);
/** How sure two figures must be of one thing. Set on changed figures in speeches and reports, no source. */
const LEAST: Readonly<Record<Relation, number>> = { "same-voice": 3, across: 1.5, headline: 1.3 };
/** What a number that counts nothing must have besides. */
const BARE = 1;
/** The same for `the nine boats` after `eleven boats`: little more than the thing need be shared. */
const BACK = 0.6;
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
    "headlines and the report. Both must share telling words, by a frequency list; less where the second goes back to the first " +
    "(“the nine boats”). Changes (“from 16 to nine”), parts (“two of " +
    "the”), “more”, “other” and figures of another time are left out; so is a figure that the report also gives, and sums and counts " +
    "of which the words say that they are for different things (“on the pier”, “on the lighthouse”), in different places, by different " +
    "people, or of another kind (raised and needed, killed and injured). " +
    LIMITS,
  example: "“eleven sailings a week” at 0:12, “from 16 sailings a week to nine” at 1:04.",
  accept: "They are two things, or the difference is what the report is about.",
  judge: (subject) => {
    const figures = [...subject.figures, ...writtenFigures(subject.episode)]
      .filter(isComparable)
      .map((figure, index) => toCompare(figure, index, subject.lexicon));
    const announces = announcing(subject.episode.segments);
    const clashes: Clash[] = [];
    const limits: Doubt[] = [];
    for (const own of grouped(figures, thingOf).values()) {
      const { told, left } = clashesOf(own, announces, subject.spoken.sentences);
      clashes.push(...told.slice(0, MOST_TOLD));
      const more = told[MOST_TOLD];
      if (more !== undefined) limits.push(...moreTold(more.first, subject));
      else if (left !== null) limits.push(...notCompared(left, subject));
    }
    clashes.sort((a, b) => a.first.index - b.first.index || a.second.index - b.second.index);
    return [...withoutTwice(clashes).flatMap(({ first, second }) => tell(first, second, subject)), ...limits];
  },
};

/** A figure with what it is compared by. */
interface Compared extends Figure {
  /** Among those that are compared. */
  readonly index: number;
  /** `milk` of `litres of milk`; null: none. */
  readonly stuff: string | null;
  readonly context: () => Context;
  /** What `tellingThing` says of it. */
  readonly thing: number;
  readonly digits: () => string;
  readonly about: () => About;
  readonly isOfAnotherTime: boolean;
}

interface Clash {
  readonly first: Compared;
  readonly second: Compared;
}

function toCompare(figure: Figure, index: number, lexicon: Lexicon): Compared {
  const { sentence, at, words } = figure;
  const [of, stuff] = [sentence.words[at + words.length], sentence.words[at + words.length + 1]];
  return {
    ...figure,
    index,
    stuff: of?.fold === "of" ? (stuff?.fold ?? null) : null,
    context: once(() => contextOf(figure, lexicon)),
    thing: tellingThing(figure, lexicon),
    digits: once(() => digitsOf(figure.value)),
    about: once(() => aboutOf(figure)),
    isOfAnotherTime: isOfAnotherTime(figure),
  };
}

function isComparable({ kind, unit, role, value, words }: Figure): boolean {
  if (!COMPARED.has(kind) || (unit === null) !== (kind === "number") || role === "from" || role === "part")
    return false;
  return !(value === 1 && words[0]?.fold === "one");
}

const thingOf = ({ kind, unit, per, role }: Figure): string => JSON.stringify([kind, unit, per, role === "change"]);

/** Litres of milk are no litres of oil. */
const areOfOneStuff = (a: Compared, b: Compared): boolean =>
  a.stuff === null || b.stuff === null || a.stuff === b.stuff;

/** The clashes among the figures of one thing, in their order, each pair of numbers once; one more than are told. */
function clashesOf(
  figures: readonly Compared[],
  announces: ReadonlySet<string>,
  spoken: readonly Sentence[],
): { readonly told: readonly Clash[]; readonly left: Compared | null } {
  const given = valuesGiven(figures);
  const told: Clash[] = [];
  const seen = new Set<string>();
  const left = comparePairs(figures, announces, (first, second) => {
    if (!isClash(first, second, given, spoken) || seen.has(keyOf({ first, second }))) return true;
    seen.add(keyOf({ first, second }));
    told.push({ first, second });
    return told.length <= MOST_TOLD;
  });
  return { told, left };
}

const keyOf = ({ first, second }: Clash): string =>
  [first.unit, first.per, ...[first.value, second.value].toSorted((a, b) => a - b)].join(" ");

function withoutTwice(clashes: readonly Clash[]): readonly Clash[] {
  return [...grouped(clashes, keyOf).values()].flatMap((same) => same.slice(0, 1));
}

/** Whether a segment also gives a number of the thing that another figure is of. */
type Gives = (segment: string | null, value: number, of: Compared) => boolean;

function valuesGiven(figures: readonly Compared[]): Gives {
  const key = (segment: string | null, value: number) => `${value} ${segment}`;
  const stuffs = new Map<string, Set<string | null>>();
  for (const { sentence, value, stuff } of figures) {
    const own = key(sentence.segment, value);
    stuffs.set(own, (stuffs.get(own) ?? new Set()).add(stuff));
  }
  return (segment, value, { stuff }) => {
    const own = stuffs.get(key(segment, value));
    return own !== undefined && (stuff === null || own.has(null) || own.has(stuff));
  };
}

function isClash(a: Compared, b: Compared, gives: Gives, spoken: readonly Sentence[]): boolean {
  if (a.value === b.value || a.sentence === b.sentence || !areOfOneStuff(a, b)) return false;
  if (a.isOfAnotherTime !== b.isOfAnotherTime) return false;
  const relation = relationOf(a, b);
  if (relation !== "headline" && pointsBack(a, b, spoken)) return sureness(a, b) >= BACK;
  if (relation === "same-voice" && b.sentence.index - a.sentence.index < NEAR) return false;
  if (relation === "headline" && (gives(b.sentence.segment, a.value, b) || gives(a.sentence.segment, b.value, a)))
    return false;
  return (
    sureness(a, b) >= LEAST[relation] + (a.kind === "number" ? BARE : 0) && !areOfOtherThings(a.about(), b.about())
  );
}

function sureness(a: Compared, b: Compared): number {
  const context = sharedContext(a.context(), b.context());
  const ratio = Math.max(a.value, b.value) / Math.max(Math.min(a.value, b.value), 1e-9);
  return (
    context +
    a.thing +
    (a.per === null ? 0 : WORTH.per) +
    (ratio <= 3 ? WORTH.near : 0) +
    (areConfused(a, b) ? WORTH.digits : 0)
  );
}

/** How sure a thing alone makes that two figures are of one: by how seldom it is spoken of. */
function tellingThing({ kind, unit }: Figure, lexicon: Lexicon): number {
  if (kind === "count") return tellingOf(lexicon, unit ?? "");
  return kind === "money" ? WORTH.money : 0;
}

/** `32` of 3.2 and of 2.3: the digits of a number by size, without zeros at its end. */
const digitsOf = (value: number): string => String(value).replace(/0+$/, "").replace(".", "").split("").sort().join("");

/** Two digits changed places (3.2, 2.3), or a teen was heard for a ten (15, 50). */
function areConfused(a: Compared, b: Compared): boolean {
  if (a.value >= 10 && a.digits() === b.digits() && String(a.value).length === String(b.value).length) return true;
  const [small, large] = [Math.min(a.value, b.value), Math.max(a.value, b.value)];
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
