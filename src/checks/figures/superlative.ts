import type { SegmentKind } from "../../model/episode.ts";
import { grouped } from "../../model/grouped.ts";
import type { Check } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import type { Lexicon } from "../lexicon.ts";
import { once } from "../once.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import { isYear, type Line, lineOf, numberAt } from "./line.ts";
import { COMPARED_WITH } from "./pairs.ts";
import { type Context, contextOf, sharedContext } from "./scope.ts";
import { singularOf } from "./things.ts";

const NO_SUPERLATIVE =
  /^(?:west|east|rest|test|guest|forest|interest|request|protest|arrest|contest|harvest|honest|modest|invest|suggest|nest|chest|priest|quest|pest|vest|zest|digest|manifest|conquest|earnest|breast|northwest|southwest|northeast|southeast|budapest|bucharest|everest|midwest|tempest|inquest|dishonest|unrest|crest)$/;
/** How many words after the adjective its scope may begin. */
const REACH = 8;
/** “The first” is said of so many things that telling words must be shared. */
const TELLING = 1;

/** “the coldest night in forty years”: what it says, and how far back. */
interface Superlative {
  readonly adjective: string;
  /** The noun right after it, in the singular; null: none. */
  readonly noun: string | null;
  /** The first year it speaks of; null: of all that is recorded. */
  readonly since: number | null;
  /** Within how many years `since` is meant. */
  readonly slack: number;
  readonly words: readonly Word[];
  readonly sentence: Sentence;
  readonly context: () => Context;
}

export const superlativeChanges: Check = {
  name: "superlative-changes",
  level: "warns",
  group: "figures",
  reason:
    "“The coldest in forty years” and “the coldest on record” are two claims; a report that makes both has checked neither.",
  looks:
    "The same superlative, and the same noun where both have one, with another reach back: “in N years”, “since 1998”, “on record”, " +
    `“ever”, “in living memory”; in one segment, or in the headlines and a report. Each is compared with the ${COMPARED_WITH} that follow it.`,
  example: "“the coldest night in forty years” at 0:15, “the coldest on record” at 2:20.",
  accept: "They are of two things, or both were checked.",
  judge: (subject) => {
    const year = Number(subject.date.slice(0, 4));
    const all = subject.spoken.sentences.flatMap((sentence) => superlativesIn(sentence, year, subject.lexicon));
    const ofAdjective = grouped(all, ({ adjective }) => adjective);
    const places = new Map([...ofAdjective.values()].flatMap((own) => own.map((one, n) => [one, n] as const)));
    const kinds = new Map(subject.episode.segments.map(({ slug, kind }) => [slug, kind]));
    return all.flatMap((first) => {
      const from = (places.get(first) ?? 0) + 1;
      const after = ofAdjective.get(first.adjective)?.slice(from, from + COMPARED_WITH) ?? [];
      const second = after.find((other) => isOne(first, other, kinds) && !agree(first, other));
      if (second === undefined) return [];
      const says = `“${quoted(first.words)}” here, “${quoted(second.words)}” ${atTime(second.words[0]?.seconds ?? 0)}.`;
      return doubtOf(
        first.words,
        subject,
        says,
        "Find out how far back it goes, and say the same in both places.",
        second.words,
      );
    });
  },
};

/** Whether two of one adjective speak of one thing. `kinds`: of the segments, by slug. */
function isOne(a: Superlative, b: Superlative, kinds: ReadonlyMap<string, SegmentKind>): boolean {
  if (a.sentence === b.sentence) return false;
  if (a.noun !== null && b.noun !== null ? a.noun !== b.noun : a.adjective === "first") return false;
  if (a.adjective === "first" && sharedContext(a.context(), b.context()) < TELLING) return false;
  const isIn = ({ sentence }: Superlative, kind: SegmentKind) => kinds.get(sentence.segment ?? "") === kind;
  return a.sentence.segment === b.sentence.segment || isIn(a, "headlines") || isIn(b, "headlines");
}

function agree(a: Superlative, b: Superlative): boolean {
  if (a.since === null || b.since === null) return a.since === b.since;
  return Math.abs(a.since - b.since) <= Math.max(a.slack, b.slack);
}

function superlativesIn(sentence: Sentence, year: number, lexicon: Lexicon): Superlative[] {
  const { words } = sentence;
  let line: Line | null = null;
  return words.flatMap((word, at) => {
    const isMost = /^(?:most|least)$/.test(word.fold) && words[at + 1] !== undefined;
    const isOwn =
      word.fold === "worst" ||
      word.fold === "first" ||
      (/^[a-z]{2,}est$/.test(word.fold) && !NO_SUPERLATIVE.test(word.fold));
    if (!isMost && !isOwn) return [];
    const end = isMost ? at + 1 : at;
    line ??= lineOf(words);
    const scope = scopeAfter(line, end, year);
    if (scope === null) return [];
    const next = words[end + 1];
    const isNoun = next !== undefined && words[end]?.after === "" && scope.from > end + 1;
    const adjective = words
      .slice(at, end + 1)
      .map(({ fold }) => fold)
      .join(" ");
    const noun = isNoun ? (singularOf(next.fold) ?? next.fold) : null;
    const own = words.slice(at, scope.to);
    // What stands around the adjective; its scope may share words too.
    const counted = { sentence, at, words: own.slice(0, 1), unit: noun, per: null };
    const context = once(() => contextOf(counted, lexicon));
    return [{ adjective, noun, since: scope.since, slack: scope.slack, words: own, sentence, context }];
  });
}

interface Scope extends Pick<Superlative, "since" | "slack"> {
  readonly from: number;
  readonly to: number;
}

/** How far back the words after an adjective say that it holds. */
function scopeAfter(line: Line, adjective: number, year: number): Scope | null {
  const { words, folds } = line;
  for (let from = adjective + 1; from <= adjective + REACH && from < words.length; from++) {
    const [own, next, third] = [folds[from] ?? "", folds[from + 1] ?? "", folds[from + 2] ?? ""];
    const all = (to: number): Scope => ({ since: null, slack: 0, from, to });
    if (own === "ever") return all(from + 1);
    if (own === "on" && /^records?$/.test(next)) return all(from + 2);
    if (own === "in" && (next === "history" || (next === "living" && third === "memory")))
      return all(from + 2 + Number(next === "living"));
    if (/^(?:in|for)$/.test(own)) {
      const start = /^(?:over|about|nearly|almost|more|the)$/.test(next) ? from + (third === "than" ? 3 : 2) : from + 1;
      const number = numberAt(line, folds[start] === "last" ? start + 1 : start);
      const named = folds[number?.to ?? start] ?? "";
      if (number !== null && /^years?$/.test(named))
        return { since: year - number.value, slack: 1, from, to: number.to + 1 };
      if (number !== null && named === "decades")
        return { since: year - number.value * 10, slack: 5, from, to: number.to + 1 };
      if (next === "a" && /^(?:decade|century|generation)$/.test(third)) {
        const back = { decade: 10, century: 100, generation: 25 }[third] ?? 10;
        return { since: year - back, slack: back / 5, from, to: from + 3 };
      }
    }
    const since = own === "since" ? numberAt(line, from + 1) : null;
    if (since !== null && isYear(since.value)) return { since: since.value, slack: 1, from, to: since.to };
  }
  return null;
}
