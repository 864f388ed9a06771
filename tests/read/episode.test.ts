import { describe, expect, test } from "vitest";
import { parseEpisode } from "../../src/read/index.ts";
import { brief, CORRECTION, EPISODE, episodeWith, FOLDER, listedFile, source, swap, TRANSCRIPT } from "./support.ts";

const LONDON = "Europe/London";
const spoil = (from: string, to: string) => parseEpisode(episodeWith({ episode: swap(EPISODE, from, to) }), LONDON);
const RIGHTS = "in: 0:10.500\n    rights: ";

describe("times against one another", () => {
  test.each([
    ["two in points alike", "in: 0:10.500", "in: 0:00", ["in-out-of-order 16:9"]],
    ["an in point past the end", "in: 0:10.500", "in: 1:15", ["point-past-end 16:9"]],
    ["an in point at the end", "in: 0:10.500", "in: 1:10", ["point-past-end 16:9"]],
    ["an out point past the end", "in: 0:10.500", "in: 0:10.500\n    out: 1:12", ["point-past-end 17:10"]],
    ["an out point in the end's own second", "in: 0:10.500", "in: 0:10.500\n    out: 1:10.400", []],
    ["an out point at the in point", "in: 0:10.500", "in: 0:10.500\n    out: 0:10.500", ["out-before-in 17:10"]],
    ["an out point past the next in point", "in: 0:00", "in: 0:00\n    out: 0:11", ["segments-overlap 17:9"]],
    ["a gap between segments", "in: 0:00", "in: 0:00\n    out: 0:09", []],
    ["a slug twice", "slug: ferry-timetable", "slug: headlines", ["segment-slug-twice 13:11"]],
    ["a cut that ends where it begins", "to: 0:40", "to: 0:30", ["cut-empty 7:26"]],
    ["a cut past the end", "to: 0:40", "to: 0:40, why: break }, { from: 1:19, to: 1:22", ["point-past-end 7:64"]],
    ["cuts that overlap", "to: 0:40", "to: 0:40, why: break }, { from: 0:39, to: 0:50", ["cut-overlap 7:54"]],
    ["cuts out of order", "to: 0:40", "to: 0:40, why: break }, { from: 0:20, to: 0:25", ["cut-in-order 7:54"]],
    ["cuts that touch", "to: 0:40", "to: 0:40, why: break }, { from: 0:40, to: 0:50", []],
    ["in media time the cuts add nothing", "clock: aired", "clock: media", []],
    ["in media time the end is the file's", "in: 0:10.500", "in: 1:05", []],
    [
      "no duration",
      "duration: 1:00",
      "duration: 0:00",
      ["duration-zero 4:11", "point-past-end 7:26", "point-past-end 16:9", "cue-past-end 6:1"],
    ],
  ])("%s", (_why, from, to, expected) => {
    expect(brief(spoil(from, to).findings)).toEqual(expected);
  });

  test("in media time an in point in the cuts' length is past the end", () => {
    const episode = swap(swap(EPISODE, "clock: aired", "clock: media"), "in: 0:10.500", "in: 1:05");
    expect(brief(parseEpisode(episodeWith({ episode }), LONDON).findings)).toEqual(["point-past-end 16:9"]);
  });

  test("a time has its seconds and the other half of the clash", () => {
    expect(spoil("in: 0:10.500", "in: 0:00").findings[0]).toMatchObject({ seconds: 0, see: [{ line: 12, column: 9 }] });
    expect(spoil("in: 0:10.500", "in: 1:15").findings[0]).toMatchObject({ seconds: 75, level: "blocks" });
  });
});

