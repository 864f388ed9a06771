import { distance } from "fastest-levenshtein";
import type { Check } from "../check.ts";
import { atTime, doubtOf } from "../doubts.ts";
import { quoted, type Sentence } from "../speech.ts";
import { loopsIn } from "./loop.ts";

/** Sentences below this many words are often said twice in earnest (“Thank you.”). */
const SHORTEST = 6;
/** How much of the shorter sentence both must begin with: the next one, and one further on. No source. */
const SHARE = { next: 0.6, further: 0.75 } as const;
/** And that many words at least. */
const BEGINNING = 6;
/** The share of letters that may differ in a slip. No source. */
const SLIP = 0.12;
/** Longer ones are no sentences but stretches without a full stop; to compare their letters takes the square of them. Words. */
const LONGEST = 200;

export const sentenceSaidTwice: Check = {
  name: "sentence-said-twice",
  level: "warns",
  group: "recogniser",
  reason:
    "Recognisers say a sentence again with another ending; one of the two was never spoken, and it may be the wrong fact.",
  looks:
    "A sentence of six words or more that stands again, by the same speaker, in the next two sentences: the same, or with the same " +
    "beginning of six words or more that make three fifths of it (of the sentence after the next, three quarters).",
  example:
    "“It expects to save 440,000 crowns by the end of March. It expects to save 440,000 crowns before the winter is over.”",
  accept: "The speaker did say both.",
  judge: (subject) => {
    const { sentences, words } = subject.spoken;
    const looping = new Set(
      loopsIn(words).flatMap(({ from, length, times }) => words.slice(from, from + length * times)),
    );
    return sentences.flatMap((second, n) => {
      if (second.words.some((word) => looping.has(word))) return [];
      const [before, further] = [sentences[n - 1], sentences[n - 2]];
      const first = [
        before !== undefined && isAgain(before, second, SHARE.next) ? before : undefined,
        further !== undefined && isAgain(further, second, SHARE.further) ? further : undefined,
      ].find((own) => own !== undefined);
      if (first === undefined) return [];
      const when = atTime(first.words[0]?.seconds ?? 0);
      const says =
        textOf(first) === textOf(second)
          ? `“${quoted(second.words)}” stands already ${when}.`
          : `“${quoted(second.words)}” repeats a sentence ${when} with another ending.`;
      return doubtOf(second.words, subject, says, "Listen, and delete the one that was not said.", first.words);
    });
  },
};

const textOf = ({ words }: Sentence): string => words.map(({ fold }) => fold).join(" ");

/** Whether the second sentence is the first again: the same, or so much of it with another ending, or a slip of letters apart. */
function isAgain(first: Sentence, second: Sentence, share: number): boolean {
  const shorter = Math.min(first.words.length, second.words.length);
  if (shorter < SHORTEST || first.voice !== second.voice || first.segment !== second.segment) return false;
  let same = 0;
  while (same < shorter && first.words[same]?.fold === second.words[same]?.fold) same += 1;
  if (same === first.words.length && same === second.words.length) return true;
  if (same >= BEGINNING && same >= shorter * share) return true;
  if (shorter < 10 || Math.max(first.words.length, second.words.length) > LONGEST) return false;
  const [a, b] = [textOf(first), textOf(second)];
  const most = Math.max(a.length, b.length) * SLIP;
  return Math.abs(a.length - b.length) <= most && distance(a, b) <= most;
}
