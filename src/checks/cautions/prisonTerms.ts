import type { Check } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import { atomsOf, readNumber } from "../figures/numbers.ts";
import { announcing, comparePairs } from "../figures/pairs.ts";
import { unitNamed } from "../figures/units.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import { isOfOne, type Said, type SaidOf, saidOf } from "./courtEnds.ts";

/** What a court can give for so long. */
type Kind = "prison" | "work" | "ban";

interface Term {
  readonly kind: Kind;
  /** In days, as people count them; of unpaid work, hours. */
  readonly length: number;
}

/** A year of twelve months; a month is a twelfth of 365 days, a week seven days. The last two are hours of work. */
const DAYS: ReadonlyMap<string, number> = new Map([
  ["year", 365],
  ["month", 365 / 12],
  ["week", 7],
  ["day", 1],
]);
/** Shorter by so much, a term is the same in other units: 12 weeks and 3 months. */
const SLACK = 0.1;

const BEFORE: readonly (readonly [Kind, RegExp])[] = [
  ["ban", /\b(?:banned|disqualified)(?: (?:him|her))?(?: from [a-z]+)? for$/],
  [
    "prison",
    /\b(?:jail(?:ed|ing)|imprison(?:ed|ing)|locked up|(?:sent|goes|went)(?: (?:him|her))? to (?:prison|jail))(?: [a-z]+){0,2} for$/,
  ],
  ["prison", /\bsentenc(?:ed|ing)(?: [a-z]+){0,3} to$/],
  ["prison", /\b(?:sentence|jail term|prison term|term) of$/],
];
const AFTER: readonly (readonly [Kind, RegExp])[] = [
  ["work", /^(?:of )?(?:unpaid work|community (?:service|work))\b/],
  ["prison", /^(?:in (?:prison|jail|custody)|behind bars|imprisonment|(?:prison |jail )?(?:sentence|term))\b/],
];
/** What was asked for, possible, taken off, or of another time, count or person. */
const UNSURE =
  /^(?:maximum|minimum|least|most|could|may|might|would|if|asked|asks|wanted|wants|sought|demanded|face|faces|faced|facing|usual|usually|guideline|half|served|already|suspended|more|extra|less|further|another|reduced|raised|increased|cut|appeal|appeals|instead|consecutive|concurrent|concurrently|consecutively|each|had|ago|last|earlier|previous|previously|before|carries|carry|recommended|remaining|rest|unless|until|not|never|same|similar|total|altogether)$/;

export const prisonTermDiffers: Check = {
  name: "prison-term-differs",
  level: "warns",
  group: "cautions",
  reason: "A sentence of the court told twice with two lengths is wrong once, and of the two people remember either.",
  looks:
    "In a segment that speaks of a court, and in what announces it: two lengths of prison (“jailed for”, “sentenced to”, “a three-year sentence”), of " +
    "unpaid work, or of a ban, of one person, over a tenth apart. What was asked for, possible, suspended, already served, given for another " +
    "charge or at another time is left out, and a sentence that gives two. English.",
  example: "“jailed for three years”, and later “sentenced to two years”.",
  accept: "They are for two charges, or the time that is to be served, and the report says so.",
  judge: (subject) => {
    const said = saidOf(subject.spoken.sentences.flatMap(termsIn), subject);
    const told = new Map<SaidOf<Term>, SaidOf<Term>>();
    comparePairs(said, announcing(subject.episode.segments), (a, b) => {
      if (!told.has(b) && isOfOne(a, b) && differ(a.what, b.what)) told.set(b, a);
      return true;
    });
    return [...told].flatMap(([b, a]) => {
      const says = `“${quoted(b.words)}” here, and “${quoted(a.words)}” ${atTime(a.words[0]?.seconds ?? 0)}, for one person.`;
      return doubtOf(
        b.words,
        subject,
        says,
        "Find out which the court gave, and for what; correct the other.",
        a.words,
      );
    });
  },
};

const differ = (a: Term, b: Term): boolean =>
  a.kind === b.kind && Math.abs(a.length - b.length) > Math.max(a.length, b.length) * SLACK;