describe("rights", () => {
  test.each([
    ["withheld without a choice", "{ withheld: true }", ["rights-show-missing 17:15"]],
    ["withheld with its words", "{ withheld: true, show: transcript }", []],
    ["not withheld", "{ withheld: false, holder: agency }", []],
    ["withheld by a word", "{ withheld: yes, show: nothing }", ["true-or-false 17:25"]],
    ["a choice misspelled", "{ withheld: true, show: nothin }", ["value-unknown 17:37"]],
    ["until a day that never was", "{ withheld: true, show: nothing, until: 2027-02-30 }", ["date-unreadable 17:53"]],
    ["not said whether withheld", "{ holder: agency }", ["rights-withheld-missing 17:5"]],
    ["nor with a day", "{ until: 2027-01-01, sound: silenced }", ["rights-withheld-missing 17:5"]],
    ["nor with a choice", "{ show: nothing, sound: silenced }", ["rights-withheld-missing 17:5"]],
    ["silenced alone", "{ sound: silenced }", []],
    ["silenced and withheld", "{ withheld: true, show: nothing, sound: silenced }", []],
    ["in the file for a reason", "{ withheld: true, show: nothing, sound: in-file, because: a contract }", []],
    ["in the file for none", "{ withheld: true, show: nothing, sound: in-file }", ["rights-because-missing 17:46"]],
    ["a reason for nothing", "{ withheld: true, show: nothing, because: why }", ["rights-because-alone 17:46"]],
    [
      "a reason for silence",
      "{ withheld: true, show: nothing, sound: silenced, because: why }",
      ["rights-because-alone 17:63"],
    ],
    ["in the file and not withheld", "{ withheld: false, sound: in-file, because: why }", ["rights-sound-idle 17:32"]],
    [
      "in the file, a blank reason",
      '{ withheld: true, show: nothing, sound: in-file, because: "" }',
      ["value-empty 17:71"],
    ],
    ["another word", "{ withheld: true, show: nothing, sound: silent }", ["value-unknown 17:53"]],
  ])("%s", (_why, rights, expected) => {
    expect(brief(spoil("in: 0:10.500", RIGHTS + rights).findings)).toEqual(expected);
  });

  test("both choices are named", () => {
    expect(spoil("in: 0:10.500", `${RIGHTS}{ withheld: true }`).findings[0]?.mend).toMatch(/transcript.*nothing/);
  });

  test.each([
    [
      "{ sound: silenced }",
      { withheld: false, until: null, holder: null, show: "transcript", sound: { is: "silenced" } },
    ],
    [
      "{ withheld: true, show: nothing, sound: in-file, because: a contract }",
      { withheld: true, until: null, holder: null, show: "nothing", sound: { is: "in-file", because: "a contract" } },
    ],
    ["{ withheld: true, show: nothing }", { withheld: true, until: null, holder: null, show: "nothing" }],
  ])("%s", (rights, expected) => {
    const read = spoil("in: 0:10.500", RIGHTS + rights);
    expect(read.ok && read.value.segments[1]?.rights).toEqual(expected);
  });
});

describe("the story of a segment", () => {
  test.each([
    ["a name", "story: The winter timetable", "The winter timetable", []],
    ["none of them", "story: none", "none", []],
    ["not said", "planned: 0:30", undefined, []],
    ["blank", 'story: ""', undefined, ["value-empty"]],
    ["a list", "story: [a, b]", undefined, ["text-wanted"]],
    ["no", "story: false", undefined, ["text-wanted"]],
  ])("%s", (_why, line, story, rules) => {
    const read = spoil("in: 0:10.500", `in: 0:10.500\n    ${line}`);
    expect(read.findings.map(({ rule }) => rule)).toEqual(rules);
    for (const { at, mend } of read.findings) expect([at.line > 10, mend.length > 10]).toEqual([true, true]);
    expect(read.ok ? read.value.segments[1]?.story : undefined).toBe(story);
  });
});

describe("the recording", () => {
  test.each([
    ["it is not there", [], ["media-missing 5:16"]],
    ["it is empty", [listedFile(`${FOLDER}/evening.mp3`, 0)], ["media-empty 5:16"]],
    [
      "it stands in corrections/",
      [listedFile(`${FOLDER}/corrections/evening.mp3`)],
      ["media-missing 5:16", "correction-name 1:1"],
    ],
  ])("%s", (_why, files, expected) => {
    expect(brief(parseEpisode(episodeWith({ files }), LONDON).findings)).toEqual(expected);
  });

  test("a name that is nearly right is suggested", () => {
    const files = [listedFile(`${FOLDER}/evenign.mp3`)];
    expect(parseEpisode(episodeWith({ files }), LONDON).findings[0]?.mend).toBe("Did you mean evenign.mp3?");
  });

  test("another host is one that the programme names, or its pages may not play it", () => {
    const sources = episodeWith({ episode: swap(EPISODE, "evening.mp3", "https://media.example.org/a.mp3") });
    expect(parseEpisode(sources, LONDON, ["https://media.example.org"]).findings).toEqual([]);
    const { findings } = parseEpisode(sources, LONDON, ["https://media.example.net"]);
    expect(findings).toMatchObject([{ rule: "media-host-unknown", level: "blocks", at: { line: 5, column: 16 } }]);
    expect(findings[0]?.mend).toContain("https://media.example.org");
  });

  test("another size than the given one is a doubt", () => {
    const read = spoil("type: audio/mpeg", "type: audio/mpeg, bytes: 999");
    expect(read).toMatchObject({
      ok: true,
      findings: [{ rule: "media-bytes-differ", level: "warns", at: { line: 5, column: 54 } }],
    });
  });
});

