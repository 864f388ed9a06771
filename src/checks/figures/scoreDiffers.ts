import { grouped } from "../../model/grouped.ts";
import type { Check, Doubt } from "../check.ts";
import { atTime, doubtOf, wordPlace } from "../doubts.ts";
import { quoted, type Sentence } from "../speech.ts";
import type { Subject } from "../subject.ts";
import type { Figure } from "./line.ts";
import { announcing, comparePairs, LIMITS, MOST_TOLD, moreTold, notCompared } from "./pairs.ts";
import { isOfAnotherTime, writtenFigures } from "./scope.ts";

/** An ordinary word is no team: `town`, `united`. Times in the list's 51 million words. */
const ORDINARY = 50;

export const scoreDiffers: Check = {
  name: "score-differs",
  level: "warns",
  group: "figures",
  reason: "A result that changes between the headlines and the sport is the error that most people notice.",
  looks:
    "Two scorelines in one segment, or in the headlines and the sport, with the same teams in their sentences and other numbers, " +
    "whichever team is named first. It is told at the one that fewer places give, and at both where as many give each. Results of " +
    "another time (“last season”) are left out. " +
    LIMITS,
  example: "“by three goals to one” in the headlines, “Hallan Herons 1, Sollen Town 2” in the sport.",
  accept: "They are two matches, or the score at two moments of one.",
  judge: (subject) => {
    const teamsOf = teamsIn(subject);
    const scores = [...subject.figures, ...writtenFigures(subject.episode)].filter(
      (figure) => figure.kind === "score" && !isOfAnotherTime(figure),
    );
    const isOneMatch = (one: Figure, other: Figure): boolean => haveSameTeams(teamsOf(one), teamsOf(other));
    const told: (readonly [Figure, Figure])[] = [];
    const left = comparePairs(scores, announcing(subject.episode.segments), (first, second) => {
      if (!areSame(first, second) && isOneMatch(first, second)) told.push([first, second]);
      return told.length <= MOST_TOLD;
    });
    const [more] = told[MOST_TOLD] ?? [];
    const limit = more !== undefined ? moreTold(more, subject) : left !== null ? notCompared(left, subject) : [];
    const timesGiven = (own: Figure): number =>
      scores.filter((score) => areSame(score, own) && isOneMatch(score, own)).length;
    const wrong = [...wrongOnes(told.slice(0, MOST_TOLD), timesGiven)];
    return [...wrong.flatMap(([own, others]) => tell(own, others, subject)), ...limit];
  },
};

/**
 * The scorelines that may be wrong, in order, each with those that it differs from: of two the one that is given in fewer
 * places, and both where neither is.
 */
function wrongOnes(
  clashes: readonly (readonly [Figure, Figure])[],
  timesGiven: (own: Figure) => number,
): ReadonlyMap<Figure, readonly Figure[]> {
  const times = new Map([...new Set(clashes.flat())].map((own) => [own, timesGiven(own)]));
  const isDoubtful = (own: Figure, other: Figure): boolean => (times.get(own) ?? 0) <= (times.get(other) ?? 0);
  const pairs = clashes.flatMap(([a, b]) => [[a, b] as const, [b, a] as const]);
  const byOwn = grouped(
    pairs.filter(([own, other]) => isDoubtful(own, other)),
    ([own]) => own,
  );
  const inOrder = [...byOwn].sort(([a], [b]) => startOf(a) - startOf(b));
  return new Map(inOrder.map(([own, all]) => [own, all.map(([, other]) => other)]));
}

const startOf = ({ words }: Figure): number => words[0]?.seconds ?? 0;

function tell(own: Figure, others: readonly Figure[], subject: Subject): readonly Doubt[] {
  const said = others.map((other) => {
    const where = other.words[0]?.written === true ? "in the title or summary" : atTime(startOf(other));
    return `“${quoted(other.words)}” ${where}`;
  });
  const says = `“${quoted(own.words)}” here, ${said.join(", ")}, of the same teams.`;
  const seen = others.flatMap(({ words }) => words.slice(0, 1));
  return doubtOf(own.words, subject, says, "Find out the result; if these are two matches, say so.", seen).map(
    (doubt) => ({
      ...doubt,
      see: seen.map((word) => wordPlace(word, subject)),
    }),
  );
}

const pair = ({ value, against }: Figure): string => [value, against ?? 0].sort((a, b) => a - b).join("–");
const areSame = (a: Figure, b: Figure): boolean => pair(a) === pair(b);

function haveSameTeams(one: ReadonlySet<string>, other: ReadonlySet<string>): boolean {
  if (one === other) return one.size > 0;
  const shared = [...one].filter((team) => other.has(team)).length;
  return shared > 0 && shared === Math.min(one.size, other.size) && (shared > 1 || one.size === other.size);
}

/** The words of a sentence that can only be a name: registered ones, or with a capital; no person's. */
function teamsIn({ known, lexicon, programme }: Subject): (figure: Figure) => ReadonlySet<string> {
  const people = new Set(
    programme.names.filter(({ kind }) => kind === "person").flatMap(({ name }) => name.toLowerCase().split(" ")),
  );
  const isTeam = (fold: string, text: string): boolean =>
    /\p{L}/u.test(fold) &&
    lexicon.ordinary(fold) < ORDINARY &&
    !people.has(fold) &&
    (known.words.has(fold) || /^\p{Lu}/u.test(text));
  const bySentence = new Map<Sentence, ReadonlySet<string>>();
  return ({ sentence }) => {
    const teams =
      bySentence.get(sentence) ??
      new Set(sentence.words.filter(({ fold, text }) => isTeam(fold, text)).map(({ fold }) => fold));
    bySentence.set(sentence, teams);
    return teams;
  };
}
