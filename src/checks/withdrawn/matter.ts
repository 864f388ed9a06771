import type { Place } from "../../model/finding.ts";
import { monthNamed, weekdayNamed } from "../figures/calendar.ts";
import { type Lexicon, tellingOf } from "../lexicon.ts";
import { isNameLike } from "../names/capitals.ts";
import type { KnownNames } from "../names/known.ts";
import type { Sentence } from "../speech.ts";
import { type Fold, type Folded, foldedIn, foldsIn, foldsOf, namesIn, type Person, personsIn } from "./persons.ts";
import { type Stems, stemsBy } from "./stems.ts";

/** What was withdrawn, and by which correction. */
export interface WithdrawnFrom {
  readonly episode: string;
  /** A slug; null: the whole episode. */
  readonly segment: string | null;
  /** The correction's id, and where it stands. */
  readonly withdrawal: string;
  readonly at: Place;
}

/** The words that were withdrawn, as far as the content still has them. */
export interface WithdrawnText {
  readonly from: WithdrawnFrom;
  /** What was said; where corrections replaced words, once as first published and once as they stood. */
  readonly spoken: readonly (readonly Sentence[])[];
  /** Titles and summaries, likewise; where nothing of them is left either, the withdrawal's own note. */
  readonly about: readonly Sentence[];
  /** Who presents, and who is credited in that episode: they are named every evening. */
  readonly credits: readonly string[];
}

/** A word that was withdrawn, and how much it tells, from 0 to 1. */
export interface TellingWord {
  readonly telling: number;
  /** It stands in the title or the summary, or was said more than once: the segment is about it. */
  readonly about: boolean;
  /** How near to the name it was said, from 1 down to a half; 1 where no name is concerned. */
  readonly nearness: number;
}

/** A person of a withdrawn text, and the words said of them there, by their stems. */
export interface PersonMatter extends Person {
  readonly words: ReadonlyMap<string, TellingWord>;
}

/** A word of a withdrawn text in its order; text "": nothing goes on over here. */
export interface MatterWord {
  readonly text: string;
  readonly stem: string;
  readonly telling: number;
}

/** What a withdrawn text can be recognised by elsewhere. */
export interface Matter {
  readonly from: WithdrawnFrom;
  readonly words: readonly MatterWord[];
  readonly persons: readonly PersonMatter[];
  /** All telling words, by their stems. */
  readonly telling: ReadonlyMap<string, TellingWord>;
  /** The stems that other evenings have, by the ids of their episodes: what is said every evening tells little. */
  readonly usual: ReadonlyMap<string, ReadonlySet<string>>;
}

/** What the matters of an archive are judged with. */
export interface Language {
  readonly known: KnownNames;
  readonly lexicon: Lexicon;
  readonly stems: Stems;
  /** How much a word tells as it stands there: see `tellingOf`. */
  readonly toldIn: (fold: string) => number;
}

export const languageOf = (known: KnownNames, lexicon: Lexicon): Language => ({
  known,
  lexicon,
  stems: stemsBy(lexicon),
  toldIn: (fold) => tellingOf(lexicon, fold),
});

/** Words this near to a name are said of its bearer, before or after: about four captions in all. No source. */
export const NEAR_SECONDS = 15;
/** A word of which so much is left tells by itself: one in 10,000 spoken words or rarer. No source. */
export const TELLING = 0.5;

/** What to look for elsewhere. `usual`: see `Matter`; a matter without them is found more often, never less. */
export function matterOf(text: WithdrawnText, language: Language, usual: Matter["usual"] = new Map()): Matter {
  const { known, lexicon } = language;
  const streams = [...text.spoken, text.about];
  const names = namesAlone(streams.flat(), lexicon);
  const persons = personsIn(streams.flat(), known, lexicon, text.credits);
  const toldAtAll = ({ text: own }: Fold): number =>
    tellsNothing(own, known, persons) || names.has(own) ? 0 : tellingOf(lexicon, own);
  const roles = new Set(persons.flatMap(({ role }) => role));
  const toldOf = (fold: Fold): number => (roles.has(fold.text) ? 0 : toldAtAll(fold));
  const streamed = streams.map((sentences) => foldedIn(sentences.flatMap(({ words }) => words)));
  const folds = streamed.map((own) => own.folds);
  const isAbout = aboutIn(text, language);
  return {
    from: text.from,
    words: folds.flatMap((stream) => [...stream.map((fold) => wordOf(fold, toldOf, language.stems)), GAP]),
    persons: persons.map((person) => ({
      ...person,
      words: tellingWords(
        streamed.flatMap((stream) => near(stream, person)),
        toldOf,
        isAbout,
        language.stems,
      ),
    })),
    telling: tellingWords(
      folds.flat().map((fold) => ({ fold, nearness: 1 })),
      toldAtAll,
      isAbout,
      language.stems,
    ),
    usual,
  };
}

