import type { Sentence, Word } from "../speech.ts";

/** Who speaks in a criminal court. The accused and who pleads for them are one side. */
export const SIDES = ["prosecution", "defence", "judge", "witness"] as const;
export type Side = (typeof SIDES)[number];

export interface Named {
  readonly side: Side;
  readonly words: readonly Word[];
}

export interface Given {
  readonly side: Side;
  /** What was said, without who said it. */
  readonly words: readonly Word[];
  /** Whether the verb itself denies them. */
  readonly isDenied: boolean;
}

const SAYS = "said|says|told|called|argued|described|asked|claimed";
/** Who pleads: a name that stands beside it is of that side. */
const COUNSEL: readonly (readonly [Side, RegExp])[] = [
  [
    "prosecution",
    new RegExp(
      `^(?:(?:for|of) the prosecution|the (?:prosecution|crown) (?:${SAYS}|alleged|opposed)|for the crown|(?:the )?prosecutors?|prosecuting)\\b`,
    ),
  ],
  [
    "defence",
    new RegExp(
      `^(?:(?:for|of) the defen[cs]e|the defen[cs]e (?:${SAYS}|denied)|defen[cs]e (?:lawyer|counsel|barrister|solicitor|team|attorney)s?|` +
        "defending|mitigating|(?:his|her|their) (?:lawyer|counsel|barrister|solicitor|advocate)s?)\\b",
    ),
  ],
];
/** Who else speaks: a name beside it may be anybody's. */
const PARTY: readonly (readonly [Side, RegExp])[] = [
  ["defence", /^(?:(?:for )?the (?:accused|defendants?)|in mitigation)\b/],
  ["judge", /^(?:the )?(?:judge|magistrates?|sheriff)\b/],
  ["witness", /^(?:(?:an?|another|one|the(?: \w+)?) (?:eye)?witness|giving evidence|the (?:victim|complainant))\b/],
];
/** After `the prosecution` and its like, at the end of a sentence: `…, said the defence`. */
const BARE: readonly (readonly [Side, RegExp])[] = [
  ["prosecution", /^the (?:prosecution|crown)\b/],
  ["defence", /^the defen[cs]e\b/],
];
const REPORTS =
  /^(?:said|says|say|saying|called|calls|told|tells|argued|argues|described|describes|asked|claimed|claims|insisted|submitted|added|denied|denies|warned|replied|accused|put|pointed)$/;
/** One side takes up another's words. */
const AGREES =
  /^(?:accept(?:ed|s|ing)?|agree(?:d|s|ing)?|repeat(?:ed|s|ing)?|echo(?:ed|es|ing)?|quot(?:ed|es|ing)|also|too|both)$/;
/** So many words at the beginning or the end of a sentence say who spoke. */
const WHO = 8;

function sideAt(words: readonly Word[], at: number, patterns: typeof COUNSEL): { side: Side; to: number } | null {
  const fold = words[at]?.fold ?? "";
  if (!/^(?:for|of|the|in|an?|another|one|giving|his|her|their|judge|magis|sherif|prosec|defen|mitig)/.test(fold))
    return null;
  const said = words
    .slice(at, at + 4)
    .map((word) => word.fold)
    .join(" ");
  for (const [side, pattern] of patterns) {
    const found = pattern.exec(said);
    if (found !== null) return { side, to: at + found[0].split(" ").length };
  }
  return null;
}

