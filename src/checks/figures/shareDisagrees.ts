import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import { type Lexicon, tellingOf } from "../lexicon.ts";
import { quoted, writtenSentence } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { namesAfterIn } from "./otherThings.ts";
import { announcing } from "./pairs.ts";
import { contextOf, isOfAnotherTime, sharedContext } from "./scope.ts";
import { apposedTo, type Nearness, type Portion, type Share, sharesIn, startsClause } from "./shares.ts";

/** Fractions that people say. A plainly said one is right when no other of them is nearer to the count. */
const COMMON = [1 / 10, 1 / 5, 1 / 4, 1 / 3, 2 / 5, 1 / 2, 3 / 5, 2 / 3, 3 / 4, 4 / 5, 9 / 10];
const NAMES = ["a tenth", "a fifth", "a quarter", "a third", "two-fifths", "half", "three-fifths", "two thirds"];
NAMES.push("three quarters", "four-fifths", "nine-tenths");

/**
 * How far a count may be under and over the share that is said of it, in parts of the whole. Newsroom use, no source:
 * “nearly a third” is 6 points under or half a point over, “under a third” all that is not over.
 */
const SPAN: Readonly<Record<Nearness, readonly [under: number, over: number]>> = {
  plain: [0.03, 0.03],
  about: [0.05, 0.05],
  "just-under": [0.06, 0.005],
  under: [1, 0.005],
  "just-over": [0.005, 0.06],
  over: [0.005, 1],
};
/** Of a small share the span is no more than this part. */
const OF_SMALL = 0.3;
/** A percentage said plainly: rounded to the next one, or to the next five where it ends so. */
const PERCENT = { plain: 0.0101, fives: 0.0201 } as const;

/** Words in common that tell so much are of one thing: then the rest of the whole is not meant. No source. */
const SURELY = 1;
/** How sure the words must make it that both are of one thing, so many sentences apart. Set on reports; no source. */

const LEAST = { near: 0.6, headline: 1.1 } as const;
const NEAR = 2;
/** So many shares and so many counts of an episode are compared. No broadcast that we know has a tenth. */
const MOST = 100;
/** So many words between the two in one sentence still tell one by the other: `a third of the members, 44 of the 220`. */
const BESIDE = 4;
/** Words after which the second speaks of others. */
const TURNS =
  /^(?:and|but|while|whereas|who|not|no|never|nor|against|without|refused|declined|failed|rest|remaining|others?|another|instead|further|more)$/;
const OPPOSITE =
  /^(?:not|no|never|nor|against|without|refused|declined|failed|rest|remaining|others?|another|instead|absent|empty|away|opposed|didn't|don't|haven't|hasn't|weren't|wasn't)$/;

export const shareDisagrees: Check = {
  name: "share-disagrees",
  level: "warns",
  group: "figures",
  reason:
    "Forty-four of 220 members are a fifth of them: a third that its own count denies makes a vote or a survey wrong.",
  looks:
    "A share (“a third of the members”, “one in four”, “20 percent of”) and a count of the same (“44 of the 220 members”) that is no " +
    `such part, side by side, spelled out behind a colon, or within ${NEAR} sentences or in the headlines and the report where telling words are shared. A plain ` +
    "fraction may be 3 points off, or the nearest common one; “about” 5 points; “nearly” up to 6 under, “just over” up to 6 over; " +
    "“more than” and “less than” anything on their side; a plain percentage one point, two where it ends in 0 or 5. " +
    `The first ${MOST} of an episode are compared.`,
  example: "“a third of members voted against”, “44 of the 220 members voted against”: 44 of 220 is a fifth.",
  accept: "They are of two groups, or at two times, and the report says so.",
  judge: (subject) => {
    const { episode, spoken } = subject;
    const written = episode.segments.flatMap((segment) =>
      [segment.title, segment.summary ?? ""].flatMap((text) => writtenSentence(text, segment)),
    );
    const { shares, portions } = sharesIn([...spoken.sentences, ...written]);
    const announces = announcing(episode.segments);
    const all = portions.slice(0, MOST);
    const rivals = shares.slice(0, MOST);
    const own = rivals.flatMap((share) => apposedTo(share)).concat(all);
    const left = [shares[MOST], portions[MOST]].find((one) => one !== undefined);
    const told = rivals.flatMap((share) => {
      const same = own.flatMap((portion) => {
        const sure = howSure(share, portion, announces, subject.lexicon);
        return sure === null ? [] : [{ portion, sure }];
      });
      const beside = same.find(({ sure }) => sure === "beside");
      const first = beside ?? same[0];
      if (first === undefined) return [];
      const fits = (portion: Portion) =>
        agrees(share, partOf(portion)) || (first.sure === "enough" && agreesWithRest(share, partOf(portion)));
      if (fits(first.portion) || (beside === undefined && same.some(({ portion }) => fits(portion)))) return [];
      // Another share of the same segment says what this count is.
      const others = rivals.filter(
        (other) =>
          other !== share && other.sentence.segment === first.portion.sentence.segment && other.unit === share.unit,
      );
      const ratio = partOf(first.portion);
      if (first.sure !== "beside" && others.some((other) => agrees(other, ratio) || agreesWithRest(other, ratio)))
        return [];
      return tell(share, first.portion, subject);
    });
    return left === undefined ? told : [...told, ...notAll(left, subject)];
  },
};

