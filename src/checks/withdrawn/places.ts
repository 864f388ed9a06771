import { grouped } from "../../model/grouped.ts";
import type { Word } from "../speech.ts";
import { ABOUT, type Language, type Matter, near, type PersonMatter, TELLING, weightIn } from "./matter.ts";
import { type Fold, type Folded, foldedIn, foldsOf } from "./persons.ts";
import { type RunIndex, runsIn } from "./runs.ts";

/** What of an episode a text is: its notes are the programme's, a note is a correction's. */
export type TextKind = "title" | "summary" | "notes" | "note";

/** A text of an episode that is read, not heard. */
export interface GivenText {
  readonly kind: TextKind;
  /** A slug; null: the episode's own. */
  readonly segment: string | null;
  /** The correction that a note belongs to. */
  readonly correction: string | null;
  readonly words: readonly Word[];
}

/** All words of an episode that may be given on the day. */
export interface GivenEpisode {
  readonly id: string;
  readonly spoken: readonly Word[];
  readonly texts: readonly GivenText[];
}

/** Why a place is told: see `placesIn`. */
export type Reason =
  | { readonly by: "words" }
  | { readonly by: "person"; readonly name: string }
  | { readonly by: "announced" };

/** A place where the same matter stands. */
export interface SamePlace {
  readonly matter: Matter;
  readonly episode: string;
  readonly segment: string | null;
  /** Null: spoken words. */
  readonly text: GivenText | null;
  readonly reason: Reason;
  /** The words in common, as they stand here; of single words the most telling first. Not empty. */
  readonly words: readonly Word[];
  /** To rank by, among places of the same matter. */
  readonly score: number;
  /** More than chance: worth a finding, which stays until somebody answers it. */
  readonly sure: boolean;
  /** Most of the segment or text is it. */
  readonly whole: boolean;
}

/** What was withdrawn anywhere in an archive, and what it is compared with. */
export interface WithdrawnMatters {
  readonly index: RunIndex;
  readonly language: Language;
}

/** Words that are set beside each other: those of one segment, or of one text. */
interface Stretch {
  readonly segment: string | null;
  readonly text: GivenText | null;
  readonly folded: Folded;
}

/** What was found of a matter in a stretch. */
interface Found {
  readonly reason: Reason;
  /** The most telling. */
  readonly folds: readonly Fold[];
  /** These and the others. */
  readonly all: readonly Fold[];
  /** What the most telling word weighs, and the most telling together. */
  readonly best: number;
  readonly score: number;
  readonly sure: boolean;
}

interface Weighed {
  readonly fold: Fold;
  readonly stem: string;
  readonly weight: number;
}

/** Words that weigh less than this don't count beside others. No source. */
const LITTLE = 0.25;
/** So many single words count, the most telling: many that tell little are no reason. No source. */
const MOST = 3;
/** What makes a person's place sure: a rare word that the withdrawn segment is about, or several. No source. */
const SURE = { best: 1, score: 2 } as const;
/** A run of so many words is no turn of phrase; a shorter one must weigh so much. No source. */
const SURE_RUN = { words: 5, score: 2.5 } as const;
/** Three words of a withdrawn segment within so many seconds announce it, if they weigh so much. No source. */
const ANNOUNCED = { words: 3, seconds: 8, score: 2.5 } as const;
/** The share of a segment's words, from the first found to the last, that makes the place the segment. No source. */
const WHOLE = 0.5;

/**
 * Where withdrawn matters stand in an episode: at most one place for a matter in each segment and text, best first.
 * Found are the same words in a row (see `runsIn`); a person named in the withdrawn words with at least one telling word
 * near the name that was withdrawn near it, in whatever form; and, in the very episode that something was withdrawn from,
 * telling words of it close together, as headlines have them.
 */
export function placesIn({ index, language }: WithdrawnMatters, given: GivenEpisode): readonly SamePlace[] {
  if (index.matters.length === 0) return [];
  const stretches = stretchesOf(given);
  const here = new Set(
    stretches.flatMap(({ folded }) => [...folded.at.keys(), ...[...folded.spokenBy.keys()].flatMap(foldsOf)]),
  );
  const matters = index.matters.map((matter) => ({ matter, persons: matter.persons.filter(isNamed(here)) }));
  return stretches
    .flatMap((stretch) => {
      const runs = runsIn(stretch.folded.folds, index, given.id);
      return matters.flatMap(({ matter, persons }) => {
        const found = [
          ...runs.filter((run) => run.matter === matter).map(foundRun),
          ...persons.flatMap((person) => personIn(stretch.folded, matter, person, given.id, language)),
          ...(matter.from.episode === given.id ? announcedIn(stretch.folded.folds, matter, language) : []),
        ];
        return placeOf(found, matter, stretch, given.id);
      });
    })
    .sort((a, b) => b.score - a.score);
}

