import { grouped } from "../../model/grouped.ts";
import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import type { Lexicon } from "../lexicon.ts";
import { quoted, type Sentence } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { type Journey, journeysOf, type Speed, speedOf } from "./journeys.ts";
import { ROUGH, SLACK } from "./rate.ts";
import { contextOf, sharedContext } from "./scope.ts";
import { withPer } from "./withWords.ts";

/** A journey is compared with the speeds of so many sentences before and after it. */
const NEAR = 2;
/** So much must the words in common tell where no other word joins the two. Set on reports; no source. */
const LEAST = 0.5;
/** So many journeys and speeds of a segment are compared. No segment of a broadcast that we know has ten. */
const MOST = 30;

/** A sentence of more words is a transcript without stops, in which nothing says what belongs together. */
const LONG = 120;

/** A speed that is no more than a bound, and a journey told to be unlike it. */
const BOUND = /^(?:up|top|limit|maximum|max|peak|gusts?|gusting|fastest|least|record)$/;
const UNLIKE =
  /^(?:against|but|while|whereas|usually|usual|normally|instead|than|last|though|although|faster|slower|if|only|then|new|old|other|another|second|both)$/;
/** What moves: of two that differ, one does not tell of the other. */
const MOVER =
  /^(?:current|tide|wind|storm|gale|stream|ferry|boat|ship|vessel|yacht|trawler|lifeboat|train|tram|bus|car|lorry|truck|van|bicycle|bike|plane|aircraft|helicopter|swimmer|runner|walker|rower|cyclist|horse|fire|ice|glacier|whale|seal|rocket|balloon|drone|van)s?$/;
