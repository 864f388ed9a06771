import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** The two sides of a criminal court. */
type Side = "prosecution" | "defence";

/** So many words that both sides are said to have said are no chance; so many of them must say something. No source. */
const [RUN, TELLING] = [4, 2] as const;
/** So many sentences of each side are compared. No report that we know has ten. */
const MOST = 40;
/** A sentence of more words is a transcript without stops. */
const LONG = 80;

const PROSECUTION =
  /^(?:(?:for|of) the prosecution|the prosecution (?:said|says|told|called|argued|described|asked|claimed|alleged|opposed)|(?:the )?prosecutors?|prosecuting)\b/;
const DEFENCE =
  /^(?:(?:for|of) the defen[cs]e|the defen[cs]e (?:said|says|told|called|argued|described|asked|claimed|denied)|defen[cs]e (?:lawyer|counsel|barrister|solicitor|team|attorney)s?|defending)\b/;
const REPORTS =
  /^(?:said|says|say|saying|called|calls|told|tells|argued|argues|described|describes|asked|claimed|claims|insisted|submitted|added|denied|denies|warned|replied|accused|put|pointed)$/;
const NOT = /^(?:not|no|never|hardly|denied|nor|isn't|wasn't|neither)$/;
const SMALL =
  /^(?:the|and|that|this|these|those|with|from|have|has|had|was|were|been|are|for|his|her|their|its|who|what|which|when|would|could|should|will|there|they|them|him|she|not|but|judge|court|case|said|says|told|charge|charges|guilty|plea|client|defendant|trial|hearing|jury|prosecution|prosecutor|defence|defense|asked|enter|pleaded|bail)$/;

export const courtSidesDiffer: Check = {
  name: "court-sides-differ",
  level: "warns",
  group: "cautions",
  reason:
    "Words of the defence given to the prosecutor turn a court report round, and can be defamatory: they are mended at once.",
  looks:
    `The same ${RUN} words or more, ${TELLING} of them telling, that one sentence gives to the prosecution and another to the defence (by “for the ` +
    "defence”, “the prosecutor”, or a name that was said with it), unless one denies them; and one name said to be of both sides. " +
    `The first ${MOST} sentences of each side in an episode are compared.`,
  example:
    "“The prosecutor called him a man of good standing”, “Perpetua Wyle, for the defence, said he was a man of good standing”.",
  accept: "Both sides used the words, and the report says so.",
  judge: (subject) => {
    const likely = subject.spoken.sentences.filter(({ words }) => words.length <= LONG);
    const names = namesOfSides(likely);
    const both = [...names].flatMap(([name, said]) => namedTwice(name, said, subject));
    const given = likely.flatMap((sentence) => sidesOf(sentence, names));
    const [ours, theirs] = (["prosecution", "defence"] as const).map((side) =>
      given.filter((own) => own.side === side).slice(0, MOST),
    );
    const told = (ours ?? []).flatMap((a) =>
      (theirs ?? []).flatMap((b) => {
        const run = longestRun(a, b);
        return run === null ? [] : tell(run, subject);
      }),
    );
    return [...both, ...told.slice(0, MOST)];
  },
};

interface Named {
  readonly side: Side;
  readonly words: readonly Word[];
}

/** Surnames that stand beside what says a side, with the places: `Perpetua Wyle, for the defence`, `the prosecutor, Edric Cotterby`. */
export function namesOfSides(sentences: readonly Sentence[]): ReadonlyMap<string, readonly Named[]> {
  const names = new Map<string, Named[]>();
  for (const { words } of sentences) {
    for (let at = 0; at < words.length; at += 1) {
      const found = sideAt(words, at);
      if (found === null) continue;
      const before = nameBefore(words, at);
      const person = before.length > 1 ? before : nameFrom(words, found.to);
      const last = person.at(-1);
      if (last === undefined || person.length < 2) continue;
      names.set(last.fold, [...(names.get(last.fold) ?? []), { side: found.side, words: person }]);
    }
  }
  return names;
}

function sideAt(words: readonly Word[], at: number): { side: Side; to: number } | null {
  const fold = words[at]?.fold ?? "";
  if (!/^(?:for|of|the|prosec|defen)/.test(fold)) return null;
  const said = words
    .slice(at, at + 4)
    .map((word) => word.fold)
    .join(" ");
  for (const [side, pattern] of [
    ["prosecution", PROSECUTION],
    ["defence", DEFENCE],
  ] as const) {
    const found = pattern.exec(said);
    if (found !== null) return { side, to: at + found[0].split(" ").length };
  }
  return null;
}