const GAP: MatterWord = { text: "", stem: "", telling: 0 };

const wordOf = (fold: Fold, toldOf: (fold: Fold) => number, stems: Stems): MatterWord => ({
  text: fold.text,
  stem: stems(fold.text),
  telling: toldOf(fold),
});

/** Numbers, days, single letters and the words of names tell nothing of what somebody is said to be or do. */
const tellsNothing = (text: string, { words }: KnownNames, persons: readonly Person[]): boolean =>
  text.length < 3 ||
  /\p{N}/u.test(text) ||
  weekdayNamed(text) !== null ||
  monthNamed(text) !== null ||
  words.has(text) ||
  persons.some(({ folds }) => folds.includes(text));

/** Words that stand only where they look like names: places and firms that are not in the register. */
function namesAlone(sentences: readonly Sentence[], lexicon: Lexicon): ReadonlySet<string> {
  const [names, others] = [new Set<string>(), new Set<string>()];
  for (const sentence of sentences)
    sentence.words.forEach((word, at) => {
      const own = isNameLike(sentence, at, lexicon) ? names : others;
      for (const fold of foldsOf(word.text)) own.add(fold);
    });
  return new Set([...names].filter((name) => !others.has(name)));
}

/** Which stems a text is about. */
function aboutIn({ spoken: [said = []], about }: WithdrawnText, { stems }: Language): (stem: string) => boolean {
  const written = new Set(about.flatMap(({ words }) => foldsIn(words)).map(({ text }) => stems(text)));
  const times = new Map<string, number>();
  for (const { text } of said.flatMap(({ words }) => foldsIn(words)))
    times.set(stems(text), (times.get(stems(text)) ?? 0) + 1);
  return (stem) => written.has(stem) || (times.get(stem) ?? 0) > 1;
}

function tellingWords(
  folds: readonly NearFold[],
  toldOf: (fold: Fold) => number,
  isAbout: (stem: string) => boolean,
  stems: Stems,
): ReadonlyMap<string, TellingWord> {
  const words = new Map<string, TellingWord>();
  for (const { fold, nearness } of folds) {
    const [stem, telling] = [stems(fold.text), toldOf(fold)];
    const known = words.get(stem);
    if (telling === 0 || (known !== undefined && known.telling * known.nearness >= telling * nearness)) continue;
    words.set(stem, { telling, about: isAbout(stem), nearness });
  }
  return words;
}

/** A word near somebody's name: from 1 at the name down to a half, `NEAR_SECONDS` from it. */
export interface NearFold {
  readonly fold: Fold;
  readonly nearness: number;
}

/** The words of a stretch that are said near somebody's name, or by them. */
export function near(folded: Folded, person: Person): readonly NearFold[] {
  const { folds, spokenBy } = folded;
  const places = [...namesIn(folded, person), ...(spokenBy.get(person.folds.join(" ")) ?? [])];
  if (places.length === 0) return [];
  const moments = [...new Set(places.map((at) => folds[at]?.word.seconds ?? 0))].sort((a, b) => a - b);
  return folds.flatMap((fold) => {
    const apart = apartFrom(moments, fold.word.seconds);
    return apart > NEAR_SECONDS ? [] : [{ fold, nearness: 1 - apart / (2 * NEAR_SECONDS) }];
  });
}

/** How far the nearest of some moments is. They must be sorted, and one at least. */
function apartFrom(moments: readonly number[], seconds: number): number {
  let [low, high] = [0, moments.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((moments[middle] ?? 0) < seconds) low = middle + 1;
    else high = middle;
  }
  const gaps = [moments[low - 1], moments[low]].flatMap((own) => (own === undefined ? [] : [Math.abs(own - seconds)]));
  return Math.min(...gaps);
}

/** The most that a word which the matter is about can count beside others. No source. */
export const ABOUT = 1.5;

/** The least that is left of such a word where every evening has it: a story that runs for weeks must be found too. No source. */
const ABOUT_LEAST = 0.6;

/**
 * How much a word of a matter tells in another episode: less, the more of the other evenings around have it. Inverse
 * document frequency with a share in the place of its logarithm; common practice, no source.
 */
export function weightIn(matter: Matter, episode: string, stem: string, word: TellingWord): number {
  const { telling, about, nearness } = word;
  let [evenings, have] = [0, 0];
  for (const [id, stems] of matter.usual) {
    if (id === episode) continue;
    evenings += 1;
    if (stems.has(stem)) have += 1;
  }
  const left = 1 - have / (evenings + 1);
  return telling * nearness * (about ? ABOUT * Math.max(ABOUT_LEAST, left) : left);
}