function notAll({ words }: Share | Portion, subject: Subject): readonly Doubt[] {
  const says = `From “${quoted(words)}” on the shares were not compared: the episode has more than ${MOST}.`;
  return doubtOf(words, subject, says, `Go through \`afterair check --figures ${subject.episode.id}\`.`);
}

const partOf = ({ part, whole }: Portion): number => part / whole;

/** A third stayed away where 147 of 220 came. */
const agreesWithRest = (share: Share, ratio: number): boolean =>
  (share.nearness === "plain" || share.nearness === "about") && agrees(share, 1 - ratio);

/** By standing side by side; by words that tell much; by words that tell enough. */
type Sure = "beside" | "surely" | "enough";

/** Whether a share and a portion are of one thing: by standing side by side, or by their words; null: neither. */
function howSure(share: Share, portion: Portion, announces: ReadonlySet<string>, lexicon: Lexicon): Sure | null {
  const ofOne = share.unit === portion.unit || (share.unit === null) !== (portion.unit === null);
  const inOne = share.sentence === portion.sentence;
  if (!ofOne || (share.whole !== null && share.whole !== portion.whole)) return null;
  if (inOne && isBeside(share, portion)) return "beside";
  if (isSaidOf(share, portion) || isSpelledOut(share, portion)) return "beside";
  if (inOne || share.unit === null || portion.unit === null || share.unit !== portion.unit) return null;
  if (isOfAnotherTime(asFigure(share)) !== isOfAnotherTime(asFigure(portion))) return null;
  const segments = [share, portion].map(({ sentence }) => sentence.segment);
  const written = share.words[0]?.written !== portion.words[0]?.written;
  const isNear =
    segments[0] === segments[1] && (written || Math.abs(share.sentence.index - portion.sentence.index) <= NEAR);
  const isAcross = segments[0] !== segments[1] && announces.has(segments[0] ?? "") !== announces.has(segments[1] ?? "");
  if (!isNear && !isAcross) return null;
  if (isOpposed(share) !== isOpposed(portion) || isLimited(share, portion)) return null;
  const shared = sharedContext(contextOf(share, lexicon), contextOf(portion, lexicon));
  if (shared === 0) return null;
  const sure = shared + tellingOf(lexicon, share.unit) + (share.sentence.voice === portion.sentence.voice ? 0.2 : 0);
  if (sure < (isNear && !written ? LEAST.near : LEAST.headline)) return null;
  return shared >= SURELY ? "surely" : "enough";
}

const asFigure = ({ sentence, at, words }: Share | Portion) =>
  ({ sentence, at, words }) as Parameters<typeof isOfAnotherTime>[0];

/** Whether the words around say that it is of those who did not, or of the others. */
function isOpposed({ sentence: { words }, at, words: own }: Share | Portion): boolean {
  const before = words.slice(Math.max(0, at - CLAUSE), at);
  const from = before.findLastIndex(({ after }) => after !== "") + 1;
  const behind = words.slice(at + own.length, at + own.length + CLAUSE);
  const end = behind.findIndex(({ after }) => after !== "");
  const clause = [...before.slice(from), ...own, ...(end === -1 ? behind : behind.slice(0, end + 1))];
  return clause.some(({ fold }) => OPPOSITE.test(fold));
}

/** So many words before and after are of its clause, or say of whom it is. */
const CLAUSE = 30;

/** Whether the later of the two is of fewer than the earlier: `among children, …`. */
function isLimited(share: Share, portion: Portion): boolean {
  const [first, second] = share.sentence.index < portion.sentence.index ? [share, portion] : [portion, share];
  const limits = limitsOf(second);
  return limits !== "" && limits !== limitsOf(first);
}

/** To whom or where the words limit it: `Among children, …`, `… in Sollen`; empty: not limited. */
function limitsOf({ sentence: { words }, at, words: own }: Share | Portion): string {
  const lead = at > CLAUSE ? [] : words.slice(0, at).map(({ fold }) => fold);
  const isLed = LIMITS.test(lead[0] ?? "") && !STOCK.test(lead.join(" "));
  const behind = words.slice(at + own.length - 1, at + own.length + CLAUSE);
  return [...(isLed ? lead : []), ...namesAfterIn(behind)].join(" ");
}

