import { execFileSync } from "node:child_process";
import { describe, expect, test } from "vitest";
import { auditEpisode } from "../../src/record/audit.ts";
import { canonicalJson } from "../../src/record/canonical.ts";
import { digestOf } from "../../src/record/digest.ts";
import { earlierTextOn, recordedIn } from "../../src/record/enter.ts";
import { type Entry, entriesOf, entryLine, readRecord } from "../../src/record/entry.ts";
import { frozenFields } from "../../src/record/frozen.ts";
import {
  auditTexts,
  changed,
  entered,
  FOLDER,
  PUBLISHED,
  readTexts,
  type Texts,
  WRITTEN,
  without,
} from "./published.ts";

const RECORD = "record.jsonl";
const lines = (texts: Texts): readonly string[] => (texts[RECORD] ?? "").split("\n").slice(0, -1);
const withLines = (texts: Texts, own: readonly string[]): Texts => ({
  ...texts,
  [RECORD]: own.map((line) => `${line}\n`).join(""),
});
const found = (texts: Texts, given = {}) =>
  auditTexts(texts, given).map(({ rule, at }) => `${rule} ${at.file.slice(FOLDER.length + 1)}:${at.line}`);

/** A record made anew from a line on, with one member changed: every link holds again. */
function forged(texts: Texts, from: number, change: Partial<Entry>): Texts {
  const entries = entriesOf(readRecord(texts[RECORD] ?? ""));
  const forge: Entry[] = [];
  for (const entry of entries) {
    const last = forge.at(-1);
    const prev = last === undefined ? null : digestOf(entryLine(last).slice(0, -1));
    forge.push({ ...entry, prev, ...(entry.seq === from ? change : {}) });
  }
  return { ...texts, [RECORD]: forge.map(entryLine).join("") };
}

test("what was published and entered is found as it was", () => {
  expect(lines(PUBLISHED)).toHaveLength(4);
  expect(auditTexts(PUBLISHED)).toEqual([]);
  expect(auditTexts(WRITTEN)).toEqual([]);
});

describe("a record holds what its format says", () => {
  test("the digest of an entry is that of its line's bytes, without the line end", () => {
    const [first = "", second = ""] = lines(PUBLISHED);
    expect(JSON.parse(first)).toMatchObject({ prev: null, seq: 1, what: "published", episode: "2026-10-05" });
    expect(JSON.parse(second)).toMatchObject({ prev: digestOf(first), seq: 2, what: "corrected" });
    expect(first).toBe(canonicalJson(JSON.parse(first)));
  });
  test("outsiders can check a link with sed, tr and coreutils' sha256sum", () => {
    const run = (line: number): string =>
      execFileSync("sh", ["-c", `sed -n ${line}p | tr -d '\\n' | sha256sum`], {
        input: PUBLISHED[RECORD],
        encoding: "utf8",
      });
    for (const line of [1, 2, 3]) expect(`${JSON.parse(lines(PUBLISHED)[line] ?? "").prev}  -\n`).toBe(run(line));
  });
  test("the vector of a chain: computed with node's crypto", () => {
    const first = canonicalJson({ prev: null, seq: 1, what: "published" });
    expect(digestOf(first)).toBe("c9dcc720c0cd9a78f8007fcd13849619db2858a4f9f2ae13abd9f6de54f63f37");
    expect(digestOf(canonicalJson({ what: "corrected", seq: 2, prev: digestOf(first) }))).toBe(
      "b0f22fbf9511462dd6137aced44f267af3326691affefc5d8822c67b183d45b9",
    );
  });
  test("digests and addresses, and no word", () => {
    for (const word of ["Osric", "Osmund", "sailings", "Good", "Skelland", "thanks"])
      expect(PUBLISHED[RECORD]).not.toContain(word);
  });
});