/** Whether somebody can be named among words at all. */
const isNamed =
  (here: ReadonlySet<string>) =>
  ({ folds, alone }: PersonMatter): boolean =>
    here.has(folds.at(-1) ?? "") || alone.some((part) => part.every((fold) => here.has(fold)));

/** The segments in the order of their words, then the texts. */
function stretchesOf({ spoken, texts }: GivenEpisode): readonly Stretch[] {
  return [
    ...[...grouped(spoken, (word) => word.segment)].map(([segment, words]) => ({
      segment,
      text: null,
      folded: foldedIn(words),
    })),
    ...texts.map((text) => ({ segment: text.segment, text, folded: foldedIn(text.words) })),
  ];
}

const foundRun = ({ folds, score }: ReturnType<typeof runsIn>[number]): Found => ({
  reason: { by: "words" },
  folds,
  all: folds,
  best: score,
  score,
  sure: folds.length >= SURE_RUN.words || score >= SURE_RUN.score,
});

/** A person of a matter with what is said of them in a stretch, as far as it was withdrawn. */
function personIn(
  folded: Folded,
  matter: Matter,
  person: PersonMatter,
  episode: string,
  { stems, toldIn }: Language,
): Found[] {
  const words = near(folded, person).flatMap(({ fold, nearness }): Weighed[] => {
    const stem = stems(fold.text);
    const word = person.words.get(stem);
    if (word === undefined) return [];
    const telling = Math.min(word.telling, toldIn(fold.text));
    return [{ fold, stem, weight: weightIn(matter, episode, stem, { ...word, telling }) * nearness }];
  });
  const { best, score, ...found } = mostTelling(words);
  if (best < TELLING) return [];
  const sure = best >= SURE.best || score >= SURE.score;
  return [{ reason: { by: "person", name: person.name }, best, score, sure, ...found }];
}

/** Telling words of a matter close together. */
function announcedIn(folds: readonly Fold[], { telling }: Matter, { stems, toldIn }: Language): Found[] {
  const words = folds.flatMap((fold): Weighed[] => {
    const stem = stems(fold.text);
    const word = telling.get(stem);
    const weight = word === undefined ? 0 : Math.min(word.telling, toldIn(fold.text)) * (word.about ? ABOUT : 1);
    return weight < TELLING ? [] : [{ fold, stem, weight }];
  });
  return words.flatMap((first, n) => {
    const until = first.fold.word.seconds + ANNOUNCED.seconds;
    const found = mostTelling(words.slice(n).filter(({ fold }) => fold.word.seconds <= until));
    if (found.folds.length < ANNOUNCED.words || found.score < ANNOUNCED.score) return [];
    return [{ reason: { by: "announced" }, sure: true, ...found }];
  });
}

/** The most telling of words, one for each stem. */
function mostTelling(words: readonly Weighed[]): Pick<Found, "folds" | "all" | "best" | "score"> {
  const byStem = new Map<string, Weighed>();
  for (const word of words) if (word.weight > (byStem.get(word.stem)?.weight ?? LITTLE)) byStem.set(word.stem, word);
  const all = [...byStem.values()].sort((a, b) => b.weight - a.weight);
  const most = all.slice(0, MOST);
  const score = most.reduce((sum, { weight }) => sum + weight, 0);
  const foldsOfAll = all.map(({ fold }) => fold);
  return { folds: foldsOfAll.slice(0, MOST), all: foldsOfAll, best: most[0]?.weight ?? 0, score };
}

/** One place for all that was found of a matter in a stretch: what has the most telling word speaks for all. */
function placeOf(found: readonly Found[], matter: Matter, stretch: Stretch, episode: string): SamePlace[] {
  const [first] = found.toSorted((a, b) => b.best - a.best);
  if (first === undefined) return [];
  const at = first.all.map((fold) => stretch.folded.folds.indexOf(fold));
  return [
    {
      matter,
      episode,
      segment: stretch.segment,
      text: stretch.text,
      reason: first.reason,
      words: [...new Set(first.folds.map(({ word }) => word))],
      score: Math.max(...found.map(({ score }) => score)),
      sure: found.some(({ sure }) => sure),
      whole: (Math.max(...at) - Math.min(...at) + 1) / stretch.folded.folds.length >= WHOLE,
    },
  ];
}
