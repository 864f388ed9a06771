import type { Clause } from "./asked.ts";

const foldedWords = (text: string): readonly string[] =>
  text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/(?<=\d),(?=\d{3})/g, "")
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "");

/** Of the plural and the singular one, as English makes them: `ferries` and `ferry`, `boxes` and `box`, `boats` and `boat`. */
const single = (word: string): string =>
  word.length < 4
    ? word
    : word
        .replace(/ies$/, "y")
        .replace(/(?<=[sxz]|[cs]h)es$/, "")
        .replace(/(?<!s)s$/, "");

const lineOf = (text: string): string => ` ${foldedWords(text).map(single).join(" ")} `;

/**
 * Whether a text has all that is asked for, in one of the ways to say it: case, accents and a plural aside. Pagefind finds other
 * forms of a word too, and what begins like it. Words of scripts that part words otherwise are taken to be there.
 */
export function hasAll(text: string, clauses: readonly Clause[]): boolean {
  const line = lineOf(text);
  return clauses.every(({ terms }) => terms.some((term) => line.includes(lineOf(term)) || isOther(term)));
}

const isOther = (term: string): boolean => foldedWords(term).some((word) => !/^[\p{Script=Latin}\p{N}]+$/u.test(word));
