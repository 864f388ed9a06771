import { describe, expect, test } from "vitest";
import { markdownWords } from "../../src/derive/markdown.ts";
import { INVISIBLE, UNPRINTABLE } from "../../src/model/unseen.ts";
import { parseEpisode, parseName, parseTextPage } from "../../src/read/index.ts";
import { brief, CORRECTION, EPISODE, episodeWith, source, swap, TRANSCRIPT } from "./support.ts";

const TURN = "\u202Eyadot\u202C";
const HIDE = "to\u200Bday";
const NAME = "---\nname: Tamsin Hathersay\nkind: person\n---\n";
const TEXT_PAGE = "---\ntitle: Corrections policy\n---\nWords.\n";

const episode = (text: string) => parseEpisode(episodeWith({ episode: text }), "UTC");
const transcript = (text: string) => parseEpisode(episodeWith({ transcript: text }), "UTC");
const correction = (text: string) => parseEpisode(episodeWith({ corrections: { "2026-10-06-1.md": text } }), "UTC");

/** Wherever people write words that go to a page: what is put there, read, and where it is found. */
const PLACES = [
  ["a title", (put: string) => episode(swap(EPISODE, "Fewer ferries", put)), "2:8"],
  ["a credit", (put: string) => episode(swap(EPISODE, "Ilse Marrane", `Ilse ${put}`)), "17:15"],
  ["the notes of an episode", (put: string) => episode(swap(EPISODE, "Notes.", put)), "19:1"],
  ["words", (put: string) => transcript(swap(TRANSCRIPT, "Good evening", put)), "4:21"],
  ["the name of a voice", (put: string) => transcript(swap(TRANSCRIPT, "Tamsin Hathersay", put)), "4:4"],
  ["a note of a correction", (put: string) => correction(swap(CORRECTION, "We said nine.", put)), "9:1"],
  ["who signs a correction", (put: string) => correction(swap(CORRECTION, "Standards editor", put)), "7:9"],
  [
    "a name of the register",
    (put: string) => parseName(source("names/tamsin-hathersay.md", swap(NAME, "Tamsin", put))),
    "2:7",
  ],
  ["a page", (put: string) => parseTextPage(source("pages/policy.md", swap(TEXT_PAGE, "Words.", put))), "4:1"],
] as const;

describe.each(PLACES)("%s", (_where, read, place) => {
  test("that turns what follows it around is refused at its place", () => {
    const { findings } = read(TURN);
    expect(brief(findings)).toContain(`text-control ${place}`);
    expect(findings.find(({ rule }) => rule === "text-control")).toMatchObject({
      level: "blocks",
      says: "The invisible character U+202E stands here: it turns the text after it around.",
    });
  });
  test("that nobody sees is a doubt at its place", () => {
    const { findings } = read(HIDE);
    const [line, column] = place.split(":").map(Number);
    expect(brief(findings)).toContain(`text-invisible ${line}:${(column ?? 0) + 2}`);
    expect(findings.some(({ level }) => level === "blocks")).toBe(false);
  });
});

test.each(["&#x202e;", "&#8238;", "&#x2066", "&#X0002067;"])("%s is as good as the character", (reference) => {
  expect(brief(transcript(swap(TRANSCRIPT, "Good", `${reference}Good`)).findings)).toContain("text-control 4:21");
  const found = correction(swap(CORRECTION, "We said nine.", `${reference} We said nine.`)).findings;
  expect(brief(found)).toContain("text-control 9:1");
});

test("an escape of YAML is as good as the character", () => {
  const { ok, findings } = episode(swap(EPISODE, "Fewer ferries", '"a \\u202E b"'));
  expect([ok, brief(findings)]).toEqual([false, ["text-control 2:8"]]);
});

test("a reference that Markdown reads as no character that turns is let be", () => {
  for (const written of ["&#x20;", "&#x41;", "&#99999999;", "&#x200f;", "AT&T #8238"]) {
    const { findings } = correction(swap(CORRECTION, "We said nine.", `${written} We said nine.`));
    expect([written, brief(findings)]).toEqual([written, []]);
    expect(UNPRINTABLE.test(markdownWords(written))).toBe(false);
  }
});

/** What people write that is nothing to be refused: Unicode Standard Annex 9, §2.6, and Technical Standard 51. */
test.each([
  ["a mark of direction", "\u200Fעברית\u200E"],
  ["joiners", "می\u200Cخواهم"],
  ["a family", "👩\u200D👩\u200D👧"],
  ["a heart in colour", "❤\uFE0F"],
  ["the flag of Scotland", "🏴\u{E0067}\u{E0062}\u{E0073}\u{E0063}\u{E0074}\u{E007F}"],
  ["Hebrew", "שלום"],
])("%s is writing", (_why, text) => {
  expect(UNPRINTABLE.test(text) || INVISIBLE.test(text)).toBe(false);
});

test("tags that follow no flag are words for machines", () => {
  expect(INVISIBLE.test("ferry\u{E0068}\u{E0069}")).toBe(true);
});
