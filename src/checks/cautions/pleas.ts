import type { Check } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import { announcing, comparePairs } from "../figures/pairs.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import { isOfOne, type Said, type SaidOf, saidOf } from "./courtEnds.ts";

/** What a report says of a charge. */
type Outcome = "guilty plea" | "denial" | "conviction" | "acquittal";

/** Which can't both be true of one charge. Whoever denies one may be convicted of it. */
const AGAINST: readonly (readonly [Outcome, Outcome])[] = [
  ["guilty plea", "denial"],
  ["guilty plea", "acquittal"],
  ["conviction", "acquittal"],
];

const CHARGE = "(?:charges?|counts?|allegations?|accusations?|offences?|it|them|wrongdoing|guilt)";
const OFFENCE =
  "(?:theft|fraud|assault|arson|burglary|robbery|murder|manslaughter|smuggling|poaching|perjury|forgery|blackmail|bribery|trespass|vandalism|embezzlement|rape|affray|kidnap|extortion)";
/** `-ing` of somebody's thoughts and state, and of what is no deed. */
const NO_DEED =
  "(?!being|having|knowing|seeing|feeling|thinking|meaning|during|anything|nothing|something|everything|evening|morning)";
const OBJECT = `(?:(?:the|a|an|all|all the|any|one|that|this|his|her) )?(?:${CHARGE}|${OFFENCE}|${NO_DEED}[a-z]{2,}ing)\\b`;
const COURTS = "(?:(?:jury|court|judge|magistrates?) (?:has )?)?";
const PERSON = "(?:[a-z]+ ){0,3}?";
const OUTCOMES: readonly (readonly [Outcome, RegExp])[] = [
  ["denial", /^(?:plead|pleads|pleaded|pled|pleading) not guilty\b/],
  ["denial", new RegExp(`^(?:denied|denies|denying) ${OBJECT}`)],
  ["guilty plea", /^(?:plead|pleads|pleaded|pled|pleading) guilty\b/],
  ["guilty plea", /^(?:entered|entering) an? guilty plea\b/],
  ["guilty plea", new RegExp(`^(?:admitted|admits|admitting) (?:to )?${OBJECT}`)],
  ["acquittal", new RegExp(`^${COURTS}found ${PERSON}not guilty\\b`)],
  ["acquittal", /^(?:(?:jury|court|judge) )?acquitted\b/],
  ["acquittal", /^(?:(?:jury|court|judge) )?cleared (?:of|him|her)\b/],
  ["conviction", new RegExp(`^${COURTS}found ${PERSON}guilty\\b`)],
  ["conviction", /^(?:jury|court|judge|was|were|been|is) convicted\b/],
];
/** What is not so, no longer so, yet to come, only said to be so, or of one charge among several. */
const UNSURE =
  /^(?:if|whether|would|will|could|may|might|should|can|expected|likely|unless|until|first|earlier|initially|originally|previously|once|had|changed|change|changes|withdrew|now|again|appeal|appealed|appeals|overturned|quashed|wrongly|never|didn't|did|hasn't|not|refused|asked|enter|second|third|fourth|other|another|further|others|remaining|lesser|separate|some|most|two|three|four|five|six|neither|nor|then|instead|but)$/;
/** Words of a clause after what is said, in which the charge is named. */
const NAMED = 8;
const SMALL =
  /^(?:the|a|an|of|to|with|in|on|at|by|for|and|his|her|their|all|any|one|that|this|it|them|charges?|counts?|allegations?|accusations?|offences?|wrongdoing|guilt|guilty|not|court|today|yesterday|morning|afternoon|noon|monday|tuesday|wednesday|thursday|friday|jury|judge|magistrates?|trial|was|is|will|be|has|sentenced|who|he|she|him|week|month|last|next|this|thousand|crowns|hundred|forty)$/;