/** The one term that a sentence gives; none where it gives two, or is not sure. */
function termsIn(sentence: Sentence): readonly Said<Term>[] {
  const { words } = sentence;
  const found: Said<Term>[] = [];
  for (let at = 0; at < words.length; at += 1) {
    const length = lengthAt(words, at);
    if (length === null) continue;
    const kind = kindOf(words, at, length.to);
    const { hours } = length;
    const isUpTo = words[at - 1]?.fold === "to" && words[at - 2]?.fold === "up";
    // `for two years for theft and six months for fraud`.
    if (isUpTo || (kind === null && /^(?:and|or|then|plus)$/.test(words[at - 1]?.fold ?? ""))) return [];
    if (kind !== null && hours === (kind === "work"))
      found.push({ what: { kind, length: length.value }, words: words.slice(at, length.to), sentence });
    at = length.to - 1;
  }
  const kinds = new Set(found.map(({ what }) => what.kind));
  const own = new Set(found.flatMap((said) => said.words));
  const isUnsure = words.some(
    (word, n) =>
      !own.has(word) &&
      (UNSURE.test(word.fold) || /^\d{4}$/.test(word.fold) || (word.fold === "called" && words[n + 1]?.fold === "for")),
  );
  if (kinds.size < found.length || isUnsure) return [];
  return found;
}

function kindOf(words: readonly Word[], at: number, to: number): Kind | null {
  const fold = (own: readonly Word[]) => own.map((word) => word.fold).join(" ");
  const after = words[to - 1]?.after === "" ? fold(words.slice(to, to + 3)) : "";
  const before = fold(words.slice(Math.max(0, at - 6), at));
  return (
    AFTER.find(([, pattern]) => pattern.test(after))?.[0] ??
    BEFORE.find(([, pattern]) => pattern.test(before.replace(/ an?$/, "")))?.[0] ??
    null
  );
}

interface Length {
  readonly value: number;
  readonly hours: boolean;
  /** The word after it. */
  readonly to: number;
}

/** `two years and six months`, `four and a half years`, `a year and a half`, `a year`, `ten-year`. */
function lengthAt(words: readonly Word[], at: number): Length | null {
  const one = partAt(words, at);
  if (one === null) return null;
  const isOpen = words[one.to - 1]?.after === "" && words[one.to]?.fold === "and";
  if (isOpen && words[one.to + 1]?.fold === "a" && words[one.to + 2]?.fold === "half")
    return { ...one, value: one.value + one.unit / 2, to: one.to + 3 };
  const more = isOpen ? partAt(words, one.to + 1) : null;
  return more === null || more.unit >= one.unit ? one : { ...one, value: one.value + more.value, to: more.to };
}

function partAt(words: readonly Word[], at: number): (Length & { readonly unit: number }) | null {
  const own = words[at]?.fold ?? "";
  const hyphened = /^([a-z\d-]+)-(year|month|week|day)$/.exec(own);
  if (hyphened !== null) return lengthOf(readNumber(atomsOf([hyphened[1] ?? ""]), 0)?.value, hyphened[2] ?? "", at + 1);
  if (/^an?$/.test(own)) return lengthOf(1, words[at + 1]?.fold ?? "", at + 2);
  const folds = words.slice(at, at + 6).map(({ fold }) => fold);
  const atoms = atomsOf(folds);
  const read = readNumber(atoms, 0);
  const last = read === null ? undefined : atoms[read.length - 1];
  if (read === null || read.ordinal || last === undefined) return null;
  const to = at + last.word + 1;
  return lengthOf(read.value, words[to]?.fold ?? "", to + 1);
}

function lengthOf(value: number | undefined, named: string, to: number): (Length & { readonly unit: number }) | null {
  const unit = unitNamed(named)?.name ?? "";
  const each = unit === "hour" ? 1 : DAYS.get(unit);
  return value === undefined || each === undefined
    ? null
    : { value: value * each, unit: each, hours: unit === "hour", to };
}
