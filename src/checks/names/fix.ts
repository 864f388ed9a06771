import { quoted, type Word, withoutPossessive } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { mendOf, namesHeard } from "./heard.ts";
import { lettersForNames } from "./initials.ts";
import { ORDINARY } from "./known.ts";
import { soundedOf, soundLikeness } from "./likeness.ts";
import { listenAgain } from "./nearMiss.ts";
import type { NearMiss } from "./nearMisses.ts";
import { smallNames } from "./smallLetters.ts";

/** A spelling to be replaced in the transcript. */
export interface NameFix {
  /** The line of the cue's timings, which tells the cue. */
  readonly line: number;
  /** Where it begins in the words of the whole cue. */
  readonly offset: number;
  readonly was: string;
  readonly now: string;
  /** In the episode's clock. */
  readonly seconds: number;
}

/** From here on a spelling is the register's beyond reasonable doubt. No source; a person sees every change. */
const SURE = 0.8;

/** Words that may be right, and may be a name of the register. */
export interface AskedName {
  /** In the episode's clock. */
  readonly seconds: number;
  readonly said: string;
  readonly registered: string;
  /** Why nothing is changed. */
  readonly why: string;
  /** What a person does about it. */
  readonly mend: string;
}

/**
 * The registered surnames of a transcript that stand after another first name, and names that are heard where other words
 * stand, in order. They are asked about, never mended.
 */
export function namesToAsk(subject: Subject): readonly AskedName[] {
  const surnames = subject.nearMisses().filter(({ by }) => by === "surname");
  const why = "it may have been said so";
  return [
    ...surnames.map(({ words, name }) => asked(words, name.entry.name, why, listenAgain(words, name, subject))),
    ...namesHeard(subject).map(({ words, name }) =>
      asked(words, name, "that is heard and not read", mendOf(name, words, subject)),
    ),
  ].sort((a, b) => a.seconds - b.seconds);
}

const asked = (words: readonly Word[], registered: string, why: string, mend: string): AskedName => ({
  seconds: words[0]?.seconds ?? 0,
  said: quoted(words),
  registered,
  why,
  mend,
});

/**
 * What the register says of a transcript on which no correction lies, in order: names in other letters, near misses that
 * sound the same or nearly so, and the programme's initials where its name is registered. Another first name before a
 * known surname is not among them (`namesToAsk`), nor is a name over two cues.
 */
export function namesToFix(subject: Subject): readonly NameFix[] {
  const registered = new Set(subject.programme.names.map(({ name }) => name));
  const initials = lettersForNames(subject).filter(({ exact, meant }) => exact && registered.has(meant));
  return [...subject.nearMisses().filter((miss) => isSure(miss, subject)), ...smallNames(subject), ...initials]
    .flatMap(({ words, meant }) => fixOf(words, meant))
    .sort((a, b) => a.line - b.line || a.offset - b.offset);
}

function isSure({ by, score, words, name }: NearMiss, { lexicon }: Subject): boolean {
  if (by === "surname") return false;
  // `Marilyn` where Merryn is registered: a first name by itself that other people have may have been said as well.
  const [word, second] = words;
  const alone = second === undefined ? word : undefined;
  if (alone !== undefined && lexicon.proper(alone.fold) > 0) return false;
  // And so may a common word, such as `skeleton`.
  if (by === "register") return alone === undefined || lexicon.ordinary(alone.fold) < ORDINARY;
  return score >= SURE || soundLikeness(soundedOf(words.map(({ fold }) => fold).join("")), name.sounded) === 1;
}

function fixOf(words: readonly Word[], meant: string): NameFix[] {
  const [first] = words;
  const last = words.at(-1);
  if (first === undefined || last === undefined || first.cue !== last.cue || first.piece !== last.piece) return [];
  const text = first.cue.pieces[first.piece]?.words ?? "";
  const was = text.slice(first.offset, last.offset + withoutPossessive(last.text).length);
  if (was === meant || was.includes("\n")) return [];
  const now = /^The /.test(meant) && /^the/.test(was) ? meant.replace(/^The/, "the") : meant;
  if (was === now) return [];
  const before = first.cue.pieces.slice(0, first.piece).reduce((sum, piece) => sum + piece.words.length, 0);
  return [{ line: first.cue.at.line, offset: before + first.offset, was, now, seconds: first.seconds }];
}