const isCapital = (word: Word | undefined): boolean => word !== undefined && /^\p{Lu}\p{Ll}/u.test(word.text);

/** The name that ends before a word, with a comma or none after it. */
function nameBefore(words: readonly Word[], at: number): readonly Word[] {
  let from = at;
  while (from > Math.max(0, at - 3) && isCapital(words[from - 1]) && (from === at || words[from - 1]?.after === ""))
    from -= 1;
  return words.slice(from, at);
}

function nameFrom(words: readonly Word[], at: number): readonly Word[] {
  let to = at;
  while (to < Math.min(words.length, at + 3) && isCapital(words[to]) && (to === at || words[to - 1]?.after === ""))
    to += 1;
  return words.slice(at, to);
}

function namedTwice(name: string, said: readonly Named[], subject: Subject): readonly Doubt[] {
  const [first] = said;
  const other = said.find(({ side }) => side !== first?.side);
  if (first === undefined || other === undefined || name === "") return [];
  const says = `${quoted(other.words)} is of the ${other.side} here, and of the ${first.side} ${atTime(first.words[0]?.seconds ?? 0)}.`;
  return doubtOf(
    other.words,
    subject,
    says,
    "Find out for whom; if it was said wrong on air, correct it at once.",
    first.words,
  );
}

interface Given {
  readonly side: Side;
  /** What was said: the words after the verb that reports it. */
  readonly words: readonly Word[];
}

/** What a sentence gives to a side; nothing where it speaks of both, or reports no words. */
function sidesOf({ words }: Sentence, names: ReadonlyMap<string, readonly Named[]>): readonly Given[] {
  const verb = words.findIndex(({ fold }) => REPORTS.test(fold));
  if (verb < 1) return [];
  const sides = new Set<Side>();
  for (let at = 0; at <= verb; at += 1) {
    const found = sideAt(words, at);
    const named = isCapital(words[at]) ? (names.get(words[at]?.fold ?? "") ?? []) : [];
    for (const side of [...(found === null ? [] : [found.side]), ...named.map((own) => own.side)]) sides.add(side);
  }
  const [side] = sides;
  return side === undefined || sides.size > 1 ? [] : [{ side, words: words.slice(verb + 1) }];
}

interface Run {
  readonly first: readonly Word[];
  readonly second: readonly Word[];
}

/** The longest run of words that both sides are given and neither denies; null: none that is long and telling enough. */
function longestRun(a: Given, b: Given): Run | null {
  let best: { length: number; at: number; other: number } = { length: 0, at: 0, other: 0 };
  for (const [at, { fold }] of a.words.entries()) {
    for (const [other, { fold: own }] of b.words.entries()) {
      if (fold !== own) continue;
      let length = 1;
      while (a.words[at + length] !== undefined && a.words[at + length]?.fold === b.words[other + length]?.fold)
        length += 1;
      if (length > best.length) best = { length, at, other };
    }
  }
  const first = a.words.slice(best.at, best.at + best.length);
  const second = b.words.slice(best.other, best.other + best.length);
  const telling = first.filter(({ fold, text }) => fold.length > 3 && !SMALL.test(fold) && !/^\p{Lu}/u.test(text));
  if (best.length < RUN || telling.length < TELLING) return null;
  const denies = (words: readonly Word[], at: number) =>
    words.slice(Math.max(0, at - 4), at).some(({ fold }) => NOT.test(fold));
  return denies(a.words, best.at) === denies(b.words, best.other) ? { first, second } : null;
}

function tell({ first, second }: Run, subject: Subject): readonly Doubt[] {
  const isFirst = (first[0]?.seconds ?? 0) <= (second[0]?.seconds ?? 0);
  const [own, other] = isFirst ? [first, second] : [second, first];
  const [side, others] = isFirst ? ["prosecution", "defence"] : ["defence", "prosecution"];
  const says = `“${quoted(own)}” is given to the ${side} here, and to the ${others} ${atTime(other[0]?.seconds ?? 0)}.`;
  return doubtOf(
    own,
    subject,
    says,
    "Find out whose words they are; if it was said wrong on air, correct it at once.",
    other,
  );
}