describe("a change in silence is found, with its file", () => {
  test.each([
    ["a word", changed(PUBLISHED, "transcript.vtt", "fourteen", "thirteen"), ["content-changed transcript.vtt:1"]],
    ["a time", changed(PUBLISHED, "transcript.vtt", "00:10.000", "00:09.000"), ["content-changed transcript.vtt:1"]],
    ["a speaker", changed(PUBLISHED, "transcript.vtt", "Ilse", "Else"), ["content-changed transcript.vtt:1"]],
    ["a translation", changed(PUBLISHED, "transcript.cy.vtt", "dda", "da"), ["content-changed transcript.cy.vtt:1"]],
    [
      "a translation added",
      { ...PUBLISHED, "transcript.fr.vtt": PUBLISHED["transcript.cy.vtt"] ?? "" },
      ["content-changed transcript.fr.vtt:1"],
    ],
    ["a translation gone", without(PUBLISHED, "transcript.cy.vtt"), ["content-missing transcript.cy.vtt:1"]],
    [
      "the transcript gone",
      without(PUBLISHED, "transcript.vtt"),
      ["content-missing transcript.vtt:1", "content-unreadable episode.md:1"],
    ],
    ["a title", changed(PUBLISHED, "episode.md", "Nine sailings", "Ten sailings"), ["content-changed episode.md:1"]],
    ["an in point", changed(PUBLISHED, "episode.md", "in: 0:15", "in: 0:14"), ["content-changed episode.md:1"]],
    ["a credit", changed(PUBLISHED, "episode.md", "[Ilse Marrane]", "[]"), ["content-changed episode.md:1"]],
    ["the notes", changed(PUBLISHED, "episode.md", "With thanks", "No thanks"), ["content-changed episode.md:1"]],
    [
      "a note",
      changed(PUBLISHED, "corrections/2026-10-06-1.md", "nine", "ten"),
      ["correction-edited corrections/2026-10-06-1.md:1"],
    ],
    [
      "a correction deleted",
      without(PUBLISHED, "corrections/2026-10-07-1.md"),
      ["correction-missing corrections/2026-10-07-1.md:1"],
    ],
  ])("%s", (_what, texts, expected) => {
    expect(found(texts).map((own) => own.replace(/episode\.md:\d+/, "episode.md:1"))).toEqual(expected);
  });

  test.each([
    ["where the media lie", changed(PUBLISHED, "episode.md", "a.mp3", "b.mp3")],
    ["a comment", changed(PUBLISHED, "episode.md", "clock: aired", "clock: aired # what the desk says")],
    [
      "rights",
      changed(
        PUBLISHED,
        "episode.md",
        "kind: package,",
        "kind: package, rights: { withheld: true, show: transcript },",
      ),
    ],
  ])("not frozen: %s", (_what, texts) => expect(found(texts)).toEqual([]));

  test("which words, where an earlier text is known", () => {
    const before = PUBLISHED["transcript.vtt"] ?? "";
    const texts = changed(
      changed(PUBLISHED, "transcript.vtt", "fourteen", "thirteen"),
      "transcript.vtt",
      " Good night",
      "",
    );
    const known = new Map([[digestOf(before), before]]);
    expect(auditTexts(texts, { known })).toMatchObject([
      { at: { line: 9 }, see: [{ file: `${FOLDER}/record.jsonl`, line: 4 }] },
    ]);
    expect(auditTexts(texts, { known })[0]?.says).toBe(
      'The transcript is not the one that was published. See line 4 of its record. "fourteen" became "thirteen" (line 9); "Good night" was taken out (line 25).',
    );
  });

  test("which fields, where earlier ones are known", () => {
    const { episode } = readTexts(PUBLISHED);
    const fields = canonicalJson(
      frozenFields(
        episode ??
          (() => {
            throw new Error("unreadable");
          })(),
      ),
    );
    const texts = changed(PUBLISHED, "episode.md", "Nine sailings", "Ten sailings");
    const [finding] = auditTexts(texts, { known: new Map([[digestOf(fields), fields]]) });
    expect(finding?.says).toContain('segments.1.title: "Nine sailings" became "Ten sailings"');
  });
});

test.each([
  ["before anything was published", "2026-10-08T07:59:59Z", null],
  ["while the first text stood", "2026-10-08T08:00:00Z", 1],
  ["since it was reissued", "2026-10-12T08:00:00Z", null],
])("the earlier text in force %s", (_when, moment, seq) => {
  const texts = entered(
    changed(PUBLISHED, "transcript.vtt", "fourteen", "thirteen"),
    "2026-10-12T08:00:00.000Z",
    "A reason.",
  );
  const record = readRecord(texts[RECORD] ?? "");
  expect(entriesOf(record).at(-1)).toMatchObject({ what: "reissued", seq: 5, reason: digestOf("A reason.") });
  expect(earlierTextOn(record, moment)).toBe(seq);
  expect([...recordedIn(record).reissued]).toEqual(["2026-10-06-1", "2026-10-07-1", "2026-10-07-2"]);
  expect([...recordedIn(readRecord(PUBLISHED[RECORD] ?? "")).reissued]).toEqual([]);
});

