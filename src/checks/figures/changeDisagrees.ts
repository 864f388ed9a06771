import { grouped } from "../../model/grouped.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import type { Figure } from "./line.ts";

/** How far a percentage may be from what the two ends make: points, more where it ends in 0 or 5, parts where it is rough. No source. */
const SLACK = { plain: 1, fives: 2, rough: 0.2 } as const;
/** “Doubled” is twice as much, to a tenth. No source. */
const TIMES_SLACK = 0.1;
/** So many words beside a figure say that it is a change. */
const BESIDE = 4;
const UP =
  /^(?:ris(?:e|es|en|ing)|rose|increas(?:e|es|ed)|grow(?:s|n|th)?|grew|gain(?:s|ed)?|jump(?:s|ed)?|climb(?:s|ed)?|up|more|higher)$/;
const DOWN =
  /^(?:fall(?:s|en|ing)?|fell|drop(?:s|ped)?|decreas(?:e|es|ed)|declin(?:e|es|ed)|cuts?|reduc(?:es|ed|tion)|loss|shr(?:ank|inks|unk)|down|less|lower|fewer)$/;
/** They can compare with something else than the other end. */
const NO_VERB = /^(?:more|less|higher|lower|fewer|loss|cuts?)$/;
const ROUGH = /^(?:about|around|nearly|almost|roughly|some|approximately|over|under|than|least|close)$/;
/** Words that speak of other things besides the one change. */
const ELSE = /^(?:while|whereas|but|although|compared|inflation|year|average|target|points?)$/;
const MULTIPLES: readonly (readonly [RegExp, number])[] = [
  [/^doubl(?:e|es|ed|ing)$/, 2],
  [/^(?:trebl|tripl)(?:e|es|ed|ing)$/, 3],
  [/^quadrupl(?:e|es|ed|ing)$/, 4],
  [/^halv(?:e|es|ed|ing)$/, 1 / 2],
];

export const changeDisagrees: Check = {
  name: "change-disagrees",
  level: "warns",
  group: "figures",
  reason:
    "From 200 tonnes to 300 is half as much again: a percentage that its own two ends deny is what people pass on.",
  looks:
    "A change with both ends (“from 200 tonnes to 300 tonnes”) and, in the same sentence, how much that is: a percentage (to one " +
    "point, two where it ends in 0 or 5, a fifth of it where it is rough), “doubled”, “trebled”, “quadrupled” or “halved” (to a tenth), " +
    "or the difference in the same unit; and one that is said to rise and falls, or the other way round.",
  example: "“from 200 tonnes to 300 tonnes, a rise of 30 percent”: 50 percent.",
  accept: "The percentage is of something else, and the report says so.",
  judge: (subject) =>
    [...grouped(subject.figures, ({ sentence }) => sentence)].flatMap(([sentence, figures]) => {
      const [change, second] = changesIn(figures);
      if (change === undefined || second !== undefined || sentence.words.some(({ fold }) => ELSE.test(fold))) return [];
      return [...figures.flatMap((own) => ofFigure(own, change, subject)), ...inWords(change, subject)];
    }),
};

interface Change {
  readonly from: Figure;
  readonly to: Figure;
}

/** `from 200 tonnes to 300 tonnes` in each place of a sentence. */
const changesIn = (figures: readonly Figure[]): readonly Change[] =>
  figures.flatMap((to, n) => {
    const from = figures[n - 1];
    const isOne = from?.role === "from" && to.role === "to" && from.per === to.per;
    // `from 300 to 450 members`.
    const isAlike = from?.unit === to.unit || from?.kind === "number";
    const isAmount = ["count", "money", "measure", "number"].includes(to.kind);
    return isOne && isAlike && isAmount && from.value > 0 && from.value !== to.value ? [{ from, to }] : [];
  });

