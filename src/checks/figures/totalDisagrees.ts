import { grouped } from "../../model/grouped.ts";
import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import type { Subject } from "../subject.ts";
import type { Figure } from "./line.ts";
import { eachBefore, ROUGH } from "./rate.ts";
import { timesIn, unitNamed } from "./units.ts";
import { nounEnd, withNoun, withPer } from "./withWords.ts";

/** A total is compared with rates and counts of so many sentences before it, and of the one after. */
const BEFORE = 2;
/** How far a total may be from its product. “About” is anything to 10%; round thousands are rounded. No source. */
const SLACK = { rough: 0.1, round: 0.025, parts: 0.02 } as const;
/** So many totals, rates and counts of a segment are compared. No segment of a broadcast that we know has twenty. */
const MOST = 60;

/** A sentence of more words is a transcript without stops, in which nothing says what belongs together. */
const LONG = 120;

/** `each` is of one of so many figures before it. */
const BESIDE = 8;

/** Before a total in its clause, so many words back; and after it. */
const [LEAD, TAIL] = [6, 6];
const TOTALS_BEFORE = new RegExp(
  `\\b(?:a total of|totals?|totall?ing|total bill of|in all|coming to|making|that is|that's|which is|altogether|a sum of|` +
    `(?:that|it|which|this|they|these|and|bill|total|sum|cost|rent|pay|wages?|fares?|lot|all|together|altogether) ` +
    `(?:all |together |would |will )?(?:comes? to|came to|adds? up to|added up to|amounts? to|amounted to|works? out at|makes?|made)|` +
    `over the (?:whole )?(?:[a-z\\d-]+ ){0,2}(?:weeks?|months?|years?|days?|nights?|season|period))` +
    "(?: (?:about|around|nearly|almost|roughly|exactly|just|some|over|under|more|less|than|a|little|not|quite))*$",
);
const TOTALS_AFTER =
  /^(?:in all|altogether|in total|all told|in the end|over the [a-z\d-]+|all together|overall|for the (?:lot|season|whole)|for all [a-z\d-]+)\b/;
/** Words of a sentence in which something else is added or taken off, or two things are held side by side. */
const ELSE =
  /^(?:plus|deposit|fees?|tax|taxes|discount|bonus|bonuses|tips?|minus|besides|deduct(?:ed|ions?)?|expenses|after|before|first|last|remaining|rest|except|including|interest|until|if|would|instead|than|free|profit|left|keep|keeps|kept)$/;

const ROUGHLY = "(?: (?:about|around|nearly|almost|roughly|some|over|just))?$";
/** `paid 1,400 crowns for`, `and took 1,250 crowns`, `50 kilos fetched 350 crowns`: totals in one sentence with rate and count. */
const paying = (verbs: string): RegExp => new RegExp(`\\b(?:${verbs})${ROUGHLY}`);
const PAID_FOR = paying("paid|pays|pay|earned|earns");
const AND_TOOK = paying("and (?:paid|took|earned|raised|spent)");
const FETCHED = paying("fetched|brought in|raised");

export const totalDisagrees: Check = {
  name: "total-disagrees",
  level: "warns",
  group: "figures",
  reason:
    "Forty crowns a week for twelve weeks are 480: a total that its own parts deny is what a listener will add up.",
  looks:
    "A rate (“40 crowns a week”, “45 crowns each”), a count of what it is for (“twelve weeks”, “30 crates”) and a total in the same unit " +
    `(“in all”, “altogether”, “a total of”, “comes to”) within ${BEFORE} sentences, or a sum paid in their own sentence (“paid 1,400 crowns for”), where no rate times no count is the total. Something ` +
    "said besides in the same unit may be added or taken off. To 10% where the total is rough, 2.5% where it is in round hundreds over 1,000.",
  example: "“40 crowns a week for twelve weeks, 520 crowns in all”: 480.",
  accept: "Something else is in the total, such as a deposit, and the report says so.",
  judge: (subject) =>
    [...grouped(subject.figures.filter(isPart), ({ sentence }) => sentence.segment).values()].flatMap((figures) => {
      const totals = figures.filter((figure) => isTotal(figure) || isPaid(figure)).slice(0, MOST);
      if (totals.length === 0) return [];
      const rates = figures
        .flatMap((figure, n) => rateOf(figure, figures.slice(Math.max(0, n - BESIDE), n)))
        .slice(0, MOST);
      return totals.flatMap((total) => judged(total, rates, figures, subject));
    }),
};