/** Surnames of who pleads, with the places: `Perpetua Wyle, for the defence`, `the prosecutor, Edric Cotterby`. */
export function namesOfSides(sentences: readonly Sentence[]): ReadonlyMap<string, readonly Named[]> {
  const names = new Map<string, Named[]>();
  for (const { words } of sentences) {
    for (let at = 0; at < words.length; at += 1) {
      const found = sideAt(words, at, COUNSEL);
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

type Names = ReadonlyMap<string, readonly Named[]>;

/** The sides that some words of a sentence name. */
function sidesIn(words: readonly Word[], from: number, to: number, names: Names, patterns: typeof COUNSEL): Set<Side> {
  const sides = new Set<Side>();
  for (let at = from; at < to; at += 1) {
    const found = sideAt(words, at, patterns);
    if (found !== null) sides.add(found.side);
    if (isCapital(words[at])) for (const { side } of names.get(words[at]?.fold ?? "") ?? []) sides.add(side);
  }
  return sides;
}

const ALL = [...COUNSEL, ...PARTY];

/** What sentences give to a side; nothing where one speaks of two sides, takes up another's words, or reports none. */
export function givenIn(sentences: readonly Sentence[], names: Names): readonly Given[] {
  return sentences.flatMap((sentence, n): readonly Given[] => {
    const { words } = sentence;
    if (words.some(({ fold }) => AGREES.test(fold))) return [];
    const verb = words.findIndex(({ fold }) => REPORTS.test(fold));
    const own = atEnd(words, names) ?? atBeginning(words, names) ?? afterVerb(words, verb, names);
    if (own !== null) return [own];
    const side =
      verb === 1 && /^(?:he|she|they)$/.test(words[0]?.fold ?? "")
        ? speakerOf(sentences[n - 1], sentence, names)
        : null;
    return side === null ? [] : [given(side, words.slice(verb + 1), words[verb])];
  });
}

const given = (side: Side, words: readonly Word[], verb?: Word): Given => ({
  side,
  words,
  isDenied: /^den(?:ied|ies)$/.test(verb?.fold ?? ""),
});

/** `The prosecutor said …`, where the words don't report another's in turn. */
function afterVerb(words: readonly Word[], verb: number, names: Names): Given | null {
  if (verb < 1 || /^(?:was|were|been|be)$/.test(words[verb - 1]?.fold ?? "")) return null;
  const [side, ...others] = sidesIn(words, 0, verb + 1, names, ALL);
  const said = words.slice(verb + 1);
  const isAnothers = said.some((_, at) => {
    const found = sideAt(said, at, ALL);
    return found !== null && [found.to - 1, found.to, found.to + 1].some((own) => REPORTS.test(said[own]?.fold ?? ""));
  });
  return side === undefined || others.length > 0 || isAnothers ? null : given(side, said, words[verb]);
}

/** `…, the prosecutor said`, `…, said the defence`, `…, according to the judge`. */
function atEnd(words: readonly Word[], names: Names): Given | null {
  const comma = words.findLastIndex(({ after }, n) => n < words.length - 1 && /^,/.test(after));
  const tail = words.slice(comma + 1);
  if (comma === -1 || tail.length > WHO) return null;
  const isGiven = tail.some(({ fold }, n) => (n < 4 || n === tail.length - 1) && REPORTS.test(fold));
  if (!isGiven && !isAccording(tail)) return null;
  const verb = tail.findIndex(({ fold }) => REPORTS.test(fold));
  // `The prosecutor, Edric Cotterby, said it was cold` has the words after its verb.
  if (verb > 0 && verb < tail.length - 1) return null;
  const [side, ...others] = sidesIn(tail, 0, tail.length, names, [...ALL, ...BARE]);
  return side === undefined || others.length > 0 ? null : given(side, words.slice(0, comma + 1), tail[verb]);
}

function atBeginning(words: readonly Word[], names: Names): Given | null {
  const comma = words.findIndex(({ after }) => /^,/.test(after));
  if (!isAccording(words) || comma === -1 || comma > WHO) return null;
  const [side, ...others] = sidesIn(words, 0, comma + 1, names, [...ALL, ...BARE]);
  return side === undefined || others.length > 0 ? null : given(side, words.slice(comma + 1));
}

const isAccording = (words: readonly Word[]): boolean => words[0]?.fold === "according" && words[1]?.fold === "to";

/** Who `he` or `she` is who says something: the only one that the sentence before names. */
function speakerOf(before: Sentence | undefined, own: Sentence, names: Names): Side | null {
  if (before === undefined || before.segment !== own.segment || before.voice !== own.voice) return null;
  if (own.index - before.index !== 1) return null;
  const [side, ...others] = sidesIn(before.words, 0, before.words.length, names, COUNSEL);
  if (side === undefined || others.length > 0) return null;
  const people = [...names.values()].flat().flatMap(({ words }) => words.map(({ fold }) => fold));
  const isOnly = before.words.every((word, n) => n === 0 || !isCapital(word) || people.includes(word.fold));
  const isNamed = before.words.some((word) => isCapital(word) && names.has(word.fold));
  return isOnly && isNamed ? side : null;
}