describe("the folder's name", () => {
  test.each([
    ["a second edition", "2026-10-05-late", []],
    ["another day than aired", "2026-10-06", ["episode-id-unlike-aired 3:8"]],
    ["a day that never was", "2026-02-30", ["episode-id 1:1"]],
    ["capitals", "2026-10-05-LATE", ["episode-id 1:1"]],
    ["a word", "monday", ["episode-id 1:1"]],
    ["another year than the folder above", "2025-10-05", ["episode-in-wrong-year 1:1", "episode-id-unlike-aired 3:8"]],
  ])("%s", (_why, id, expected) => {
    expect(brief(parseEpisode(episodeWith({ id }), LONDON).findings)).toEqual(expected);
  });

  test("the day is the day in the programme's zone", () => {
    const late = spoil("2026-10-05T18:30:00", "2026-10-05T23:30:00Z");
    expect(brief(late.findings)).toEqual(["episode-id-unlike-aired 3:8", "offset-unlike-zone 3:8"]);
  });
});

describe("the transcript", () => {
  const withTranscript = (transcript: string | Uint8Array | null) => parseEpisode(episodeWith({ transcript }), LONDON);
  test.each([
    ["missing", null, ["transcript-missing 1:1"]],
    ["an empty file", "", ["transcript-empty 1:1"]],
    ["a file of blank lines", "\n \n", ["transcript-empty 1:1"]],
    ["no cues", "WEBVTT\n\n", ["transcript-empty 1:1"]],
    ["another format", "1\n00:00:00,000 --> 00:00:05,000\nGood evening.\n", ["transcript-not-webvtt 1:1"]],
    ["another encoding", Uint8Array.from([...new TextEncoder().encode(TRANSCRIPT), 0x0a, 0xe9]), ["text-not-utf8 9:1"]],
    ["a cue that ends before it starts", swap(TRANSCRIPT, "00:05.000", "00:00.000"), ["time-empty 3:15"]],
    ["a cue that never was read", swap(TRANSCRIPT, "00:10.500", "00:1O.500"), ["time-unreadable 6:4"]],
    ["a cue past the end", swap(TRANSCRIPT, "00:20.000", "01:11.000"), ["cue-past-end 6:1"]],
    ["a trace of another encoding", swap(TRANSCRIPT, "Good", "It\u0092s good"), ["text-control 4:23"]],
    ["one line of 400,000 characters", swap(TRANSCRIPT, "Good", "x".repeat(400_000)), []],
    ["a byte order mark", `\uFEFF${TRANSCRIPT}`, []],
  ])("%s", (_why, transcript, expected) => {
    expect(brief(withTranscript(transcript).findings)).toEqual(expected);
  });

  test("a cue past the end is a doubt, with its moment", () => {
    const read = withTranscript(swap(TRANSCRIPT, "00:20.000", "01:11.000"));
    expect(read).toMatchObject({ ok: true, findings: [{ level: "warns", seconds: 10.5 }] });
  });

  test("a translation must be of a language and be WebVTT", () => {
    const translations = [
      source(`${FOLDER}/transcript.welsh.vtt`, TRANSCRIPT),
      source(`${FOLDER}/transcript.cy.vtt`, "x"),
    ];
    const { findings } = parseEpisode({ ...episodeWith({}), translations }, LONDON);
    expect(brief(findings)).toEqual(["translation-language 1:1", "transcript-not-webvtt 1:1"]);
  });
});

