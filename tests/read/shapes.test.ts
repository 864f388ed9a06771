import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { formatClockExact, parseClock } from "../../src/model/clock.ts";
import { parseEpisode } from "../../src/read/index.ts";
import { brief, EPISODE, episodeWith, swap } from "./support.ts";

const findingsOf = (from: string, to: string, zone = "Europe/London") =>
  parseEpisode(episodeWith({ episode: swap(EPISODE, from, to) }), zone).findings;

test("the episode that the other tests spoil is good", () => {
  const read = parseEpisode(episodeWith({}), "Europe/London");
  expect(read.findings).toEqual([]);
  expect(read.ok && read.value).toMatchObject({
    id: "2026-10-05",
    aired: "2026-10-05T18:30:00+01:00",
    duration: 60_000,
    cuts: [{ from: 30_000, to: 40_000, why: "break", at: { line: 7, column: 8 } }],
    segments: [
      { slug: "headlines", in: 0, out: 10_500, by: [], rights: null, at: { line: 9, column: 5 } },
      { slug: "ferry-timetable", in: 10_500, out: 70_000, by: ["Ilse Marrane"] },
    ],
    cues: [
      {
        id: "",
        start: 0,
        end: 5_000,
        settings: "align:start",
        pieces: [{ voice: "Tamsin Hathersay", words: "Good evening." }],
      },
      { start: 10_500, at: { line: 6, column: 1 } },
    ],
    notes: "Notes.\n",
  });
});

