import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { parseName, parseProgramme, parseTextPage } from "../../src/read/index.ts";
import { brief, listedFile, source, swap } from "./support.ts";

const PROGRAMME = readFileSync("tests/fixtures/read/good/content/programme.md", "utf8");
const NAME = "---\nname: Tamsin Hathersay\nkind: person\n---\n";

const SLOT = '{ at: "18:30", runs: "1:00", days: weeknights }';

const parse = (programme: string) =>
  parseProgramme({
    programme: source("programme.md", programme),
    names: [source("names/tamsin-hathersay.md", NAME)],
    textPages: [],
    files: [listedFile("programme.md"), listedFile("poster.svg")],
  });

test.each([
  ["a word for a language", "en-GB", "english", ["language-unknown 4:11"]],
  ["an underscore in a language", "en-GB", "en_GB", ["language-unknown 4:11"]],
  ["a language in other capitals", "en-GB", "EN-gb", []],
  ["a zone by its offset", "Europe/London", "+01:00", ["zone-unknown 5:11"]],
  ["a zone by its letters", "Europe/London", "EST", ["zone-unknown 5:11"]],
  ["the universal zone", "Europe/London", "UTC", []],
  ["a site without a scheme", "https://tide.example.org/", "tide.example.org/", ["url-unreadable 6:6"]],
  ["a site by file", "https://tide.example.org/", "file:///srv/", ["url-unreadable 6:6"]],
  ["a site with a query", "https://tide.example.org/", "https://tide.example.org/?x=/", ["url-unreadable 6:6"]],
  ["a site below a path", "https://tide.example.org/", "http://example.org/tide/", []],
  ["a site without its slash", "https://tide.example.org/", "https://example.org/tide", ["url-without-slash 6:6"]],
  ["a slot at one digit", 'at: "18:30"', 'at: "8:30"', ["time-unreadable 7:13"]],
  ["a slot at no time", 'at: "18:30"', 'at: "24:30"', ["time-unreadable 7:13"]],
  ["a slot that is a time", '{ at: "18:30", runs: "1:00", days: weeknights }', "18:30", ["map-wanted 7:7"]],
  ["two slots", SLOT, `[${SLOT}, { at: "22:30", runs: "8:00", days: weeknights, edition: late }]`, []],
  ["a list of slots with none in it", SLOT, "[]", ["list-empty 7:7"]],
  ["the second slot at no time", SLOT, `[${SLOT}, { at: "9", runs: "8:00", days: daily }]`, ["time-unreadable 7:63"]],
  ["an edition that is no slug", "days: weeknights", "days: weeknights, edition: Late one", ["slug-unreadable 7:63"]],
  [
    "two slots of one edition",
    SLOT,
    '[{ at: "1:00", runs: "8:00", days: daily, edition: late }, { at: "02:00", runs: "8:00", days: daily, edition: late }]'.replace(
      '"1:00"',
      '"01:00"',
    ),
    ["slot-edition-twice 7:118"],
  ],
  ["a picture without words", "posteralt: A lighthouse at dusk\n", "", ["poster-without-words 11:9"]],
  ["words without a picture", "poster: poster.svg\n", "", ["poster-without-picture 11:12"]],
  ["an unknown key in the slot", "runs:", "run: 1, runs:", ["key-unknown 7:22"]],
  ["a frame rate of films", "framerate: 25", "framerate: 24", ["value-unknown 8:12"]],
  ["a frame rate in quotes", "framerate: 25", 'framerate: "25"', ["value-unknown 8:12"]],
  ["drop-frame's rate", "framerate: 25", "framerate: 29.97", []],
  ["reports without mailto", "mailto:corrections@", "corrections@", ["url-unreadable 9:10"]],
  ["reports by script", "mailto:corrections@tide.example.org", "javascript:alert(1)", ["url-unreadable 9:10"]],
  ["reports by a form", "mailto:corrections@tide.example.org", "https://example.org/errors", []],
  ["nobody who presents", "[Tamsin Hathersay]", "[]", ["list-empty 10:13"]],
  ["a presenter who is not registered", "[Tamsin Hathersay]", "[Joss Tolvey]", ["presenter-not-in-register 10:14"]],
  ["a poster in another folder", "poster.svg", "../poster.svg", ["file-leaves-folder 11:9"]],
  ["a poster of no picture", "poster.svg", "programme.md", ["picture-kind 11:9"]],
  ["a poster that is not there", "poster.svg", "dusk.svg", ["poster-missing 11:9"]],
  ["a host with a path", "presenters:", "mediahosts: [https://a.example/x]\npresenters:", ["url-unreadable 10:14"]],
  ["a host", "presenters:", "mediahosts: [https://a.example]\npresenters:", []],
])("%s", (_why, from, to, expected) => {
  const { programme, findings } = parse(swap(PROGRAMME, from, to));
  expect(brief(findings)).toEqual(expected);
  expect(programme === null).toBe(findings.some(({ level }) => level === "blocks"));
  expect(findings.every(({ mend }) => mend !== "")).toBe(true);
});

