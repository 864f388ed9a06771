import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { passagesFor } from "../../src/derive/complaint.ts";
import { parseTranscript } from "../../src/read/index.ts";

const FILE = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05/transcript.vtt");
const read = parseTranscript({ file: FILE, bytes: readFileSync(FILE) });
const captions = (read.ok ? read.value : []).map(({ start, pieces }) => ({
  start,
  text: pieces.map(({ words }) => words.replace(/\s+/g, " ")).join(" "),
}));
/** The words of the places that are offered, each with the caption after it. */
const offered = (complaint: string) =>
  passagesFor(complaint, captions).map((n) => `${captions[n]?.text} ${captions[n + 1]?.text}`);

describe("a complaint leads to its passage", () => {
  test.each([
    ["a numeral for a word and the other way round", "You said eleven sailings a week in the headlines", "11 sailings"],
    ["a name as somebody heard it", "The keeper is not called Osrik Tarrik", "Osric Tarrick"],
    ["a date", "It can't be Monday the 19th of October", "19 October"],
    [
      "half a sentence, in other words around",
      "Somebody told me they claim the ship has room for 220 people?!",
      "room for 220",
    ],
  ])("%s", (_why, complaint, words) => {
    expect(offered(complaint)[0]).toContain(words);
  });

  test("a time leads near it", () => {
    const [first = -1] = passagesFor("At about 2:32 the name was wrong", captions);
    expect(Math.abs((captions[first]?.start ?? 0) - 152_000)).toBeLessThan(31_000);
  });

  test.each([
    ["nothing that was said", "The parking at your station is a disgrace"],
    ["only words that are said everywhere", "and it is of the"],
    ["nothing at all", ""],
  ])("%s: no more than a guess is offered", (_why, complaint) => {
    expect(passagesFor(complaint, captions).length).toBeLessThanOrEqual(1);
  });

  test("no captions", () => expect(passagesFor("ferries", [])).toEqual([]));
});