const LIMITS = /^(?:in|among|amongst|at|on|by|for|during|outside|inside|within|north|south|east|west)$/;
const STOCK =
  /^(?:in (?:(?:an?|the) (?:poll|survey|ballot|vote|study|census)|the end|all|fact|total|short|other words|figures|numbers|truth)|on (?:paper|the day)|at (?:last|the count|the end))/;

/** `… 12 of the 48 songs were old. That is a third.` */
function isSaidOf({ sentence, at, unit }: Share, portion: Portion): boolean {
  const away = sentence.index - portion.sentence.index;
  const lead = sentence.words.slice(Math.max(0, at - 4), at).map(({ fold }) => fold);
  if (unit !== null || !/\b(?:that is|that's|which is|that makes|which makes)\b/.test(lead.join(" "))) return false;
  return away === 0
    ? portion.at < at
    : away === 1 && at <= lead.length && sentence.segment === portion.sentence.segment;
}

/** `A third voted against it: 44 of the 220 members.` Or in a sentence of its own: `44 of the 220 members.` */
function isSpelledOut({ sentence, at, words: own, unit }: Share, portion: Portion): boolean {
  if (unit !== null || !startsClause({ words: sentence.words, folds: sentence.words.map(({ fold }) => fold) }, at))
    return false;
  const from = portion.sentence === sentence ? portion.at : sentence.words.length;
  const between = sentence.words.slice(at + own.length, from);
  const last = between.at(-1)?.after ?? "";
  if (between.length === 0 || between.length > CLAUSE || between.slice(0, -1).some(({ after }) => after !== ""))
    return false;
  if (portion.sentence === sentence) return portion.at > at && /[:;–—]/.test(last);
  const isNext = portion.sentence.index === sentence.index + 1 && portion.sentence.segment === sentence.segment;
  return isNext && portion.at === 0 && portion.words.length === portion.sentence.words.length;
}

/** Whether only a few words, none of which turns to others, stand between the two. */
function isBeside(share: Share, portion: Portion): boolean {
  const [first, second] = share.at < portion.at ? [share, portion] : [portion, share];
  const between = first.sentence.words.slice(first.at + first.words.length, second.at);
  const before = first.sentence.words[first.at + first.words.length - 1]?.after ?? "";
  const isSplit =
    before !== "" || between.some(({ fold, after }) => after !== "" || /^(?:or|is|are|meaning)$/.test(fold));
  return isSplit && between.length <= BESIDE && !between.some(({ fold }) => TURNS.test(fold));
}

/** Whether a part of the whole can be called by a share. `ratio`: 0 to 1. */
export function agrees(
  { value, isPercent, nearness }: Pick<Share, "value" | "isPercent" | "nearness">,
  ratio: number,
): boolean {
  if (isPercent && nearness === "plain") {
    const slack = Math.round(value * 1000) % 50 === 0 ? PERCENT.fives : PERCENT.plain;
    return Math.abs(ratio - value) <= slack;
  }
  const [under, over] = SPAN[nearness].map((span) =>
    span < 0.1 && span > 0.01 ? Math.min(span, value * OF_SMALL) : span,
  );
  if (ratio >= value - (under ?? 0) - 1e-9 && ratio <= value + (over ?? 0) + 1e-9) return true;
  const isLoose = nearness === "plain" || nearness === "about";
  const isNear = Math.abs(ratio - value) <= Math.min(SPAN.about[0], value * OF_SMALL) + 1e-9;
  return isLoose && !isPercent && isNear && Math.abs(ratio - value) <= Math.abs(ratio - nearestTo(ratio)) + 1e-9;
}

const nearestTo = (ratio: number): number =>
  COMMON.reduce((best, own) => (Math.abs(own - ratio) < Math.abs(best - ratio) ? own : best));

function tell(share: Share, portion: Portion, subject: Subject): readonly Doubt[] {
  const ratio = partOf(portion);
  const near = nearestTo(ratio);
  const name = Math.abs(near - ratio) <= SPAN.plain[0] ? `, about ${NAMES[COMMON.indexOf(near)]}` : "";
  const percent = Number((ratio * 100).toFixed(1));
  const [first] = portion.words;
  const where = first?.written === true ? "in the title or summary" : atTime(first?.seconds ?? 0);
  const says =
    `“${quoted(share.words)}” here, “${quoted(portion.words)}” ${where}: ${portion.part} of ${portion.whole} is ` +
    `${percent} percent${name}.`;
  return doubtOf(share.words, subject, says, "Work it out again; one of the figures is wrong.", portion.words);
}