describe("values", () => {
  test.each([
    ["seconds past 59", "in: 0:10.500", "in: 14:75", "time-unreadable 16:9", "seconds run to 59", "15:15"],
    ["a number for a time", "duration: 1:00", "duration: 60", "time-unreadable 4:11", "the number 60", "1:00"],
    [
      "a decimal point for a colon",
      "duration: 1:00",
      "duration: 1.25",
      "time-unreadable 4:11",
      "the number 1.25",
      "1:25",
    ],
    ["one digit of seconds", "in: 0:10.500", "in: 0:9", "time-unreadable 16:9", "two digits", "0:09"],
    [
      "minutes past 59 with hours",
      "in: 0:10.500",
      "in: 1:75:00",
      "time-unreadable 16:9",
      "minutes run to 59",
      "00 to 59",
    ],
    ["a decimal comma", "in: 0:10.500", "in: 0:10,5", "time-unreadable 16:9", "decimal comma", "0:10.5"],
    ["frames", "in: 0:10.500", "in: 00:00:10:12", "time-unreadable 16:9", "timecode", "00:00:10"],
    ["four decimals", "in: 0:10.500", "in: 0:10.5004", "time-unreadable 16:9", "thousandth", "0:10.500"],
    ["below nought", "in: 0:10.500", "in: -0:10", "time-unreadable 16:9", "no time", "m:ss"],
    [
      "a time of a thousand hours",
      "duration: 1:00",
      "duration: 1000:00:00",
      "time-unreadable 4:11",
      "hundred hours",
      "minutes",
    ],
    [
      "digits past counting",
      "duration: 1:00",
      `duration: "${"9".repeat(400)}:00"`,
      "time-unreadable 4:11",
      "hundred hours",
      "minutes",
    ],
    ["no time at all", "duration: 1:00", "duration: ~", "value-empty 4:11", "empty", "Write"],
    ["a number for a title", "title: Fewer ferries", "title: 2026", "text-wanted 2:8", "the number 2026", '"2026"'],
    ["true for a title", "title: Fewer ferries", "title: true", "text-wanted 2:8", "`true`", '"true"'],
    [
      "two lines for a title",
      "title: Fewer ferries",
      'title: "a\\nb"',
      "text-one-line 2:8",
      "more than one line",
      ">-",
    ],
    ["blanks around a title", "title: Fewer ferries", 'title: " a"', "text-blanks 2:8", "blank", "blank"],
    ["half a character", "title: Fewer ferries", 'title: "\\ud83c"', "text-control 2:8", "printed", "escape"],
    ["an escape of NUL", "title: Fewer ferries", 'title: "a\\0b"', "text-control 2:8", "printed", "escape"],
    [
      "a slug that climbs out",
      "slug: headlines",
      "slug: ../headlines",
      "slug-leaves-folder 9:11",
      "climb out",
      "slashes",
    ],
    [
      "a slug with two full stops",
      "slug: headlines",
      "slug: a..b",
      "slug-leaves-folder 9:11",
      "climb out",
      "full stops",
    ],
    [
      "a slug with capitals and accents",
      "slug: headlines",
      "slug: Überblick heute",
      "slug-unreadable 9:11",
      "no slug",
      "ueberblick-heute",
    ],
    ["a slug of the prototype", "slug: headlines", "slug: __proto__", "slug-unreadable 9:11", "no slug", "proto"],
    ["a slug that is a number", "slug: headlines", "slug: 2026", "text-wanted 9:11", "the number", '"2026"'],
    [
      "a slug that the site needs",
      "slug: headlines",
      "slug: transcript",
      "slug-reserved 9:11",
      "keeps for itself",
      "another",
    ],
    ["a kind misspelled", "kind: package", "kind: pakage", "value-unknown 14:11", "pakage", "`package`"],
    [
      "a word for a list",
      "by: [Ilse Marrane]",
      "by: Ilse Marrane",
      "list-wanted 17:9",
      "not a list",
      "by: [Ilse Marrane]",
    ],
    ["a list that ends in nothing", "by: [Ilse Marrane]", "by:", "list-wanted 17:8", "not a list", "["],
    ["a list for a word", "title: Fewer ferries", "title: [a]", "text-wanted 2:8", "a list", "words"],
    [
      "a word for a segment",
      "  - slug: headlines\n    kind: headlines\n    title: Headlines\n    in: 0:00",
      "  - headlines",
      "map-wanted 9:5",
      "keys",
      "`slug`",
    ],
    ["a key that is missing", "duration: 1:00\n", "", "key-missing 2:1", "`duration`", "duration: 27:52"],
    ["a key missing in a segment", "    title: Headlines\n", "", "key-missing 9:5", "`title`", "title:"],
    ["a key misspelled", "aired:", "airde:", "key-missing 2:1", "`aired`", "aired:"],
    ["a key with a capital", "clock: aired", "Clock: aired", "key-missing 2:1", "`clock`", "clock: aired"],
    ["a media type of no media", "audio/mpeg", "mp3", "media-type 5:35", "no media type", "audio/mpeg"],
    ["bytes in words", "audio/mpeg }", "audio/mpeg, bytes: 1.6 MB }", "number-wanted 5:54", "whole number", "digits"],
    [
      "media without protection",
      "evening.mp3",
      "http://media.example.org/a.mp3",
      "media-address 5:16",
      "https",
      "https://",
    ],
    ["media as code", "evening.mp3", "javascript:alert(1)", "media-address 5:16", "https", "https://"],
    [
      "media with a password",
      "evening.mp3",
      "https://a:b@media.example.org/a.mp3",
      "media-address 5:16",
      "https",
      "passwords",
    ],
    [
      "media in another folder",
      "evening.mp3",
      "../2026-10-06/evening.mp3",
      "media-leaves-folder 5:16",
      "path",
      "beside",
    ],
    ["media from the root", "evening.mp3", "/etc/passwd", "media-leaves-folder 5:16", "path", "beside"],
    ["media with blanks", "evening.mp3", "the evening.mp3", "file-name 5:16", "address", "letters"],
    ["media named as a page is", "evening.mp3", "transcript.vtt", "file-name-taken 5:16", "writes itself", "another"],
    ["a date that never was", "2026-10-05T", "2026-02-29T", "date-not-in-calendar 3:8", "no day", "month"],
    [
      "a blank for T",
      "2026-10-05T18:30:00",
      "2026-10-05 18:30:00",
      "date-unreadable 3:8",
      "not a date",
      "2026-10-05T18:30:00",
    ],
    ["hour 24", "T18:30:00", "T24:00:00", "date-unreadable 3:8", "no clock", "23"],
    ["second 60", "T18:30:00", "T18:30:60", "date-unreadable 3:8", "no clock", "59"],
    ["a week date", "2026-10-05T18:30:00", "2026-W41-1", "date-unreadable 3:8", "not a date", "2026-10-05T18:30:00"],
    ["an offset of a day", "T18:30:00", "T18:30:00+24:00", "date-unreadable 3:8", "offset", "+14:00"],
  ])("%s", (_why, from, to, expected, says, mend) => {
    const findings = findingsOf(from, to);
    const index = brief(findings).indexOf(expected);
    expect(brief(findings)).toContain(expected);
    expect(findings[index]?.says).toContain(says);
    expect(findings[index]?.mend).toContain(mend);
  });

  test.each([
    ["a key misspelled", "aired:", "airde:", "key-unknown 3:1", "`aired`"],
    ["a key with a capital", "clock: aired", "Clock: aired", "key-unknown 6:1", "`clock`"],
    ["letters swapped", "    title: Headlines", "    titel: Headlines", "key-unknown 11:5", "`title`"],
    ["a key of no kind", "clock: aired", "clock: aired\nweather: fine", "key-unknown 7:1", "Known here: `title`"],
    ["a method of every object", "clock: aired", "clock: aired\ntoString: x", "key-unknown 7:1", "Known here"],
    ["the prototype", "clock: aired", "clock: aired\n__proto__: { clock: media }", "key-unknown 7:1", "plain words"],
  ])("unknown keys: %s", (_why, from, to, expected, mend) => {
    const findings = findingsOf(from, to);
    expect(findings[brief(findings).indexOf(expected)]?.mend).toContain(mend);
  });

  test.each([
    ["an hour that the clocks skipped", "2026-03-29T01:30:00", "date-skipped", "+01:00"],
    [
      "an hour that came twice",
      "2026-10-25T01:30:00",
      "date-twice",
      "2026-10-25T01:30:00+01:00 or 2026-10-25T01:30:00Z",
    ],
  ])("%s asks for an offset", (_why, moment, rule, mend) => {
    const [found] = findingsOf("2026-10-05T18:30:00", moment);
    expect(found).toMatchObject({ rule, at: { line: 3, column: 8 } });
    expect(found?.mend).toContain(mend.replace("Z", "+00:00"));
  });

  test.each([
    ["a block's last line break is not the writer's", "title: Fewer ferries", "title: >\n  Fewer\n  ferries"],
    ["a media type with its codec", "audio/mpeg", "audio/ogg; codecs=opus"],
    ["remote media are not looked for", "evening.mp3", "https://media.example.org/a%20b.mp4?x=1"],
    ["an offset that agrees", "T18:30:00", "T18:30:00+01:00"],
    ["seconds left out", "T18:30:00", "T18:30"],
    ["planned durations", "in: 0:10.500", "in: 0:10.500\n    planned: 1:40"],
    [
      "rights with what they show",
      "in: 0:10.500",
      "in: 0:10.500\n    rights: { withheld: true, until: 2027-01-01, show: nothing }",
    ],
    ["a comment for editors", "---\ntitle", "---\n# yaml-language-server: $schema=x.json\ntitle"],
  ])("good: %s", (_why, from, to) => {
    expect(findingsOf(from, to)).toEqual([]);
  });

  test("every fault of a file is told at once, with those that compare times", () => {
    const spoiled = EPISODE.replace("in: 0:00", "in: 14:75")
      .replace("slug: headlines", "slug: ferry-timetable")
      .replace("clock: aired", "clock: aird\ncolour: blue")
      .replace("to: 0:40", "to: 0:20");
    expect(brief(parseEpisode(episodeWith({ episode: spoiled }), "UTC").findings).sort()).toEqual([
      "cut-empty 8:26",
      "key-unknown 7:1",
      "segment-slug-twice 14:11",
      "time-unreadable 13:9",
      "value-unknown 6:8",
    ]);
  });
});

