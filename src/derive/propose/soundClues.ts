import type { SpokenWord } from "../../model/spoken.ts";
import { piecesOf, type Recording } from "./recording.ts";

/** The voices of so many sentences at the beginning are the presenter's: who else opens a programme. Common practice, no source. */
const OPENING = 8;

/** What the sound says of words, for finding segments. */
export interface SoundClues {
  /**
   * The words that begin a piece of speech with which hardly ever a segment begins: in a voice that does not open the programme, where
   * a reporter or a guest goes on, or where nobody speaks.
   */
  readonly noBeginning: ReadonlySet<number>;
  /** How many of the words before each, and of all, stand where nobody speaks. */
  readonly unspoken: Int32Array;
}

/** @param recording null: nobody listens, and the sound says nothing. */
export function soundClues(words: readonly SpokenWord[], recording: Recording | null): SoundClues {
  const unspoken = new Int32Array(words.length + 1);
  if (recording === null) return { noBeginning: new Set(), unspoken };
  const pieces = piecesOf(words, recording);
  const heard = recording.tellApart(
    pieces.map(({ from, to }) => ({ start: words[from]?.start ?? 0, end: words[to - 1]?.end ?? 0 })),
  );
  const opening = new Set(heard.of.filter((voice) => voice !== null).slice(0, OPENING));
  const noBeginning = new Set<number>();
  pieces.forEach(({ from, to }, n) => {
    const [voice, isUnspoken] = [heard.of[n] ?? null, heard.unspoken[n] === true];
    if (isUnspoken || (voice !== null && !opening.has(voice))) noBeginning.add(from);
    for (let word = from; word < to; word++) unspoken[word + 1] = (unspoken[word] ?? 0) + (isUnspoken ? 1 : 0);
  });
  return { noBeginning, unspoken };
}
