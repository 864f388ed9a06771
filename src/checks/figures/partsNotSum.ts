import { grouped } from "../../model/grouped.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import type { Figure } from "./line.ts";

/** So many parts of one total are summed. A list that is read out has no more. No source. */
const MOST = 8;
/** So many times as large as the other, a sum and a whole are of two things. No source. */
const FAR = 2;
/** Said right after a total, or before it. */
const AFTER = /^(?:in all|in total|altogether|all told)\b/;
const BEFORE = /\b(?:a total of|(?:which|that) makes|making(?: a total of)?|in all)$/;
/** Something that is rough, left out, taken off, counted twice or of another time; times, and a second whole. */
const ELSE =
  /^(?:some|about|around|nearly|almost|roughly|more|less|fewer|over|under|than|least|most|among|including|include|includes|whom|which|between|each|every|per|apiece|of|then|another|others|other|also|but|bought|rose|fell|by|won|beat|since|already|season|record|played|built|sailed)$/;

export const partsNotSum: Check = {
  name: "parts-not-sum",
  level: "warns",
  group: "figures",
  reason: "Twelve, nine and four are 25: a whole that its own parts deny is what a listener will add up.",
  looks:
    "In one sentence two numbers or more of one thing (“12 boats in Sollen, 9 in Wennick and 4 on Hallan”) and their whole, with “in all”, “in " +
    "total”, “altogether”, “a total of” or “making”, that is not their sum. Where one is over twice the other, or anything is rough, left out, of another time or another thing, nothing is told. English.",
  example: "“12 boats in Sollen, 9 in Wennick and 4 on Hallan: 26 in all”.",
  accept: "There are more parts than the report says, and it says so.",
  judge: (subject) =>
    [...grouped(subject.figures, ({ sentence }) => sentence)].flatMap(([sentence, figures]) =>
      judged(sentence, figures, subject),
    ),
};

function judged({ words }: Sentence, figures: readonly Figure[], subject: Subject): readonly Doubt[] {
  const totals = figures.filter((figure) => isWhole(words, figure));
  const [total] = totals;
  if (total === undefined || totals.length > 1 || figures.length < 3 || figures.length > MOST + 1) return [];
  const parts = figures.filter((figure) => figure !== total);
  if (!parts.every((part) => isPartOf(part, total, parts))) return [];
  const own = new Set(
    figures.flatMap((figure) => figure.words).concat(leadOf(words, total).filter(({ fold }) => LEAD.test(fold))),
  );
  if (words.some((word) => !own.has(word) && ELSE.test(word.fold))) return [];
  const sum = parts.reduce((all, { value }) => all + value, 0);
  const isFar = Math.max(sum, total.value) > FAR * Math.min(sum, total.value);
  if (isFar || Math.abs(sum - total.value) < 1e-9) return [];
  const says = `${parts.map(({ value }) => shown(value)).join(" + ")} is ${shown(sum)}, not “${quoted(total.words)}”.`;
  return doubtOf(total.words, subject, says, "Find out which is wrong, or what is left out.", parts[0]?.words);
}

const shown = (value: number): string => Number(value.toPrecision(12)).toLocaleString("en-GB");

/** The words before a total that say it is one. */
const LEAD = /^(?:a|total|of|which|that|makes|making)$/;
const leadOf = (words: readonly Word[], { at }: Figure): readonly Word[] => words.slice(Math.max(0, at - 3), at);

function isWhole(words: readonly Word[], figure: Figure): boolean {
  const before = leadOf(words, figure)
    .map(({ fold }) => fold)
    .join(" ");
  const end = figure.at + figure.words.length;
  const after = [0, 1, 2].map((n) =>
    words
      .slice(end + n, end + n + 2)
      .map(({ fold }) => fold)
      .join(" "),
  );
  const isAfter = after.some(
    (said, n) => AFTER.test(said) && words.slice(end, end + n).every((word) => word.after === ""),
  );
  return isAfter || BEFORE.test(before);
}

/** Whether a figure counts what the total counts: by its unit, or with none where another part has it. */
function isPartOf({ kind, unit, per, role, value }: Figure, total: Figure, parts: readonly Figure[]): boolean {
  if (per !== null || role !== "plain" || value <= 0 || !/^(?:count|money|measure|number)$/.test(kind)) return false;
  const units = new Set([total, ...parts].flatMap((own) => own.unit ?? []));
  const isPeople = [...units].every((own) => PEOPLE.test(own));
  return units.size <= 1 || unit === null || isPeople;
}

/** Who can be summed though they are called by two names: `6 men, 4 women and 3 children, 13 in all`. */
const PEOPLE = /^(?:man|woman|child|boy|girl|adult|pupil|person|passenger|soprano|alto|tenor|bass|singer)$/;
