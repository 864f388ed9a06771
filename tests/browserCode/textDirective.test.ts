import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type PageText, type PageWord, type Span, textDirective } from "../../src/browser/textDirective.ts";

/** A page of paragraphs with their times, and words before them that nobody said. */
function pageOf(title: string, ...own: readonly (readonly [stamp: string, text: string])[]): PageText {
  const words: PageWord[] = [];
  const add = (text: string, paragraph: number | null, stamp: boolean): void => {
    for (const { index, 0: word } of text.matchAll(/[\p{L}\p{N}]+/gu))
      words.push({ folded: word.toLowerCase(), paragraph, stamp, from: index, to: index + word.length });
  };
  add(title, null, false);
  for (const [paragraph, [stamp, text]] of own.entries()) {
    add(stamp, paragraph, true);
    add(text, paragraph, false);
  }
  return { words, paragraphs: own.map(([stamp, text]) => ({ text, stamp })) };
}

const placesOf = ({ words }: PageText, paragraph: number): readonly number[] =>
  words.flatMap((word, place) => (word.paragraph === paragraph && !word.stamp ? [place] : []));

/** The span of the words from one to another of a paragraph, counted from 0. */
function spanIn(page: PageText, paragraph: number, from: number, to: number): Span {
  const places = placesOf(page, paragraph);
  return { first: places[from] ?? -1, last: places[to] ?? -1 };
}

const FERRY = pageOf(
  "Nine sailings a week",
  ["0:41", "There will be nine sailings a week, the well-known operator said & that is 100%."],
  ["1:02", "Thank you."],
  ["1:10", "Thank you."],
);

describe("the address of words on a page", () => {
  test.each([
    ["words that stand once", 0, 10, 11, "text=operator%20said"],
    ["what has a meaning there is escaped", 0, 8, 13, "text=well%2Dknown%20operator%20said%20%26%20that%20is"],
    ["a comma too", 0, 6, 8, "text=week%2C%20the%20well"],
    ["words of a title too are told apart", 0, 3, 4, "text=be-,nine%20sailings"],
    ["at a paragraph's beginning its time tells", 2, 0, 1, "text=1%3A10-,Thank%20you"],
    ["within a paragraph that stands twice, the whole is named", 2, 1, 1, "text=1%3A10-,Thank%20you"],
  ])("%s", (_why, paragraph, from, to, address) => {
    expect(textDirective(FERRY, [spanIn(FERRY, paragraph, from, to)])).toBe(address);
  });

  test("a long text is named by its beginning and its end, several paragraphs each by itself", () => {
    const long = Array.from({ length: 90 }, (_, n) => `word${n}`).join(" ");
    const page = pageOf("", ["0:00", long], ["0:10", "And so on."]);
    const whole = spanIn(page, 0, 0, 89);
    const start = "text=word0%20word1%20word2%20word3,word86%20word87%20word88%20word89";
    expect(textDirective(page, [whole])).toBe(start);
    expect(textDirective(page, [whole, spanIn(page, 1, 0, 2)])).toBe(`${start}&text=And%20so%20on`);
  });

  test("a word without end is named whole", () => {
    const word = "Llan".repeat(100);
    const page = pageOf("", ["0:00", `At ${word} it lands.`]);
    expect(textDirective(page, [spanIn(page, 0, 1, 1)])).toBe(`text=${word}`);
  });

  test("half a pair of code units breaks no address", () => {
    const page = pageOf("", ["0:00", "ab\uD800cd ef"]);
    expect(textDirective(page, [spanIn(page, 0, 0, 2)])).toBe("text=abcd%20ef");
  });

  test("leads to these words and no others", () => {
    const word = fc.constantFrom("a", "b", "c", "d-e", "f,");
    const text = fc.array(word, { minLength: 1, maxLength: 90 }).map((words) => words.join(" "));
    fc.assert(
      fc.property(
        fc.array(text, { minLength: 1, maxLength: 9 }),
        text,
        fc.nat(),
        fc.nat(),
        fc.nat(),
        (texts, title, p, a, b) => {
          const page = pageOf(title, ...texts.map((own, n) => [`${n + 1}:00`, own] as const));
          const paragraph = p % texts.length;
          const many = placesOf(page, paragraph).length;
          const [from, to] = [a % many, b % many].sort((x, y) => x - y) as [number, number];
          const span = spanIn(page, paragraph, from, to);
          const found = resolve(page, textDirective(page, [span]));
          expect(found).not.toBeNull();
          // The very words, or where nothing beside them tells them apart, their paragraph.
          const whole = spanIn(page, paragraph, 0, many - 1);
          expect([span, whole]).toContainEqual(found);
        },
      ),
    );
  });
});

/** What a browser finds for one directive: the first place where all of it fits (URL Fragment Text Directives, 3.5.1). */
function resolve({ words }: PageText, directive: string): Span | null {
  const parts = directive.replace("text=", "").split(",");
  const prefix = parts[0]?.endsWith("-") ? wordsIn(parts.shift()?.slice(0, -1)) : [];
  const suffix = parts.at(-1)?.startsWith("-") ? wordsIn(parts.pop()?.slice(1)) : [];
  const [start, end] = [wordsIn(parts[0]), parts[1] === undefined ? null : wordsIn(parts[1])];
  const stands = (own: readonly string[], at: number) => own.every((word, n) => words[at + n]?.folded === word);
  for (let at = 0; at < words.length; at++) {
    const first = at + prefix.length;
    if (!stands([...prefix, ...start], at)) continue;
    if (end === null) {
      if (stands(suffix, first + start.length)) return { first, last: first + start.length - 1 };
      continue;
    }
    for (let to = first + start.length; to < words.length; to++)
      if (stands([...end, ...suffix], to)) return { first, last: to + end.length - 1 };
  }
  return null;
}

const wordsIn = (text = ""): readonly string[] =>
  decodeURIComponent(text)
    .toLowerCase()
    .match(/[\p{L}\p{N}]+/gu) ?? [];
