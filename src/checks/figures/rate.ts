import { grouped } from "../../model/grouped.ts";
import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import type { Subject } from "../subject.ts";
import { withThing } from "./countDiffers.ts";
import type { Figure } from "./line.ts";
import { singularOf } from "./things.ts";
import { secondsIn } from "./units.ts";

/** How far a rate may be from its parts: rounding; more where a figure is said to be rough. */
export const SLACK = { exact: 0.05, rough: 0.2 } as const;
export const ROUGH = /^(?:about|around|nearly|almost|roughly|some|approximately|over|under|than)$/;

/**
 * So many rates of a segment are compared: every one with every two others, which for a thousand would be a thousand
 * million ways. No segment of a broadcast that we know has ten.
 */
const MOST_RATES = 60;

/** So many of `unit` for each `per`; times in seconds. */
interface Rate {
  readonly value: number;
  readonly unit: string;
  readonly per: string;
  readonly figure: Figure;
}

export const rateDisagrees: Check = {
  name: "rate-disagrees",
  level: "warns",
  group: "figures",
  reason: "Four minutes a crate are fifteen crates an hour: a rate that its own parts deny was never worked out.",
  looks:
    "In one segment, rates (“four minutes a crate”, “each crate pays 30 crowns”) that contradict one another: turned over, or one " +
    `multiplied by another, they differ by more than 5% (20% where a figure is said to be rough) from the third. Of a segment the first ${MOST_RATES} are compared.`,
  example: "“two crates an hour”, “each crate pays 30 crowns” and “90 crowns an hour”.",
  accept: "Something else counts too, such as a bonus or a pause, and the report says so.",
  judge: (subject) =>
    [...grouped(subject.figures.flatMap(rateOf), ({ figure }) => figure.sentence.segment).values()].flatMap((rates) => {
      const some = rates.slice(0, MOST_RATES);
      const [left] = rates.slice(MOST_RATES);
      return [
        ...turnedOver(some, subject),
        ...multiplied(some, subject),
        ...(left === undefined ? [] : tooMany(left, subject)),
      ];
    }),
};

function tooMany({ figure }: Rate, subject: Subject): readonly Doubt[] {
  const says = `From “${withThing(figure)}” on the rates of this segment were not compared: it has more than ${MOST_RATES}.`;
  return doubtOf(figure.words, subject, says, `Go through \`afterair check --figures ${subject.episode.id}\`.`);
}

function rateOf(figure: Figure): Rate[] {
  const { kind, unit, value, role } = figure;
  if (unit === null || role !== "plain" || !["count", "money", "measure"].includes(kind)) return [];
  const per = figure.per ?? eachBefore(figure);
  if (per === null || per === unit) return [];
  const [own, each] = [secondsIn(unit), secondsIn(per)];
  return [
    {
      value: (value * (own ?? 1)) / (each ?? 1),
      unit: own === undefined ? unit : "second",
      per: each === undefined ? per : "second",
      figure,
    },
  ];
}

/** `each crate pays 30 crowns`: the thing after `each`, up to four words before the figure in its clause. */
export function eachBefore({ sentence, at, kind }: Figure): string | null {
  if (kind === "count") return null;
  const clause = sentence.words.slice(Math.max(0, at - 6), at);
  const each = clause.findLastIndex(({ fold }) => /^(?:each|every|per)$/.test(fold));
  const thing = each === -1 ? undefined : clause[each + 1];
  if (thing === undefined || clause.slice(each).some(({ after }) => after !== "")) return null;
  return singularOf(thing.fold) === null && thing.fold !== "of" ? thing.fold : null;
}

const slackOf = (...rates: readonly Rate[]): number =>
  rates.some(({ figure: { sentence, at } }) =>
    sentence.words.slice(Math.max(0, at - 2), at).some(({ fold }) => ROUGH.test(fold)),
  )
    ? SLACK.rough
    : SLACK.exact;
const differ = (a: number, b: number, slack: number): boolean =>
  Math.abs(a - b) > Math.max(Math.abs(a), Math.abs(b)) * slack;

/** Minutes a crate against crates an hour. */
function turnedOver(rates: readonly Rate[], subject: Subject): readonly Doubt[] {
  return rates.flatMap((a, n) =>
    rates.slice(n + 1).flatMap((b) => {
      if (a.unit !== b.per || a.per !== b.unit || a.value === 0 || !differ(1 / a.value, b.value, slackOf(a, b)))
        return [];
      return tell([a, b], 1 / b.value, subject);
    }),
  );
}

/** Crates an hour by crowns a crate against crowns an hour; told only where no other figure makes it right. */
function multiplied(rates: readonly Rate[], subject: Subject): readonly Doubt[] {
  return rates.flatMap((whole) => {
    const ways = rates.flatMap((a) =>
      rates
        .filter(
          (b) =>
            a !== whole && b !== whole && a !== b && a.per === whole.per && a.unit === b.per && b.unit === whole.unit,
        )
        .map((b) => [a, b] as const),
    );
    const [first] = ways;
    const isRight = ways.some(([a, b]) => !differ(a.value * b.value, whole.value, slackOf(a, b, whole)));
    return first === undefined || isRight ? [] : tell([whole, ...first], first[0].value * first[1].value, subject);
  });
}

/** @param right what the others make of the first, as its own `value` counts. */
function tell([first, second, third]: readonly [Rate, Rate, Rate?], right: number, subject: Subject): readonly Doubt[] {
  const others = [second, third].filter((rate) => rate !== undefined);
  const said = others
    .map(({ figure }) => `“${withThing(figure)}” ${atTime(figure.words[0]?.seconds ?? 0)}`)
    .join(" and ");
  const made = Number(((first.figure.value * right) / first.value).toPrecision(3)).toLocaleString("en-GB");
  const makes =
    Number.isFinite(right) && first.value !== 0 ? `, which ${others.length > 1 ? "make" : "makes"} ${made}` : "";
  const says = `“${withThing(first.figure)}” does not agree with ${said}${makes}.`;
  return doubtOf(
    first.figure.words,
    subject,
    says,
    "Work it out again; one of the figures is wrong, or something is left out.",
    others.flatMap(({ figure }) => figure.words),
  );
}