describe("corrections", () => {
  const NAME = "2026-10-06-1.md";
  const withCorrection = (from: string, to: string) =>
    parseEpisode(episodeWith({ corrections: { [NAME]: swap(CORRECTION, from, to) } }), LONDON);

  test("a good one", () => {
    const read = parseEpisode(episodeWith({ corrections: { [NAME]: CORRECTION } }), LONDON);
    expect(read.findings).toEqual([]);
    expect(read.ok && read.value.corrections).toEqual([
      {
        id: "2026-10-06-1",
        kind: "on-air",
        dated: "2026-10-06T09:40:00+01:00",
        segment: "ferry-timetable",
        at: 12_000,
        said: "nine sailings",
        every: false,
        signed: "Standards editor",
        supersedes: null,
        note: "We said nine.\n",
        place: { file: `${FOLDER}/corrections/${NAME}`, line: 3, column: 7 },
      },
    ]);
  });

  test.each([
    ["words put right that stand as said", "said: nine", "now: ten\nsaid: nine", ["correction-kind-disagrees 6:1"]],
    ["a field of pages", "said: nine", "field: title\nsaid: nine", ["correction-kind-disagrees 6:1"]],
    [
      "a withdrawal of words",
      "kind: on-air",
      "kind: withdrawal",
      ["correction-kind-disagrees 5:1", "correction-kind-disagrees 6:1"],
    ],
    ["a transcript correction without its words", "kind: on-air", "kind: transcript", ["key-missing 2:1"]],
    ["an unknown key", "said: nine", "colour: blue\nsaid: nine", ["key-unknown 6:1"]],
    [
      "an unknown kind, and more",
      "kind: on-air",
      "kind: onair\ncolour: blue",
      ["value-unknown 3:7", "key-unknown 4:1"],
    ],
    ["no note", "We said nine.\n", " \n", ["note-missing 9:1"]],
    [
      "an unknown segment",
      "segment: ferry-timetable",
      "segment: ferry-timetables",
      ["correction-segment-unknown 4:10"],
    ],
    ["past the end", "at: 0:12", "at: 1:12", ["point-past-end 5:5"]],
    ["another day than the name", "2026-10-06T09:40", "2026-10-07T09:40", ["correction-date-unlike-name 2:8"]],
    [
      "of the name's day elsewhere only",
      "2026-10-06T09:40:00+01:00",
      "2026-10-06T23:40:00Z",
      ["correction-date-unlike-name 2:8"],
    ],
    ["an hour that came twice", "2026-10-06T09:40:00+01:00", "2026-10-25T01:30:00", ["date-twice 2:8"]],
    ["a correction that is not there", "signed:", "supersedes: 2026-10-06-2\nsigned:", ["supersedes-unknown 7:13"]],
    ["itself", "signed:", "supersedes: 2026-10-06-1\nsigned:", ["supersedes-later 7:13"]],
    ["every occurrence of nothing", "said: nine sailings", "every: true", ["correction-every-of-nothing 6:1"]],
    ["not text", "---\ndated", "---js\ndated", ["front-matter-language 1:4"]],
  ])("%s blocks, and the episode stays", (_why, from, to, expected) => {
    const read = withCorrection(from, to);
    expect(brief(read.findings)).toEqual(expected);
    expect(read.findings.every(({ level }) => level === "blocks")).toBe(true);
    expect(read).toMatchObject({ ok: true, value: { id: "2026-10-05", corrections: [] } });
  });

  test("a time outside its segment is a doubt", () => {
    const read = withCorrection("at: 0:12", "at: 0:02");
    expect(read).toMatchObject({
      ok: true,
      findings: [{ rule: "correction-outside-segment", level: "warns", seconds: 2 }],
    });
    expect(read.ok && read.value.corrections).toHaveLength(1);
  });

  test("two that supersede the same one are a doubt, told of the later", () => {
    const next = (number: number, supersedes: number) =>
      swap(CORRECTION, "signed:", `supersedes: 2026-10-06-${supersedes}\nsigned:`).replace("09:40", `1${number}:40`);
    const withThird = (supersedes: number) => {
      const corrections = {
        [NAME]: CORRECTION,
        "2026-10-06-2.md": next(2, 1),
        "2026-10-06-3.md": next(3, supersedes),
      };
      return parseEpisode(episodeWith({ corrections }), LONDON);
    };
    const { findings, ok } = withThird(1);
    expect(ok).toBe(true);
    expect(brief(findings)).toEqual(["supersedes-again 7:13"]);
    expect(findings).toMatchObject([
      { level: "warns", at: { file: `${FOLDER}/corrections/2026-10-06-3.md` }, mend: expect.stringMatching(/-06-2\b/) },
    ]);
    expect(withThird(2).findings).toEqual([]);
  });

  test("a date before the broadcast is a doubt", () => {
    const corrections = { "2026-10-05-1.md": swap(CORRECTION, "2026-10-06T09", "2026-10-05T09") };
    const { findings } = parseEpisode(episodeWith({ corrections }), LONDON);
    expect(findings).toMatchObject([{ rule: "correction-before-air", level: "warns", at: { line: 2, column: 8 } }]);
  });

  test.each([
    ["in", "1:23", "1:75", ["time-unreadable 6:6"]],
    ["in", "1:23", "1:24", []],
    ["title", "Nine", "", ["value-empty 6:6"]],
    ["by", "Ilse Marrane", "", []],
    ["tittle", "Nine", "Ten", ["value-unknown 4:8"]],
  ])("of a page's %s, %s to %s", (field, said, now, expected) => {
    const text = `---\ndated: 2026-10-06T09:40\nkind: page\nfield: ${field}\nsaid: "${said}"\nnow: "${now}"\nsegment: ferry-timetable\nsigned: Editor\n---\nNote.\n`;
    const read = parseEpisode(episodeWith({ corrections: { [NAME]: text } }), LONDON);
    expect(brief(read.findings)).toEqual(expected);
  });

  test("only segments have in points", () => {
    const text =
      '---\ndated: 2026-10-06T09:40\nkind: page\nfield: in\nsaid: "0:10"\nnow: "0:11"\nsigned: Editor\n---\nNote.\n';
    expect(brief(parseEpisode(episodeWith({ corrections: { [NAME]: text } }), LONDON).findings)).toEqual([
      "correction-segment-missing 4:8",
    ]);
  });

  test("a speaker may have been nobody, words may not", () => {
    const text = (field: string) =>
      `---\ndated: 2026-10-06T09:40\nkind: transcript\n${field}said: ""\nnow: Ilse Marrane\nat: 0:12\nsigned: Editor\n---\nNote.\n`;
    const read = (field: string) => parseEpisode(episodeWith({ corrections: { [NAME]: text(field) } }), LONDON);
    expect(read("field: speaker\n")).toMatchObject({
      findings: [],
      value: { corrections: [{ field: "speaker", said: "" }] },
    });
    expect(brief(read("").findings)).toEqual(["value-empty 4:7"]);
  });

  test.each([
    ["6-10-2026.md", "correction-name 1:1"],
    ["2026-10-06.md", "correction-name 1:1"],
    ["2026-10-06-0.md", "correction-name 1:1"],
    ["2026-02-30-1.md", "correction-name 1:1"],
  ])("a file named %s is none", (name, expected) => {
    expect(brief(parseEpisode(episodeWith({ corrections: { [name]: CORRECTION } }), LONDON).findings)).toContain(
      expected,
    );
  });

  test("they are laid in the order of their dates, then of their numbers", () => {
    const corrections = {
      "2026-10-06-10.md": CORRECTION,
      "2026-10-06-9.md": CORRECTION,
      "2026-10-06-1.md": swap(CORRECTION, "T09:40", "T10:40"),
    };
    const read = parseEpisode(episodeWith({ corrections }), LONDON);
    expect(read.ok && read.value.corrections.map(({ id }) => id)).toEqual([
      "2026-10-06-9",
      "2026-10-06-10",
      "2026-10-06-1",
    ]);
  });

  test("files in a wrong place", () => {
    const names = ["2026-10-06-1.md", "corrections/note.txt", "old.md", "transcript.srt", "evening.mp3", "picture.png"];
    const files = names.map((name) => listedFile(`${FOLDER}/${name}`));
    const { findings } = parseEpisode(episodeWith({ files }), LONDON);
    expect(findings.map(({ rule, level, at }) => [rule, level, at.file.slice(FOLDER.length + 1)])).toEqual([
      ["correction-misplaced", "blocks", "2026-10-06-1.md"],
      ["correction-name", "blocks", "corrections/note.txt"],
      ["file-unread", "warns", "old.md"],
      ["file-unread", "warns", "transcript.srt"],
    ]);
  });
});

describe("an episode that is not divided", () => {
  const undivided = (segments: string) =>
    swap(EPISODE, EPISODE.slice(EPISODE.indexOf("segments:"), EPISODE.indexOf("---\nNotes")), segments);
  test.each([
    ["no key", ""],
    ["an empty list", "segments: []\n"],
  ])("is one segment from beginning to end: %s", (_why, segments) => {
    const correction = CORRECTION.replace("segment: ferry-timetable", "segment: programme");
    const sources = episodeWith({ episode: undivided(segments), corrections: { "2026-10-06-1.md": correction } });
    const read = parseEpisode(sources, "Europe/London");
    expect(read.findings).toEqual([]);
    expect(read.ok && read.value.segments).toMatchObject([
      { slug: "programme", kind: "round-up", title: "Fewer ferries", in: 0, out: 70_000 },
    ]);
  });

  test("may have no recording either", () => {
    const without = swap(undivided(""), "media: [{ src: evening.mp3, type: audio/mpeg }]\n", "");
    const read = parseEpisode(episodeWith({ episode: without }), "Europe/London");
    expect(read.findings).toEqual([]);
    expect(read.ok && read.value.media).toEqual([]);
  });
});