test.each([
  ["reports without mailto", "mailto:corrections@", "corrections@", "mailto:corrections@tide.example.org"],
  ["a site without its slash", "example.org/\n", "example.org\n", "https://tide.example.org/"],
  ["a zone misspelled", "Europe/London", "europe/londn", "Europe/London"],
])("%s: the mend is exact", (_why, from, to, mend) => {
  expect(parse(swap(PROGRAMME, from, to)).findings[0]?.mend).toContain(mend);
});

test("four keys are enough", () => {
  const four =
    "---\ntitle: The Evening Tide\nlanguage: en-GB\ntimezone: Europe/London\nurl: https://tide.example.org/\n---\n";
  const { programme, findings } = parse(four);
  expect(findings).toEqual([]);
  expect(programme).toMatchObject({
    station: null,
    slots: [],
    frameRate: null,
    reports: null,
    presenters: [],
    poster: null,
    about: "",
  });
});

test.each(["title", "language", "timezone", "url"])("%s may not be missing", (key) => {
  const { programme, findings } = parse(PROGRAMME.replace(new RegExp(`^${key}: .*\\n`, "m"), ""));
  expect(programme).toBeNull();
  expect(findings.map(({ rule, says }) => [rule, says.includes(key)])).toEqual([["key-missing", true]]);
});

test("a language is kept in its canonical writing", () => {
  expect(parse(swap(PROGRAMME, "en-GB", "EN-gb")).programme?.language).toBe("en-GB");
});

test("names and pages are known by their files", () => {
  expect(parseName(source("names/tamsin-hathersay.md", NAME))).toMatchObject({
    value: {
      slug: "tamsin-hathersay",
      name: "Tamsin Hathersay",
      kind: "person",
      role: null,
      say: null,
      misspelt: [],
      about: "",
    },
  });
  expect(parseTextPage(source("pages/policy.md", "---\ntitle: Policy\n---\nWords.\n"))).toMatchObject({
    value: { slug: "policy", title: "Policy", summary: null, order: 0, body: "Words.\n" },
  });
});

test.each([
  ["misspellings", "misspelt: [Tamsin Heathersay, tams in]", []],
  ["one that stands in its own name", "misspelt: [tamsin]", ["misspelling-wrong 2:7"]],
  ["one that stands in another's", "misspelt: [Ilse]", ["misspelling-wrong 2:7"]],
  ["one that another has", "misspelt: [Else Marain]", ["misspelling-wrong 2:7"]],
  ["the same twice", "misspelt: [Tams In, tams in]", ["misspelling-wrong 2:7"]],
  ["no list", "misspelt: Tams", ["list-wanted 4:11"]],
  ["an empty one", 'misspelt: [""]', ["value-empty 4:12"]],
])("%s of a name", (_why, line, expected) => {
  const names = [
    source("names/ilse-marrane.md", "---\nname: Ilse Marrane\nkind: person\nmisspelt: [Else Marain]\n---\n"),
    source("names/tamsin-hathersay.md", swap(NAME, "kind: person", `kind: person\n${line}`)),
  ];
  const { findings } = parseProgramme({
    programme: source("programme.md", PROGRAMME),
    names,
    textPages: [],
    files: [listedFile("programme.md"), listedFile("poster.svg")],
  });
  expect(brief(findings.filter(({ rule }) => rule !== "presenter-not-in-register"))).toEqual(expected);
});

test.each([
  ["pages/2026.md", ["slug-reserved 1:1"]],
  ["pages/2026-10-05.md", ["slug-reserved 1:1"]],
  ["pages/corrections.md", ["slug-reserved 1:1"]],
  ["pages/Corrections Policy.md", ["slug-unreadable 1:1"]],
  ["pages/corrections-policy.md", []],
])("a page named %s", (file, expected) => {
  expect(brief(parseTextPage(source(file, "---\ntitle: A\n---\nWords.\n")).findings)).toEqual(expected);
});
