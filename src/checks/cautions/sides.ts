import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { type Given, givenIn, type Named, namesOfSides, type Side } from "./courtSides.ts";

/**
 * So many words that both sides are said to have said are no chance; so many of them must say something. A judge and a witness
 * more often say what the defence says. No source.
 */
const LEAST: Readonly<Record<Exclude<Side, "defence">, readonly [run: number, telling: number]>> = {
  prosecution: [4, 2],
  judge: [5, 3],
  witness: [5, 3],
};
/** So many sentences of each side are compared. No report that we know has ten. */
const MOST = 40;
/** A sentence of more words is a transcript without stops. */
const LONG = 80;

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
    `The same ${LEAST.prosecution[0]} words or more, ${LEAST.prosecution[1]} of them telling, that one sentence gives to the defence or the ` +
    `accused and another to the prosecution, or ${LEAST.judge[0]} words with ${LEAST.judge[1]} telling to the judge or a witness (by “for the defence”, ` +
    "“the Crown said”, “said the judge”, “according to the prosecution”, a name that was said with it, “she said” after that name), unless one denies " +
    `them or takes them up (“accepted”, “agreed”); and one name said to plead for both sides. The first ${MOST} sentences of each side in an episode are compared.`,
  example:
    "“The prosecutor called him a man of good standing”, “Perpetua Wyle, for the defence, said he was a man of good standing”.",
  accept: "Both used the words, and the report says so.",
  judge: (subject) => {
    const likely = subject.spoken.sentences.filter(({ words }) => words.length <= LONG);
    const names = namesOfSides(likely);
    const both = [...names].flatMap(([name, said]) => namedTwice(name, said, subject));
    const given = givenIn(likely, names);
    const of = (side: Side) => given.filter((own) => own.side === side).slice(0, MOST);
    const theirs = of("defence");
    const told = (["prosecution", "judge", "witness"] as const).flatMap((side) =>
      of(side).flatMap((a) =>
        theirs.flatMap((b) => {
          const run = longestRun(a, b, LEAST[side]);
          return run === null ? [] : tell(run, side, subject);
        }),
      ),
    );
    return [...both, ...told.slice(0, MOST)];
  },
};

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

interface Run {
  readonly first: readonly Word[];
  readonly second: readonly Word[];
}

/** The longest run of words that both sides are given and neither denies; null: none that is long and telling enough. */
function longestRun(a: Given, b: Given, [least, some]: (typeof LEAST)["judge"]): Run | null {
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
  if (best.length < least || telling.length < some) return null;
  const denies = ({ words, isDenied }: Given, at: number) =>
    isDenied !== words.slice(Math.max(0, at - 4), at).some(({ fold }) => NOT.test(fold));
  return denies(a, best.at) === denies(b, best.other) ? { first, second } : null;
}

const NAMED: Readonly<Record<Side, string>> = {
  prosecution: "the prosecution",
  defence: "the defence",
  judge: "the judge",
  witness: "a witness",
};

function tell({ first, second }: Run, by: Side, subject: Subject): readonly Doubt[] {
  const isFirst = (first[0]?.seconds ?? 0) <= (second[0]?.seconds ?? 0);
  const [own, other] = isFirst ? [first, second] : [second, first];
  const [side, others] = isFirst ? [NAMED[by], NAMED.defence] : [NAMED.defence, NAMED[by]];
  const says = `“${quoted(own)}” is given to ${side} here, and to ${others} ${atTime(other[0]?.seconds ?? 0)}.`;
  return doubtOf(
    own,
    subject,
    says,
    "Find out whose words they are; if it was said wrong on air, correct it at once.",
    other,
  );
}