describe("a record that was tampered with", () => {
  const [one = "", two = "", three = "", four = ""] = lines(PUBLISHED);
  test.each([
    [
      "a line dropped in the middle",
      [one, three, four],
      ["record-order record.jsonl:2", "record-chain-broken record.jsonl:2"],
    ],
    [
      "the first line dropped",
      [two, three, four],
      ["record-order record.jsonl:1", "record-chain-broken record.jsonl:1", "record-line-edited record.jsonl:1"],
    ],
    [
      "two lines swapped",
      [one, three, two, four],
      [
        "record-order record.jsonl:2",
        "record-chain-broken record.jsonl:2",
        "record-order record.jsonl:3",
        "record-chain-broken record.jsonl:3",
        "record-order record.jsonl:4",
        "record-chain-broken record.jsonl:4",
      ],
    ],
    [
      "a line doubled",
      [one, two, two, three, four],
      ["record-order record.jsonl:3", "record-chain-broken record.jsonl:3"],
    ],
    ["a space put in", [one, two.replace(",", ", "), three, four], ["record-line-edited record.jsonl:2"]],
    [
      "a member said twice",
      [one, two.replace("{", '{"afterair":"record 1",'), three, four],
      ["record-line-edited record.jsonl:2"],
    ],
    ["not JSON", [one, "nonsense", three, four], ["record-line-edited record.jsonl:2"]],
    ["another format", [one, two.replace("record 1", "record 9"), three, four], ["record-line-edited record.jsonl:2"]],
    ["emptied", [], ["record-cut record.jsonl:1"]],
  ])("%s", (_what, own, expected) => expect(found(withLines(PUBLISHED, own))).toEqual(expected));

  test("a torn last line", () => {
    expect(found({ ...PUBLISHED, [RECORD]: `${one}\n${two}\n${three}\n${four.slice(0, 40)}` })).toEqual([
      "record-line-torn record.jsonl:4",
    ]);
  });
  test("an entry of another episode", () => {
    expect(found(forged(PUBLISHED, 4, { episode: "2026-10-06" }))).toEqual([
      "record-of-another-episode record.jsonl:4",
    ]);
  });
  test("a clock that went back, and one that runs ahead", () => {
    expect(found(forged(PUBLISHED, 3, { time: "2026-10-07T08:00:00.000Z" }))).toEqual([
      "record-clock-back record.jsonl:3",
    ]);
    expect(found(forged(PUBLISHED, 4, { time: "2026-11-07T08:00:00.000Z" }))).toEqual([
      "record-in-future record.jsonl:4",
    ]);
  });
  test("a clock that ran ahead is set right by an entry that says so, and nothing else is changed by it", () => {
    const now = "2026-10-08T09:00:00.000Z";
    const ahead = {
      ...PUBLISHED,
      "corrections/2027-10-08-1.md":
        "---\ndated: 2027-10-08T09:00:00\nkind: update\nsegment: close\nsigned: Me\n---\nMore.\n",
    };
    const locked = entered(ahead, "2027-10-08T10:00:00.000Z");
    const rules = (texts: Texts, at: string) => auditTexts(texts, { now: at }).map(({ rule }) => rule);
    expect(rules(locked, now)).toEqual(["record-in-future", "correction-in-future"]);
    const right = entered(locked, now, null, true);
    expect(entriesOf(readRecord(right[RECORD] ?? "")).at(-1)).toMatchObject({ what: "clock", ahead: 5, time: now });
    expect(auditEpisode({ ...readTexts(right, now).input })).toEqual([]);
    const away = "---\ndated: 2026-10-08T09:30:00\nkind: withdrawal\nsegment: close\nsigned: Me\n---\nGone.\n";
    const withdrawn = entered({ ...right, "corrections/2026-10-08-2.md": away }, "2026-10-08T09:40:00.000Z");
    expect(auditEpisode({ ...readTexts(withdrawn, "2026-10-08T09:45:00.000Z").input })).toEqual([]);
    // It shows when it was set right, and is not there before.
    const { episode } = readTexts(right, now);
    expect(episode?.corrections.find(({ id }) => id === "2027-10-08-1")?.dated).toBe(now);
    // Whoever writes such an entry over sound ones is found.
    expect(rules(forged(withdrawn, 6, { ahead: 4 }), "2026-10-08T09:45:00.000Z")).toEqual(["record-clock-unfounded"]);
    expect(rules(forged(withdrawn, 6, { ahead: 6 }), "2026-10-08T09:45:00.000Z")).toContain("record-line-edited");
  });
  test("a frozen text that changed from one entry to the next", () => {
    const texts = changed(PUBLISHED, "transcript.vtt", "fourteen", "thirteen");
    const digest = digestOf(texts["transcript.vtt"] ?? "");
    expect(found(forged(texts, 4, { transcript: digest }))).toEqual(["record-changed-in-silence record.jsonl:4"]);
  });
  test("corrections dated before the programme, or ahead", () => {
    const early = changed(WRITTEN, "corrections/2026-10-06-1.md", "2026-10-06T09", "2026-10-04T09");
    const renamed = {
      ...without(early, "corrections/2026-10-06-1.md"),
      "corrections/2026-10-04-1.md": early["corrections/2026-10-06-1.md"] ?? "",
    };
    expect(auditTexts(entered(renamed)).map(({ rule }) => rule)).toEqual(["correction-before-air"]);
    expect(auditTexts(PUBLISHED, { now: "2026-10-07T08:30:00Z" }).map(({ rule }) => rule)).toContain(
      "correction-in-future",
    );
  });

  describe("against an earlier copy", () => {
    const earlier = { text: withLines(PUBLISHED, [one, two])[RECORD] ?? "" };
    const listed = { digest: digestOf(earlier.text) };
    test.each([
      ["the same and more", PUBLISHED, []],
      ["a tail cut off", withLines(PUBLISHED, [one]), ["record-cut", "record-rewritten"]],
      [
        "made anew from the first line on",
        forged(PUBLISHED, 1, { time: "2026-10-07T08:00:00.000Z" }),
        ["record-rewritten", "record-rewritten"],
      ],
      [
        "made anew from the last line on, after the copy",
        forged(PUBLISHED, 4, { time: "2026-10-08T09:00:00.000Z" }),
        [],
      ],
      ["gone", without(PUBLISHED, RECORD), ["record-missing", "record-missing"]],
    ])("%s", (_what, texts, [byText, byList]) => {
      expect(auditTexts(texts, { earlier: [{ from: "a copy", record: earlier }] }).map(({ rule }) => rule)).toEqual(
        byText === undefined ? [] : [byText],
      );
      expect(auditTexts(texts, { earlier: [{ from: "a list", record: listed }] }).map(({ rule }) => rule)).toEqual(
        byList === undefined ? [] : [byList],
      );
    });
  });
});