export const pleaDiffers: Check = {
  name: "plea-differs",
  level: "warns",
  group: "cautions",
  reason:
    "Guilty or not guilty is what a court report is about: the wrong one is defamatory, and has to be corrected at once.",
  looks:
    "In a segment that speaks of a court, and in what announces it: a charge that one sentence says somebody admits (“pleaded guilty”, “admitted the " +
    "theft”) and another that the same person denies or is cleared of; a conviction and an acquittal. Two people, two charges, a plea that was " +
    "changed, and a sentence that says both are left out. English.",
  example: "“Osmund Tarrick pleaded guilty to theft”, and later “Tarrick denies the theft”.",
  accept: "They are two charges, or the plea was changed, and the report says so.",
  judge: (subject) => {
    const said = saidOf(subject.spoken.sentences.flatMap(outcomesIn), subject).filter(isOneCharge);
    const mixed = said.filter(({ what }) => what.isMixed);
    const told = new Map<SaidOf<Charged>, SaidOf<Charged>>();
    comparePairs(said, announcing(subject.episode.segments), (a, b) => {
      const clashes =
        !told.has(b) &&
        isOfOne(a, b) &&
        isAgainst(a, b) &&
        !mixed.some((own) => isOfOne(own, a) || own === a || own === b);
      if (clashes) told.set(b, a);
      return true;
    });
    return [...told].flatMap(([b, a]) => {
      const says = `“${quoted(b.words)}” is ${SHOWN[b.what.outcome]}, and “${quoted(a.words)}” ${atTime(a.words[0]?.seconds ?? 0)} is ${SHOWN[a.what.outcome]}.`;
      return doubtOf(
        b.words,
        subject,
        says,
        "Find out which it was; if it was said wrong on air, correct it at once.",
        a.words,
      );
    });
  },
};

const SHOWN: Readonly<Record<Outcome, string>> = {
  "guilty plea": "a plea of guilty",
  denial: "a denial",
  conviction: "a conviction",
  acquittal: "an acquittal",
};

interface Charged {
  readonly outcome: Outcome;
  /** Words that name the charge; none: it is only called that. */
  readonly charge: readonly string[];
  /** Whether the sentence says the opposite too. */
  readonly isMixed: boolean;
}

function outcomesIn(sentence: Sentence): readonly Said<Charged>[] {
  const { words } = sentence;
  if (!words.some(({ fold }) => /^(?:plead|pled|entere?|den|admi|found|cleared|acquitted|convicted)/.test(fold)))
    return [];
  const found = words.flatMap((_, at): readonly Said<Charged>[] => {
    const text = words
      .slice(at, at + 6)
      .map(({ fold }) => fold)
      .join(" ");
    for (const [outcome, pattern] of OUTCOMES) {
      const match = pattern.exec(text);
      if (match === null) continue;
      const own = words.slice(at, at + match[0].split(" ").length);
      return [{ what: { outcome, charge: chargeAfter(words, at), isMixed: false }, words: own, sentence }];
    }
    return [];
  });
  const isMixed = new Set(found.map(({ what }) => what.outcome)).size > 1;
  return found.slice(0, 1).map((own) => ({ ...own, what: { ...own.what, isMixed } }));
}

/** What names the charge, from the verb on to the end of the clause. */
function chargeAfter(words: readonly Word[], at: number): readonly string[] {
  const next = words.slice(at + 1, at + 1 + NAMED);
  const end = next.findIndex(({ after }) => after !== "");
  return next
    .slice(0, end === -1 ? undefined : end + 1)
    .map(({ fold }) => fold)
    .filter((fold) => fold.length > 2 && !SMALL.test(fold));
}

function isOneCharge({ what, words, sentence }: SaidOf<Charged>): boolean {
  if (what.isMixed) return true;
  const [first] = words;
  const at = first === undefined ? 0 : sentence.words.indexOf(first);
  const end = sentence.words.findIndex(({ after }, n) => n >= at + words.length - 1 && after !== "");
  const after = sentence.words.slice(at + words.length, end === -1 ? undefined : end + 1);
  const and = after.findIndex(({ fold }) => fold === "and");
  const clause = [...sentence.words.slice(0, at), ...after.slice(0, and === -1 ? undefined : and)];
  return !clause.some(({ fold }) => UNSURE.test(fold));
}

function isAgainst({ what: a }: SaidOf<Charged>, { what: b }: SaidOf<Charged>): boolean {
  const isPair = AGAINST.some(
    ([one, other]) => (one === a.outcome && other === b.outcome) || (one === b.outcome && other === a.outcome),
  );
  const isSame = a.charge.length === 0 || b.charge.length === 0 || a.charge.some((fold) => b.charge.includes(fold));
  return isPair && isSame;
}
