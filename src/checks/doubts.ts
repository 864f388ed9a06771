import { formatClock } from "../model/clock.ts";
import type { TranscriptCue } from "../model/episode.ts";
import type { Place } from "../model/finding.ts";
import type { LaidPiece } from "../record/laid.ts";
import type { Doubt } from "./check.ts";
import { quoted, type Word } from "./speech.ts";
import type { Subject } from "./subject.ts";

/** Where a word stands in transcript.vtt. */
export function wordPlace(word: Word, { placeOf }: Pick<Subject, "placeOf">): Place {
  if (word.written) return word.cue.at;
  const piece = word.cue.pieces[word.piece];
  return placeOf(word.cue, word.piece, piece === undefined ? 0 : offsetAsPublished(piece, word.offset));
}

/** An offset in the words of the day as one in the words as first published; inside replaced words, where they began. */
function offsetAsPublished({ runs }: LaidPiece, offset: number): number {
  let [now, then] = [0, 0];
  for (const { text, mark } of runs) {
    const was = mark?.was ?? null;
    if (offset < now + text.length) return was === null ? then + offset - now : then;
    now += text.length;
    then += (was ?? text).length;
  }
  return then;
}

/** A doubt about words that would become others. */
export const doubtMendedBy = (
  now: string,
  words: readonly Word[],
  subject: Pick<Subject, "placeOf">,
  says: string,
  mend: string,
): Doubt[] => doubtOf(words, subject, says, mend).map((doubt) => ({ ...doubt, change: { was: quoted(words), now } }));

/** A doubt about words, which must not be empty. `others`: the other half of a clash. */
export function doubtOf(
  words: readonly Word[],
  subject: Pick<Subject, "placeOf">,
  says: string,
  mend: string,
  others: readonly Word[] = [],
): Doubt[] {
  const [first] = words;
  if (first === undefined) return [];
  const [other] = others;
  const doubt: Doubt = {
    at: wordPlace(first, subject),
    seconds: first.seconds,
    says,
    mend,
    words: quoted(words),
    answered: [...words, ...others].some(({ noted }) => noted),
  };
  return [other === undefined ? doubt : { ...doubt, see: [wordPlace(other, subject)] }];
}

/** A doubt about something that is no words. */
export function doubtAt(at: Place, ms: number | null, says: string, mend: string, see?: Place): Doubt {
  const doubt: Doubt = { at, seconds: ms === null ? null : ms / 1000, says, mend, words: null, answered: false };
  return see === undefined ? doubt : { ...doubt, see: [see] };
}

/** A doubt about a cue as such, at its timing line. */
export const doubtOfCue = (cue: TranscriptCue, says: string, mend: string): Doubt =>
  doubtAt(cue.at, cue.start, says, mend);

/** Past this many of one kind in an episode, one doubt speaks for all. Common practice, no source. */
const MANY = 4;

/** A few doubts as they are; many as one, at the first of them, unless each is asked for. */
export function manyAsOne(
  doubts: readonly Doubt[],
  of: number,
  what: string,
  { each }: Pick<Subject, "each">,
): readonly Doubt[] {
  const [first] = doubts;
  if (first === undefined || each || doubts.length <= MANY) return doubts;
  const says = `${doubts.length} of ${of} ${what} (check --all lists them); the first: ${first.says}`;
  const { change: _, ...rest } = first;
  return [{ ...rest, says, words: null }];
}

/** `at 3:41`, from seconds. */
export const atTime = (seconds: number): string => `at ${formatClock(seconds * 1000)}`;