describe("after a withdrawal", () => {
  const note =
    "---\ndated: 2026-10-09T09:00:00\nkind: withdrawal\nsegment: ferry-timetable\nsigned: Me\n---\nBy order of the court.\n";
  const about =
    "---\ndated: 2026-10-08T12:00:00\nkind: on-air\nsaid: Rowan Skelland\nsigned: Me\n---\nHe is Ruan Skelland.\n";
  const given = { ...PUBLISHED, "corrections/2026-10-08-1.md": about, "corrections/2026-10-09-1.md": note };
  const withdrawn = entered(given, "2026-10-09T10:00:00.000Z");
  const cut = [
    ["transcript.vtt", /4\n00:15[\s\S]*dim byd<\/lang>.\n\n/, ""],
    ["episode.md", "title: Nine sailings", "title: Withdrawn"],
    ["episode.md", ", by: [Ilse Marrane], topics: [transport], summary: What is left.", ""],
    ["corrections/2026-10-08-1.md", "said: Rowan Skelland\n", "segment: ferry-timetable\n"],
    ["corrections/2026-10-08-1.md", "He is Ruan Skelland.", "Withdrawn."],
  ] as const;
  const after = cut.reduce<Texts>((texts, [path, from, to]) => changed(texts, path, from, to), withdrawn);

  test("the words may be cut out of the files, each file whole, and the cut is told until it is entered", () => {
    expect(auditTexts(withdrawn)).toEqual([]);
    expect(JSON.stringify(after)).not.toMatch(/Skelland|What is left|Nine|dim byd/);
    const told = (texts: Texts) =>
      auditEpisode(readTexts(texts).input).map(
        ({ rule, level, at }) => `${rule} ${level} ${at.file.slice(FOLDER.length + 1)}`,
      );
    expect(told(after)).toEqual([
      "cut-not-entered warns transcript.vtt",
      "cut-not-entered warns corrections/2026-10-08-1.md",
    ]);
    const kept = entered(after, "2026-10-10T08:00:00.000Z");
    expect(told(kept)).toEqual([]);
    const last = entriesOf(readRecord(kept[RECORD] ?? "")).at(-1);
    expect(last).toMatchObject({ what: "cut", cuts: [{ id: "2026-10-08-1" }] });
    // From then on the files are frozen as they are: not even back to what they were.
    expect(found(withdrawn)).toEqual([]);
    expect(found({ ...withdrawn, [RECORD]: kept[RECORD] ?? "" })).toContain("content-changed transcript.vtt:1");
    expect(found(changed(kept, "corrections/2026-10-08-1.md", "Withdrawn.", "Withdrawn!"))).toEqual([
      "correction-edited corrections/2026-10-08-1.md:1",
    ]);
  });

  test.each([
    ["a title alone", "episode.md", "title: Nine sailings", "title: Withdrawn", "content-changed episode.md"],
    ["a word, not the cue", "transcript.vtt", "Rowan", "Robin", "content-changed transcript.vtt"],
    ["half of a cue", "transcript.vtt", ", that’s what’s left &amp; no more", "", "content-changed transcript.vtt"],
  ])("a cut in part, %s, is named", (_what, path, from, to, expected) => {
    expect(found(changed(withdrawn, path, from, to)).map((own) => own.replace(/:\d+$/, ""))).toContain(expected);
  });

  test("a correction that nobody sees any more can't be made to change published words, or to take another's place", () => {
    const path = "corrections/2026-10-08-1.md";
    const lines = ["dated: 2026-10-08T12:00:00", "kind: transcript", "segment: headlines"];
    const turned = ["---", ...lines, "said: fourteen", "now: forty", "signed: Me", "---", "More.", ""].join("\n");
    const taking = changed(
      withdrawn,
      path,
      "said: Rowan Skelland",
      "segment: ferry-timetable\nsupersedes: 2026-10-06-1",
    );
    expect(found({ ...withdrawn, [path]: turned })).toEqual([`correction-edited ${path}:1`]);
    expect(found(taking)).toEqual([`correction-edited ${path}:1`]);
    expect(found({ ...after, [path]: turned })).toEqual([`correction-edited ${path}:1`]);
  });

  test("a withdrawn edition's transcript may be emptied, and not rewritten", () => {
    const whole = note.replace("segment: ferry-timetable\n", "");
    const gone = entered({ ...PUBLISHED, "corrections/2026-10-09-1.md": whole }, "2026-10-09T10:00:00.000Z");
    expect(found(gone)).toEqual([]);
    expect(found({ ...gone, "transcript.vtt": "WEBVTT\n" })).toEqual([]);
    expect(found(changed(gone, "transcript.vtt", "fourteen", "forty"))).toEqual(["content-changed transcript.vtt:1"]);
  });
  test("later corrections are entered over what is left, and hold", () => {
    const later = "---\ndated: 2026-10-10T09:00:00\nkind: update\nsegment: close\nsigned: Me\n---\nMore.\n";
    const texts = entered({ ...after, "corrections/2026-10-10-1.md": later }, "2026-10-10T10:00:00.000Z");
    expect(lines(texts)).toHaveLength(8);
    expect(auditTexts(texts)).toEqual([]);
    expect(found(changed(texts, "transcript.vtt", "Osric", "Osmund"))).toContain("content-changed transcript.vtt:1");
  });
  test.each([
    ["a word that stays", "transcript.vtt", "fourteen", "thirteen", "content-changed transcript.vtt:1"],
    ["a title that stays", "episode.md", "title: Headlines", "title: Heads", "content-changed episode.md:3"],
    ["the time of what was withdrawn", "episode.md", "in: 0:15", "in: 0:16", "content-changed episode.md:3"],
    [
      "the note of the withdrawal itself",
      "corrections/2026-10-09-1.md",
      "court",
      "king",
      "correction-edited corrections/2026-10-09-1.md:1",
    ],
    [
      "a correction of something else",
      "corrections/2026-10-06-1.md",
      "nine",
      "ten",
      "correction-edited corrections/2026-10-06-1.md:1",
    ],
  ])("but not %s", (_what, path, from, to, expected) => {
    expect(
      found(changed(after, path, from, to)).map((own) => own.replace(/episode\.md:\d+/, "episode.md:3")),
    ).toContain(expected);
  });
  test("a correction may be cut, never deleted", () => {
    expect(found(without(after, "corrections/2026-10-08-1.md"))).toEqual([
      "correction-missing corrections/2026-10-08-1.md:1",
    ]);
  });
  test("a whole episode: nothing of its text needs to be left", () => {
    const all = note.replace("segment: ferry-timetable\n", "");
    const texts = entered({ ...PUBLISHED, "corrections/2026-10-09-1.md": all }, "2026-10-09T10:00:00.000Z");
    expect(auditTexts(without(changed(texts, "episode.md", "Fewer ferries", "Withdrawn"), "transcript.vtt"))).toEqual(
      [],
    );
    expect(found(without(texts, "corrections/2026-10-09-1.md"))).toEqual([
      "correction-missing corrections/2026-10-09-1.md:1",
    ]);
  });
});