test("any whole millisecond below a hundred hours is written and read back", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 360_000_000 - 1 }), (ms) => {
      expect(parseClock(formatClockExact(ms))).toBe(ms);
    }),
  );
});

test("whatever stands for a value, nothing throws and every finding has its place and mend", () => {
  const keys = [
    "title",
    "aired",
    "duration",
    "media",
    "clock",
    "cuts",
    "segments",
    "summary",
    "slug",
    "in",
    "out",
    "rights",
    "src",
  ];
  const tree = fc.letrec((tie) => ({
    node: fc.oneof(
      { depthSize: "small" },
      fc.constantFrom("1:00", "aired", "../x", "2026-10-05T18:30:00", "", "🌊"),
      fc.integer(),
      fc.double(),
      fc.boolean(),
      fc.constant(null),
      fc.array(tie("node"), { maxLength: 3 }),
      fc.dictionary(fc.constantFrom(...keys), tie("node"), { maxKeys: 4 }),
    ),
  })).node;
  fc.assert(
    fc.property(fc.dictionary(fc.constantFrom(...keys), tree, { maxKeys: 7 }), (data) => {
      const episode = `---\n${JSON.stringify(data)}\n---\n`;
      const lines = episode.split("\n");
      const { findings } = parseEpisode(episodeWith({ episode }), "Europe/London");
      expect(findings.length).toBeGreaterThan(0);
      for (const { at, mend, says } of findings) {
        expect(at.line).toBeGreaterThanOrEqual(1);
        expect(at.line).toBeLessThanOrEqual(lines.length);
        expect(at.column).toBeGreaterThanOrEqual(1);
        expect(at.column).toBeLessThanOrEqual((lines[at.line - 1] ?? "").length + 1);
        expect(`${mend}${says}`).not.toMatch(/undefined|\[object/);
        expect(mend).not.toBe("");
      }
    }),
    { numRuns: 500 },
  );
});
