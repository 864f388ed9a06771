import type { Sentence } from "../speech.ts";

/** When something happens, seen from the broadcast. */
type Tense = "past" | "future";

/** What the words around a date say of when it is. */
export interface SaidWhen {
  /** null: they don't say. */
  readonly tense: Tense | null;
  /** -1, 0 or 1 for `last year`, `this year`, `next year` beside it; null: they don't say. */
  readonly yearsOn: number | null;
}

/** Words that say when: of something to come, also as a timetable has it (“opens”). `would` and `was to` are of neither. */
const FUTURE =
  /^(?:will|won't|shall|it'll|he'll|she'll|they'll|we'll|i'll|that'll|opens|reopens|begins|starts|closes|ends|returns|due|tomorrow|coming|upcoming)$/;
const FUTURE_PHRASES =
  /\b(?:(?:is|are|am|i'm|we're|they're|he|she|it) (?:going|set|planning|hoping|expected|scheduled) (?:to|for)|(?:is|are) to [a-z]+)\b/;
/** Of something that has happened: forms of `be`, `have` and `do`, and the pasts of common verbs of the news. */
const PAST =
  /^(?:was|were|did|didn't|wasn't|weren't|happened|died|killed|sank|fell|broke|began|started|ended|opened|closed|came|went|left|arrived|sailed|crashed|collapsed|hit|struck|burned|burnt|dragged|damaged|stopped|froze|won|lost|beat|drew|took|stole|shot|found|met|held|caught|attacked|arrested|married|born|flooded|landed|launched|disappeared|vanished|escaped|resigned|retired|finished|saw|drove|ran|swam|walked|moved|wrecked|ran|rang|blew|grounded|drowned|snowed|rained|visited|signed|elected|tore|swept|washed|destroyed|shook|burst|flew|sold|bought|gave|chose|celebrated|buried|marched|appeared)$/;
/** What makes a verb of the past say nothing of the day: it was to come, planned, spoken of, or only thought. */
const UNSURE =
  /^(?:would|could|should|might|may|can|must|if|unless|until|till|by|for|before|planned|plan|plans|announced|promised|scheduled|proposed|arranged|booked|invited|hoped|hopes|wanted|wants|voted|agreed|agrees|ordered|adjourned|postponed|delayed|expected|expects|invites|deadline|due|ready|called|from|every|each|annual|usually|always|next)$/;
/** Pairs of words that are of neither: `was to open on 5 May`, `was going to`. */
const WAS_TO_COME = /\b(?:was|were) (?:to|going|due|about|supposed|meant|set|planning|hoping) /;
/** An infinitive: `decided to close on 5 May`. */
const INFINITIVE = /\bto (?!the |a |an |his |her |its |their |our |my |this |that )[a-z]+/;

/**
 * The tense of what is said to be on a day: by the verbs of its clause; null where they say both, neither, or something that
 * was yet to come. English.
 */
function tenseAt(words: Words, { from, at, end, to }: Clause): Tense | null {
  const before = words.slice(from, at).map(({ fold }) => fold);
  const own = tenseOf(
    before,
    words.slice(end, to).map(({ fold }) => fold),
  );
  if (own !== undefined) return own;
  // `On Saturday, 14 March, the ferry sank`; `she said that on 14 March, it sank`; `the cable broke in a storm, on the night of 14 March`.
  const that = before.lastIndexOf("that");
  if (!before.slice(that + 1).every((fold) => LEADS.test(fold))) return null;
  const isBegun = from === 0 || that !== -1;
  return tenseOf(isBegun ? clauseAfter(words, to) : clauseBefore(words, from), []) ?? null;
}

/** Words `from` to before `to`, among them a figure from `at` to before `end`. */
interface Clause {
  readonly from: number;
  readonly at: number;
  readonly end: number;
  readonly to: number;
}

/** The words around a figure back to a stop and forward to the next. */
function clauseAround(words: Words, at: number, length: number): Clause {
  let from = at;
  // A comma inside the date's own phrase, or before `on`, ends no clause: `on Saturday, 14 March`.
  while (from > 0 && from > at - CLAUSE && !/[,;:.!?]/.test(words[from - 1]?.after ?? "")) from -= 1;
  let to = at + length;
  while (to < words.length && to < at + CLAUSE && !/[,;:.!?]/.test(words[to - 1]?.after ?? "")) to += 1;
  return { from, at, end: at + length, to };
}

/** What the words around the day that begins with word `at` of a sentence say of when it is. English. */
export function whenAt({ words }: Sentence, at: number, length: number): SaidWhen {
  return { tense: tenseAt(words, clauseAround(words, at, length)), yearsOn: yearsOnBeside(words, at, at + length) };
}

const YEARS_ON: ReadonlyMap<string, number> = new Map([
  ["last", -1],
  ["this", 0],
  ["next", 1],
]);
const JOINS = /^(?:on|of|in)$/;

/** `on Friday, 18 June next year`, `next year on Friday, 18 June`; not `18 June, when last year's winner …`. */
function yearsOnBeside(words: Words, at: number, end: number): number | null {
  const after = JOINS.test(words[end]?.fold ?? "") ? end + 1 : end;
  const before = JOINS.test(words[at - 1]?.fold ?? "") ? at - 3 : at - 2;
  const said = [after, before].flatMap((n) =>
    /^year$/i.test(words[n + 1]?.text ?? "") ? [YEARS_ON.get(words[n]?.fold ?? "")] : [],
  );
  return said.length === 1 ? (said[0] ?? null) : null;
}

/** So many words of a clause are read. */
const CLAUSE = 30;
const LEADS = /^(?:on|in|the|night|morning|evening|afternoon|of|early|late|and|it|back)$/;

type Words = Sentence["words"];

function clauseBefore(words: Words, end: number): readonly string[] {
  let from = end - 1;
  while (from > 0 && from > end - CLAUSE && !/[,;:.!?]/.test(words[from - 1]?.after ?? "")) from -= 1;
  return words.slice(Math.max(0, from), end).map(({ fold }) => fold);
}

function clauseAfter(words: Words, start: number): readonly string[] {
  let to = start + 1;
  while (to < words.length && to < start + CLAUSE && !/[,;:.!?]/.test(words[to - 1]?.after ?? "")) to += 1;
  return words.slice(start, to).map(({ fold }) => fold);
}

/** The tense of a clause in two halves, before and after the day; null: unclear; undefined: no verb says. */
function tenseOf(before: readonly string[], after: readonly string[]): Tense | null | undefined {
  const folds = [...before, ...after];
  const said = `${folds.join(" ")} `;
  const isPast = folds.some((fold) => PAST.test(fold));
  const isFuture = folds.some((fold) => FUTURE.test(fold)) || FUTURE_PHRASES.test(said);
  if (WAS_TO_COME.test(said) || (isFuture && folds.some((fold) => /^(?:would|if)$/.test(fold)))) return null;
  // `The ship that sank on 6 March will be raised`: the last verb before the day says when that was.
  const lastOf = (kind: RegExp) => before.findLastIndex((fold) => kind.test(fold));
  if (isFuture && isPast && lastOf(FUTURE) === lastOf(PAST)) return null;
  if (isFuture && (!isPast || lastOf(FUTURE) > lastOf(PAST))) return "future";
  if (!isPast) return folds.some((fold) => UNSURE.test(fold)) ? null : undefined;
  const isUnsure = folds.some((fold) => UNSURE.test(fold)) || INFINITIVE.test(`${before.join(" ")} `);
  return isUnsure ? null : "past";
}
