import type { SpokenWord } from "../../model/spoken.ts";
import { endsSentence } from "../captioning/stops.ts";

/** Words [from, to) that a stop, a voice or a pause sets apart. */
export interface Sentence {
  readonly from: number;
  readonly to: number;
}

/** A pause, in milliseconds, that parts sentences where nobody wrote stops: the demo's recogniser put them there. */
const PAUSE = 270;

/** The sentences of what was heard: as written, or at pauses where hardly any stops are written. */
export function sentencesOf(words: readonly SpokenWord[]): readonly Sentence[] {
  const stops = words.filter(({ text }) => endsSentence(text)).length;
  const isStopped = stops * 60 > words.length;
  const sentences: Sentence[] = [];
  let from = 0;
  words.forEach((word, n) => {
    const next = words[n + 1];
    const ends = isStopped ? endsSentence(word.text) : (next?.start ?? 0) - word.end >= PAUSE;
    if (next !== undefined && !ends) return;
    sentences.push({ from, to: n + 1 });
    from = n + 1;
  });
  return sentences;
}