/** A percentage, or an amount of the same, that is said to be the change. */
function ofFigure(own: Figure, { from, to }: Change, subject: Subject): readonly Doubt[] {
  if (own === from || own === to || !isChange(own)) return [];
  const difference = Math.abs(to.value - from.value);
  const percent = (difference / from.value) * 100;
  const isPercent = own.kind === "percent";
  // What is more than both ends is of something else.
  if (!isPercent && (own.unit !== to.unit || own.unit === null || own.value > Math.max(from.value, to.value)))
    return [];
  const right = isPercent ? percent : difference;
  const slack = isRough(own)
    ? Math.max(SLACK.plain, right * SLACK.rough)
    : isPercent
      ? own.value % 5 === 0
        ? SLACK.fives
        : SLACK.plain
      : 0;
  if (Math.abs(own.value - right) <= slack + 1e-9) return [];
  return tell(own.words, { from, to }, subject);
}

/** `doubled`, `halved`; `rose from nine to five`. */
function inWords(change: Change, subject: Subject): readonly Doubt[] {
  const { from, to } = change;
  const { words } = from.sentence;
  const [ratio, end] = [to.value / from.value, to.at + to.words.length];
  const before = [...words.keys()].slice(Math.max(0, from.at - 1 - BESIDE), from.at - 1);
  const after = [...words.keys()].slice(end, end + BESIDE);
  for (const at of [...before, ...after]) {
    const times = MULTIPLES.find(([name]) => name.test(words[at]?.fold ?? ""))?.[1];
    if (times !== undefined && !isMultiple(ratio, times, words[at - 1]?.fold ?? ""))
      return tell(words.slice(at, at + 1), change, subject);
  }
  const verb = before.findLast((at) => (isUp(words[at]) || isDown(words[at])) && !NO_VERB.test(words[at]?.fold ?? ""));
  if (verb === undefined || isUp(words[verb]) === ratio > 1) return [];
  return tell(words.slice(verb, verb + 1), change, subject);
}

const isUp = (word: Word | undefined): boolean => UP.test(word?.fold ?? "");
const isDown = (word: Word | undefined): boolean => DOWN.test(word?.fold ?? "");

/** “More than doubled” is over twice as much, “nearly doubled” a fifth under it at most. */
function isMultiple(ratio: number, times: number, before: string): boolean {
  const [said, own] = times < 1 ? [1 / times, 1 / ratio] : [times, ratio];
  if (before === "than") return own >= said * (1 - TIMES_SLACK / 10);
  if (/^(?:nearly|almost|about|around|roughly)$/.test(before)) return Math.abs(own - said) <= said * SLACK.rough;
  return Math.abs(own - said) <= said * TIMES_SLACK;
}

/** `a rise of 30 percent`, `by ten crowns`, `30 percent more`. */
function isChange({ sentence: { words }, at, words: own }: Figure): boolean {
  const before = words.slice(Math.max(0, at - BESIDE), at);
  const isOf = before.some(
    (word, n) => (isUp(word) || isDown(word)) && before.slice(n).some(({ fold }) => fold === "of"),
  );
  const next = words[at + own.length];
  return isOf || before.at(-1)?.fold === "by" || isUp(next) || isDown(next);
}

const isRough = ({ sentence: { words }, at }: Figure): boolean =>
  words.slice(Math.max(0, at - 2), at).some(({ fold }) => ROUGH.test(fold));

function tell(words: Figure["words"], { from, to }: Change, subject: Subject): readonly Doubt[] {
  const difference = Number((to.value - from.value).toPrecision(10));
  const percent = Number(((Math.abs(difference) / from.value) * 100).toPrecision(3));
  const [a, b, more] = [from.value, to.value, Math.abs(difference)].map((value) => value.toLocaleString("en-GB"));
  const says = `“${quoted(words)}”, but from ${a} to ${b} is ${more} ${difference > 0 ? "more" : "less"}, ${percent} percent of ${a}.`;
  return doubtOf(words, subject, says, "Work it out again; one of the figures is wrong.", from.words);
}