/** Whether a sum changes hands for all that its sentence counts. */
function isPaid(figure: Figure): boolean {
  const { words } = figure.sentence;
  if (figure.kind !== "money" || figure.per !== null) return false;
  const lead = words
    .slice(Math.max(0, figure.at - 4), figure.at)
    .map(({ fold }) => fold)
    .join(" ");
  if (AND_TOOK.test(lead)) return true;
  if (PAID_FOR.test(lead)) return words[nounEnd(figure)]?.fold === "for";
  return FETCHED.test(lead) && !words.some(({ fold }) => fold === "and");
}

interface Rate {
  readonly figure: Figure;
  readonly per: string;
}

const isPart = ({ kind, unit, role, value }: Figure): boolean =>
  ["count", "money", "measure"].includes(kind) && unit !== null && role === "plain" && value > 0;

/** Whether words before or after a figure of its clause say that it is a total. */
function isTotal(figure: Figure): boolean {
  const {
    sentence: { words },
    at,
    per,
  } = figure;
  if (per !== null) return false;
  const end = nounEnd(figure);
  const from = Math.max(0, at - LEAD);
  const lead = words.slice(from, at).map(({ fold }) => fold);
  const tail = words.slice(end, end + TAIL).map(({ fold }) => fold);
  if (/^(?:each|apiece|every|per|ahead)$/.test(tail[0] ?? "")) return false;
  const stopped = /[.;:!?]/.test(words[end - 1]?.after ?? "");
  return TOTALS_BEFORE.test(lead.join(" ")) || (!stopped && TOTALS_AFTER.test(tail.join(" ")));
}

/** `40 crowns a week`; `each crate pays 45 crowns`; `30 crates at 45 crowns each`. */
function rateOf(figure: Figure, before: readonly Figure[]): readonly Rate[] {
  const per = figure.per ?? eachBefore(figure) ?? eachAfter(figure, before) ?? ofMany(figure, before);
  return per === null || per === figure.unit ? [] : [{ figure, per }];
}

function eachAfter(figure: Figure, before: readonly Figure[]): string | null {
  const { sentence, at } = figure;
  const end = nounEnd(figure);
  if (!/^(?:each|apiece)$/.test(sentence.words[end]?.fold ?? "") || sentence.words[end - 1]?.after !== "") return null;
  const counted = before.findLast((own) => own.kind === "count" && own.sentence === sentence && own.at < at);
  return counted?.unit ?? null;
}

/** `twelve teams of eleven players`: eleven for each team. */
function ofMany({ sentence: { words }, at, kind, sentence }: Figure, before: readonly Figure[]): string | null {
  const many = before.at(-1);
  if (kind !== "count" || words[at - 1]?.fold !== "of" || many?.kind !== "count" || many.sentence !== sentence)
    return null;
  return nounEnd(many) === at - 1 && many.at < at ? many.unit : null;
}

function judged(total: Figure, rates: readonly Rate[], figures: readonly Figure[], subject: Subject): readonly Doubt[] {
  const isSaid = isTotal(total);
  const isNear = ({ sentence }: Figure): boolean => {
    if (!isSaid) return sentence === total.sentence;
    const away = total.sentence.index - sentence.index;
    return away <= BEFORE && away >= -1;
  };
  if (total.sentence.words.length > LONG) return [];
  const own = rates.filter(({ figure }) => figure !== total && figure.unit === total.unit && isNear(figure));
  if (own.length === 0) return [];
  const near = [...figures.filter((figure) => figure !== total && isNear(figure)), ...onePeriod(total)];
  const ways = own.flatMap((rate) =>
    near
      .filter((count) => count.per === null && count !== rate.figure && isBound(count, rate, total))
      .map((count) => ({ rate, count, times: timesIn(unitOf(count), rate.per) }))
      .filter(({ times }) => times.length > 0),
  );
  const [first] = ways;
  // Two rates, or two counts, make a sum that is not worked out here.
  const isOne = ways.every(
    ({ rate, count }) => rate.figure.value === first?.rate.figure.value && count.value === first.count.value,
  );
  if (first === undefined || !isOne || !isOfThem(total, first)) return [];
  const said = new Set([total.sentence, first.rate.figure.sentence, first.count.sentence]);
  if ([...said].some(({ words }) => words.some(({ fold }) => ELSE.test(fold)))) return [];
  // What else is said in the same unit can be part of the total.
  const more = near
    .filter((figure) => figure.unit === total.unit && !rates.some((rate) => rate.figure === figure))
    .map(({ value }) => value);
  const products = ways.flatMap(({ rate, count, times }) =>
    times.map((each) => rate.figure.value * count.value * each),
  );
  const all = more.reduce((sum, value) => sum + value, 0);
  const sums = [
    ...products.flatMap((product) => [
      product,
      ...more.flatMap((value) => [product + value, product - value]),
      product + all,
    ]),
    products.reduce((sum, product) => sum + product, 0),
  ];
  if (sums.some((sum) => fits(total, sum, ways)) || all === total.value) return [];
  return tell(total, first, products[0] ?? 0, subject);
}

