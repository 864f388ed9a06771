import type { LaidEpisode } from "../../record/laid.ts";
import { type Lexicon, tellingOf } from "../lexicon.ts";
import { writtenSentence } from "../speech.ts";
import type { Figure } from "./line.ts";
import { figuresIn } from "./read.ts";
import { singularOf } from "./things.ts";

/** How two figures can speak of one thing: in one segment, or in the headlines and the report they announce. */
export type Relation = "same-voice" | "across" | "headline";

/** The figures of the titles and summaries, as if they had been said at the in point. Their place is the segment's. */
export function writtenFigures({ segments }: LaidEpisode): readonly Figure[] {
  return figuresIn(
    segments.flatMap((segment) =>
      [segment.title, segment.summary ?? ""].flatMap((text) => writtenSentence(text, segment)),
    ),
  );
}

/** How two figures that `comparePairs` gives are related. */
export function relationOf(a: Figure, b: Figure): Relation {
  if (a.sentence.segment !== b.sentence.segment) return "headline";
  const written = a.words[0]?.written !== b.words[0]?.written;
  return written || a.sentence.voice !== b.sentence.voice ? "across" : "same-voice";
}

/** Words on each side that say what a figure is about. */
const AROUND = 10;

/** Words of a sentence whose surroundings count, and what they count. */
type InContext = Pick<Figure, "sentence" | "at" | "words" | "unit" | "per">;

/** The words around a figure, and how much each tells. */
export type Context = ReadonlyMap<string, number>;

/** What two figures have in common besides their unit: the sum of how much each shared word of their contexts tells. */
export function sharedContext(one: Context, other: Context): number {
  let sum = 0;
  for (const [stem, telling] of one) if (other.has(stem)) sum += telling;
  return sum;
}

/** The words around a figure, without common endings, numbers and what it counts. */
export function contextOf({ sentence, at, words, unit, per }: InContext, lexicon: Lexicon): Context {
  const around = sentence.words.slice(Math.max(0, at - AROUND), at + words.length + AROUND);
  const own = new Set([unit ?? "", per ?? "", ...words.map(({ fold }) => fold)].map(stemOf));
  const stems = around.filter(({ fold }) => !isNumberWord(fold)).map(({ fold }) => stemOf(fold));
  const telling = stems.filter((stem) => !own.has(stem) && stem.length > 2);
  return new Map(telling.map((stem) => [stem, tellingOf(lexicon, stem)]));
}

const NUMBER_WORD =
  /^(?:zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|\w+ty|hundred|thousand|million|billion|half|dozen)$/;

/** Whether a word is a number or a part of one. */
export const isNumberWord = (fold: string): boolean => /\d/.test(fold) || NUMBER_WORD.test(fold);

/** A word without the commonest endings, only to be compared with others. */
export function stemOf(fold: string): string {
  const singular = singularOf(fold) ?? fold;
  return singular.length > 5 ? singular.replace(/(?:ing|ed|e)$/, "") : singular;
}

/** How many words on each side of a figure can say so. */
const BESIDE = 8;
const OTHER_TIME =
  /^(?:last|previous|previously|earlier|ago|usual|usually|formerly|former|instead|normally|compared|originally|original|yesterday)$/;

/** Whether the words beside a figure say that it is of another time or of an average: it then may differ. */
export function isOfAnotherTime({ sentence, at, words }: Figure): boolean {
  const around = sentence.words.slice(Math.max(0, at - BESIDE), at + words.length + BESIDE);
  return around.some(({ fold }) => OTHER_TIME.test(fold));
}