/** Nobody calls these by `she` or `they`. */
const NATURE = /^(?:current|tide|wind|storm|gale|stream|fire|ice|glacier|lava|smoke|flood|wave)s?$/;
const PRONOUN = /^(?:it|it's|she|he|they|that|this|which|we|i)$/;
const SO = /^(?:so|therefore|meaning|average|averaging|averaged|works)$/;

export const speedDisagrees: Check = {
  name: "speed-disagrees",
  level: "warns",
  group: "figures",
  reason:
    "Twelve kilometres in two hours are six an hour: a speed that its own distance and time deny sends boats out late.",
  looks:
    `A distance in a time (“twelve kilometres in two hours”) and a speed (“an hour”, “every hour”, “knots”) within ${NEAR} sentences, ` +
    "joined by “so”, “that is”, a pronoun or telling words, that differ by more than 5% (20% where one is said to be rough). Top " +
    "speeds, gusts, “against” and two things that move are left out. Units by their exact definitions.",
  example:
    "“The current runs at three and a half kilometres every hour”, “so in two hours it carries a boat twelve kilometres”.",
  accept: "They are of two journeys, or the boat stopped on its way.",
  judge: (subject) => {
    const speeds = grouped(
      subject.figures.map(speedOf).filter((speed) => speed !== null),
      ({ sentence }) => sentence.segment,
    );
    if (speeds.size === 0) return [];
    const journeys = [...grouped(subject.figures, ({ sentence }) => sentence).values()].flatMap(journeysOf);
    return [...grouped(journeys, ({ sentence }) => sentence.segment)].flatMap(([segment, own]) => {
      const some = (speeds.get(segment) ?? []).slice(0, MOST);
      return own.slice(0, MOST).flatMap((journey) => {
        const near = some.filter(
          (speed) =>
            speed.pace === journey.pace && isNear(speed.sentence, journey.sentence) && !isWithin(speed, journey),
        );
        if (near.some((speed) => !differ(speed, journey))) return [];
        const clash = near.find((speed) => isOfOne(speed, journey, subject.lexicon));
        if (clash === undefined || own.some((other) => other !== journey && !differ(clash, other))) return [];
        return tell(clash, journey, subject);
      });
    });
  },
};

const isNear = (a: Sentence, b: Sentence): boolean => Math.abs(a.index - b.index) <= NEAR;
const isWithin = (speed: Speed, { sentence, at, words }: Journey): boolean =>
  speed.sentence === sentence && speed.at >= at && speed.at < at + words.length;

function differ(speed: Speed, journey: Journey): boolean {
  const isRough = [speed, journey].some(({ sentence, at, words }) =>
    sentence.words.slice(Math.max(0, at - 2), at + words.length).some(({ fold }) => ROUGH.test(fold)),
  );
  const slack = isRough ? SLACK.rough : SLACK.exact;
  return Math.abs(speed.speed - journey.speed) > Math.max(speed.speed, journey.speed) * slack;
}

/** Whether the words say that a journey was made at a speed. */
function isOfOne(speed: Speed, journey: Journey, lexicon: Lexicon): boolean {
  if ([speed, journey].some(({ sentence }) => sentence.words.length > LONG)) return false;
  const [first, second] = isFirst(speed, journey) ? [speed, journey] : [journey, speed];
  const inOne = first.sentence === second.sentence;
  const link = inOne
    ? first.sentence.words.slice(first.at + first.words.length, second.at + second.words.length)
    : second.sentence.words.slice(0, second.at + second.words.length);
  const around = inOne ? first.sentence.words : [...first.sentence.words, ...second.sentence.words];
  const before = speed.sentence.words.slice(Math.max(0, speed.at - 5), speed.at);
  if (before.some(({ fold }) => BOUND.test(fold))) return false;
  const says = link.map(({ fold }) => fold);
  const isSo =
    says.some((fold) => SO.test(fold)) ||
    /\b(?:that is|that's|which is|at that|at this|that means|which means|that makes|comes to)\b/.test(says.join(" "));
  const nature = moversIn(first.sentence.words, NATURE);
  const goesOn = says.some(
    (fold) => /^(?:it|its|that|this|which|drift[a-z]*|carr[a-z]*)$/.test(fold) || nature.has(fold),
  );
  if (nature.size > 0 && !goesOn) return false;
  if (isSo) return true;
  if (around.some(({ fold }) => UNLIKE.test(fold))) return false;
  const [movers, others] = inOne
    ? [moversIn(first.sentence.words.slice(0, first.at + first.words.length)), moversIn(link)]
    : [moversIn(first.sentence.words), moversIn(second.sentence.words)];
  // `It carries a boat`: the boat is carried, and what moves is `it`.
  const subject = says.find((fold) => PRONOUN.test(fold) || MOVER.test(fold)) ?? "";
  if (others.size > 0 && !/^(?:it|which|that)$/.test(subject))
    return movers.size === others.size && [...others].every((mover) => movers.has(mover));
  if (!inOne && isOtherPerson(first.sentence, second.sentence)) return false;
  const isNext = inOne || second.sentence.index - first.sentence.index === 1;
  if (isNext && first.sentence.voice === second.sentence.voice && says.some((fold) => PRONOUN.test(fold))) return true;
  return sharedContext(contextOf(speed, lexicon), contextOf(journey, lexicon)) >= LEAST;
}

const isFirst = (a: Speed, b: Journey): boolean =>
  a.sentence === b.sentence ? a.at < b.at : a.sentence.index < b.sentence.index;
/** `She runs …. He runs …`. */
const isOtherPerson = (a: Sentence, b: Sentence): boolean =>
  (has(a, "she") && has(b, "he") && !has(b, "she")) || (has(a, "he") && has(b, "she") && !has(b, "he"));
const has = ({ words }: Sentence, word: string): boolean => words.some(({ fold }) => fold === word);
const moversIn = (words: Sentence["words"], kind = MOVER): ReadonlySet<string> =>
  new Set(words.flatMap(({ fold }) => (kind.test(fold) ? [fold.replace(/s$/, "")] : [])));

function tell(speed: Speed, journey: Journey, subject: Subject): readonly Doubt[] {
  const { value, per } = speed.figure;
  // In the unit of the speed: it is to the journey's speed as its number is to the one that is wanted.
  const worked = Number(((value * journey.speed) / speed.speed).toPrecision(3)).toLocaleString("en-GB");
  const sum = `${worked} ${plural(speed.unit)}${per === null ? "" : ` ${/^[aeiou]|hour/.test(per) ? "an" : "a"} ${per}`}`;
  const says = `“${quoted(journey.words)}” is ${sum}, not “${withPer(speed.figure)}” as ${atTime(speed.words[0]?.seconds ?? 0)}.`;
  return doubtOf(journey.words, subject, says, "Work it out again; one of the figures is wrong.", speed.words);
}

function plural(unit: string): string {
  const [first = "", ...rest] = unit.split(" ");
  if (first === "nautical") return `${unit}s`;
  return [first === "foot" ? "feet" : first === "inch" ? "inches" : `${first}s`, ...rest].join(" ");
}
