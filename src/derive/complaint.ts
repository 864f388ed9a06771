import { distance } from "fastest-levenshtein";
import { parseClock } from "../model/clock.ts";
import { saidWords } from "./align/said.ts";

/** A caption that a complaint may be about. Milliseconds. */
export interface Heard {
  readonly start: number;
  readonly text: string;
}

/** So many places are offered. */
const OFFERED = 6;
/** A number that both have says more than a word. Common practice, no source. */
const NUMBER = 2;
/** Words that stand in more than a twentieth of the captions lead nowhere by themselves. Common practice, no source. */
const TELLING = Math.log(20) + 0.1;
/** A time in the complaint counts for what is within so much of it, in milliseconds: people look at the clock now and then. */
const NEAR = 30_000;
/** Names are misspelled by those who only heard them: so long words may differ by a letter. */
const LONG = 5;

const NUMBERS =
  /^(?:\d+|zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|\w+ty|hundred|thousand|million)$/;

/**
 * The captions that fit a complaint, the best first: by the words that both have, the rarer in the episode the more, with
 * numerals as number words; and by a time such as 7:32. A caption counts with the one after it, where a sentence goes on.
 * @returns their places in `captions`; none where nothing fits.
 */
export function passagesFor(complaint: string, captions: readonly Heard[]): readonly number[] {
  const wanted = [...new Set(foldsIn(complaint))];
  const times = [...complaint.matchAll(/(?<!\d)\d{1,2}:\d\d(?::\d\d)?(?!\d)/g)].flatMap(
    ([text]) => parseClock(text) ?? [],
  );
  const own = captions.map(({ text }) => new Set(foldsIn(text)));
  const rarity = new Map(
    wanted.map((word) => {
      const among = own.filter((words) => has(words, word)).length;
      return [word, among === 0 ? 0 : Math.log(captions.length / among) + 0.1] as const;
    }),
  );
  const tells = new Set([...rarity].flatMap(([word, worth]) => (worth > TELLING ? [word] : [])));
  const scores = captions.map(({ start }, n) => {
    const words = new Set([...(own[n] ?? []), ...(own[n + 1] ?? [])]);
    const shared = wanted.reduce((sum, word) => {
      if (!has(words, word)) return sum;
      const worth = (rarity.get(word) ?? 0) * (NUMBERS.test(word) ? NUMBER : 1);
      return sum + (has(own[n] ?? words, word) ? worth : worth / 2);
    }, 0);
    const near = times.some((at) => Math.abs(at - start) <= NEAR) ? Math.log(captions.length) : 0;
    return near > 0 || [...tells].some((word) => has(words, word)) ? shared + near : 0;
  });
  const least = Math.max(Math.log(Math.max(captions.length, 2)), Math.max(...scores, 0) / 2);
  return scores
    .map((score, n) => ({ score, n }))
    .filter(({ score }) => score >= least)
    .sort((a, b) => b.score - a.score || a.n - b.n)
    .slice(0, OFFERED)
    .map(({ n }) => n);
}

/** Words as they are said; `19th` is `19`, because a programme says the one or the other. */
const foldsIn = (text: string): readonly string[] =>
  saidWords(text.replace(/(\d)(?:st|nd|rd|th)\b/g, "$1").split(/\s+/)).map(({ said }) => said);

function has(words: ReadonlySet<string>, word: string): boolean {
  if (words.has(word)) return true;
  if (word.length < LONG) return false;
  for (const own of words) if (Math.abs(own.length - word.length) < 2 && distance(own, word) === 1) return true;
  return false;
}
