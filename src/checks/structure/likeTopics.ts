import { distance } from "fastest-levenshtein";
import { singularOf } from "../figures/things.ts";

/** Topics shorter than this are too like one another. Letters. */
const SHORTEST = 6;
/** Longer ones are compared whole only. Letters. */
const LONGEST = 60;

/**
 * Finds the topics that are one with another but for its writing, or one letter apart; in the order of `all`. Two words
 * one letter apart are the same once a letter of each is taken out, or of one of them: those forms are looked up, so
 * that thousands of topics need not be compared with one another.
 */
export function likeTopics<T>(all: readonly (readonly [topic: string, seen: T])[]) {
  const byForm = new Map<string, number[]>();
  const plains = all.map(([topic]) => plain(topic));
  for (const [n, own] of plains.entries()) {
    for (const form of formsOf(own)) {
      byForm.set(form, byForm.get(form) ?? []);
      byForm.get(form)?.push(n);
    }
  }
  return (topic: string): readonly (readonly [topic: string, seen: T])[] => {
    const own = plain(topic);
    const likely = new Set(formsOf(own).flatMap((form) => byForm.get(form) ?? []));
    return [...likely]
      .sort((a, b) => a - b)
      .flatMap((n) => {
        const other = all[n];
        return other !== undefined && isOne(own, plains[n] ?? "") ? [other] : [];
      });
  };
}

function isOne(one: string, other: string): boolean {
  return one === other || (Math.min(one.length, other.length) >= SHORTEST && distance(one, other) === 1);
}

/** A word, and what is left of it without each of its letters. */
function formsOf(word: string): readonly string[] {
  if (word.length < SHORTEST || word.length > LONGEST) return [word];
  return [...new Set([word, ...[...word.split("").keys()].map((n) => word.slice(0, n) + word.slice(n + 1))])];
}

/** Without capitals, hyphens, blanks and plurals. */
function plain(topic: string): string {
  const small = topic
    .normalize("NFC")
    .toLowerCase()
    .replace(/[\s_-]+/g, " ");
  return small
    .split(" ")
    .map((word) => singularOf(word) ?? word)
    .join("");
}