/** `over the year that comes to …` is one year. */
function onePeriod(total: Figure): readonly Figure[] {
  const { words } = total.sentence;
  const at = words.findIndex(
    ({ fold }, n) =>
      PERIOD.test(fold) &&
      words[n + 1]?.fold !== "of" &&
      /^(?:the|an?|whole|full|entire)$/.test(words[n - 1]?.fold ?? "") &&
      /^(?:over|for|in|the|a)$/.test(words[n - 2]?.fold ?? ""),
  );
  const unit = unitNamed(words[at]?.fold ?? "")?.name;
  if (at === -1 || unit === undefined) return [];
  return [{ ...total, kind: "count", value: 1, unit, at, words: words.slice(at, at + 1) }];
}

const PERIOD = /^(?:day|week|fortnight|month|year)$/;

/** Whether a total is said with its rate or count, or of what was said: `in all, she paid …`; not `in all, 900 were raised`. */
const isOfThem = ({ sentence }: Figure, { rate, count }: { readonly rate: Rate; readonly count: Figure }): boolean =>
  [rate.figure, count].some((figure) => figure.sentence === sentence) ||
  sentence.words.some(({ fold }) => /^(?:that|this|it|which|he|she|they|you|we|i)$/.test(fold));

const unitOf = ({ unit }: Figure): string => unit ?? "";

/** Whether a count stands with a rate or with the total, and not alone. */
function isBound(count: Figure, { figure }: Rate, total: Figure): boolean {
  const beside = [figure, total].some(({ sentence }) => sentence === count.sentence);
  return (
    beside || (figure.sentence.index - count.sentence.index === 1 && count.sentence.voice === total.sentence.voice)
  );
}

function fits(total: Figure, sum: number, ways: readonly { readonly rate: Rate; readonly count: Figure }[]): boolean {
  const off = Math.abs(total.value - sum);
  const figures = [total, ...ways.flatMap(({ rate, count }) => [rate.figure, count])];
  const isRough = figures.some(({ sentence, at, unit }) => {
    const before = sentence.words[at - 1]?.fold ?? "";
    // `over twelve weeks` is as long as twelve weeks.
    return ROUGH.test(before) && !(before === "over" && unitNamed(unit ?? "")?.dimension === "time");
  });
  if (isRough) return off <= total.value * SLACK.rough;
  if (total.value >= 1000 && total.value % 100 === 0 && off <= total.value * SLACK.round) return true;
  return (
    off <=
    (figures.every(({ value }) => Number.isInteger(value)) && Number.isInteger(sum) ? 0 : total.value * SLACK.parts)
  );
}

function tell(
  total: Figure,
  { rate, count }: { rate: Rate; count: Figure },
  product: number,
  subject: Subject,
): readonly Doubt[] {
  const sum = Number(product.toPrecision(10)).toLocaleString("en-GB");
  const says =
    `“${withNoun(total)}” is not “${withPer(rate.figure)}” ${atTime(rate.figure.words[0]?.seconds ?? 0)} times “${withNoun(count)}”, ` +
    `which is ${sum}.`;
  return doubtOf(
    total.words,
    subject,
    says,
    "Work it out again; one of the figures is wrong, or something is left out.",
    [...rate.figure.words, ...count.words],
  );
}
