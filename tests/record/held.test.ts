import { describe, expect, test } from "vitest";
import type { Correction, Episode, Rights } from "../../src/model/episode.ts";
import type { EarlierText } from "../../src/model/programme.ts";
import { clockMs } from "../../src/model/units.ts";
import { episodeOn, type Shows } from "../../src/record/day.ts";
import { digestOf } from "../../src/record/digest.ts";
import { entriesDue, recordedIn } from "../../src/record/enter.ts";
import { entryLine, readRecord } from "../../src/record/entry.ts";
import { GONE_NOTE, HELD_NOTE } from "../../src/record/giveCorrections.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { type ShownEpisode, showEpisode } from "../../src/record/shown.ts";
import { at, cue, episode, noted, page, segment, transcript, withdrawal } from "./broadcast.ts";

const NOTHING: Rights = { withheld: true, until: null, holder: "an agency", show: "nothing" };

/** Three items of ten seconds; the middle one is the one in question. Each cue has words of its own. */
const CUES = [
  cue(0, "alpha bravo charlie delta"),
  cue(5, "echo foxtrot golf hotel"),
  cue(10, "sore knee first words here"),
  cue(15, "secret matter second half there"),
  cue(20, "india juliet kilo lima"),
  cue(25, "mike november oscar papa"),
];
const ITEMS = (rights: Rights | null = null) => [
  segment("before", 0, 10),
  segment("matter", 10, 20, { rights, title: "The matter" }),
  segment("after", 20, 30),
];
const evening = (rest: Partial<Episode> = {}, rights: Rights | null = null): Episode =>
  episode({ segments: ITEMS(rights), cues: CUES, title: "Title", summary: null, notes: "", ...rest });

/** The record of an episode whose corrections were entered one after the other, each a day later. */
function recordOf(own: Episode, reissues: readonly Episode[] = []): string {
  let text = "";
  const enter = (now: Episode, time: string, reissue: string | null) => {
    const record = readRecord(text);
    const content = { episode: now, transcript: digestOf(JSON.stringify(now.cues)), translations: [] };
    const laid = layCorrections(now, time, recordedIn(record));
    const corrections = new Map(now.corrections.map(({ id }) => [id, digestOf(id)]));
    const due = entriesDue({
      record,
      content,
      laid,
      corrections,
      reissue: reissue === null ? null : digestOf(reissue),
      now: time,
    });
    text += due.map(entryLine).join("");
  };
  const [first = own, ...later] = [...reissues, own];
  enter({ ...first, corrections: [] }, "2026-10-05T20:00:00.000Z", null);
  for (const [n, next] of later.entries()) enter({ ...next, corrections: [] }, `2026-10-05T21:0${n}:00.000Z`, "why");
  for (const [n] of own.corrections.entries())
    enter(
      { ...own, corrections: own.corrections.slice(0, n + 1) },
      `2026-11-${String(n + 1).padStart(2, "0")}T00:00:00.000Z`,
      null,
    );
  return text;
}

function shownOf(
  own: Episode,
  on: string,
  earlier: readonly Episode[] = [],
  record = recordOf(own, earlier),
  shows: Shows = "written",
): ShownEpisode {
  const kept = earlier.map((text, n): EarlierText => ({ seq: n + 1, episode: text, reason: "why" }));
  return showEpisode(episodeOn({ ...own, record, merged: [], earlier: kept }, `${on}T23:59:59Z`, shows), on);
}

/** Every text in what leaves the house, but for its places in the content. */
const textOf = (shown: ShownEpisode): string =>
  JSON.stringify(shown, (key, value: unknown) =>
    key === "place" || key === "at" || key === "record" ? undefined : value,
  );

const HELD = ["sore", "knee", "first words", "secret", "second half"];
const REST = ["alpha", "hotel", "india", "papa"];
function expectHeld(shown: ShownEpisode, rest: readonly string[] = REST): void {
  const text = textOf(shown);
  for (const words of HELD) expect(text, words).not.toContain(words);
  for (const words of rest) expect(text, words).toContain(words);
}

describe("an item that shows nothing", () => {
  test("its words are nowhere, and come back on the day they may", () => {
    expectHeld(shownOf(evening({}, NOTHING), "2026-12-01"));
    const lapsed = shownOf(evening({}, { ...NOTHING, until: "2026-12-01" }), "2026-12-01");
    expect(textOf(lapsed)).toContain("sore knee");
  });

  test.each([
    ["a replaced passage", transcript({ id: "2026-10-06-1", said: "first words", now: "second half", at: at(11) })],
    ["one that names its segment", transcript({ id: "2026-10-06-1", said: "sore", now: "secret", segment: "matter" })],
    ["an error on air", noted("on-air", { id: "2026-10-06-1", said: "sore knee", at: at(11) })],
    [
      "a note that quotes two words",
      noted("update", { id: "2026-10-06-1", segment: "matter", note: "He said “sore knee”." }),
    ],
    [
      "a note that repeats three",
      noted("update", { id: "2026-10-06-1", segment: "matter", note: "The secret matter second half was cut." }),
    ],
    [
      "a note on another item that repeats five",
      noted("update", { id: "2026-10-06-1", segment: "before", note: "See secret matter second half there." }),
    ],
  ])("%s of it says nothing of them", (_why, correction) => {
    expectHeld(shownOf(evening({ corrections: [correction] }, NOTHING), "2026-12-01"));
  });

  test("a note that repeats nothing is shown, and so is one on words that are given", () => {
    const corrections = [
      noted("update", { id: "2026-10-06-1", segment: "matter", note: "The agency sent another report." }),
      transcript({ id: "2026-10-06-2", said: "india", now: "China", at: at(21), note: "We misheard." }),
    ];
    const { episode: given } = shownOf(evening({ corrections }, NOTHING), "2026-12-01");
    expect(given.laid.map(({ correction }) => [correction.note, correction.said, correction.now])).toEqual([
      ["The agency sent another report.", null, null],
      ["We misheard.", "india", "China"],
    ]);
  });

  test("the sentence in the place of a note", () => {
    const corrections = [noted("update", { id: "2026-10-06-1", segment: "matter", note: "“sore knee”" })];
    const { episode: given } = shownOf(evening({ corrections }, NOTHING), "2026-12-01");
    expect(given.laid[0]?.correction.note).toBe(HELD_NOTE);
  });

  test("a passage that runs out of it takes what it shares a cue with along", () => {
    const over = transcript({ id: "2026-10-06-1", said: "hotel sore knee", now: "hotel knee secret", at: at(9) });
    expectHeld(shownOf(evening({ corrections: [over] }, NOTHING), "2026-12-01"), ["alpha", "india", "papa"]);
  });

  test.each([
    [
      "its own in point, later",
      page({ id: "2026-10-06-1", field: "in", said: "0:10", now: "0:15", segment: "matter" }),
    ],
    [
      "its own out point, earlier",
      page({ id: "2026-10-06-1", field: "out", said: "0:20", now: "0:15", segment: "matter" }),
    ],
    [
      "the next in point, earlier",
      page({ id: "2026-10-06-1", field: "in", said: "0:20", now: "0:15", segment: "after" }),
    ],
    [
      "the out point before it, later, after its own moved",
      page({ id: "2026-10-06-1", field: "in", said: "0:10", now: "0:12", segment: "matter" }),
    ],
  ])("%s: not a word is released", (_why, correction) => {
    for (const on of ["2026-10-05", "2026-12-01"])
      expectHeld(shownOf(evening({ corrections: [correction] }, NOTHING), on));
  });

  test("what it grows over is held too", () => {
    const wider = page({ id: "2026-10-06-1", field: "out", said: "0:20", now: "0:20", segment: "matter" });
    const [one] = [page({ ...wider, field: "in", said: "0:20", now: "0:25", segment: "after" })];
    const shown = shownOf(evening({ corrections: [one] }, NOTHING), "2026-12-01");
    expect(textOf(shown)).not.toContain("india");
    expectHeld(shown, ["alpha", "papa"]);
  });

  test("rights that are given to the present text hold in the earlier ones", () => {
    const first = evening({
      segments: [segment("before", 0, 12), segment("matter", 12, 20), segment("after", 20, 30)],
    });
    expectHeld(shownOf(evening({}, NOTHING), "2026-12-01", [first]));
    expectHeld(shownOf(evening({}, NOTHING), "2026-10-05", [first]));
    const renamed = evening({
      segments: [segment("before", 0, 10), segment("other-name", 10, 20), segment("after", 20, 30)],
    });
    expectHeld(shownOf(evening({}, NOTHING), "2026-12-01", [renamed]));
  });

  test("rights that end in the present text end in the earlier ones", () => {
    const shown = shownOf(evening(), "2026-12-01", [evening({}, NOTHING)]);
    expect(JSON.stringify(shown.texts[0])).toContain("sore knee");
  });
});

describe("a withdrawn item", () => {
  const away = withdrawal({ id: "2026-10-08-1", segment: "matter" });
  const inEarlier = page({ id: "2026-10-06-1", field: "in", said: "0:15", now: "0:10", segment: "matter" });
  const late = evening({ segments: [segment("before", 0, 15), segment("matter", 15, 20), segment("after", 20, 30)] });
  const DAYS = ["2026-10-05", "2026-10-07", "2026-10-09", "2026-12-01"];

  test.each([
    ["alone", evening({ corrections: [away] })],
    ["an in point corrected before", { ...late, corrections: [inEarlier, away] }],
    [
      "an in point corrected after",
      evening({
        corrections: [away, page({ id: "2026-10-09-1", field: "in", said: "0:10", now: "0:15", segment: "matter" })],
      }),
    ],
    [
      "the next in point corrected after",
      evening({
        corrections: [away, page({ id: "2026-10-09-1", field: "in", said: "0:20", now: "0:12", segment: "after" })],
      }),
    ],
  ])("%s: not a word in any text on any day", (_why, own) => {
    for (const on of DAYS) expectHeld(shownOf(own, on));
    // Also while its withdrawal awaits entry.
    const awaiting = recordOf({ ...own, corrections: own.corrections.filter(({ kind }) => kind !== "withdrawal") });
    for (const on of DAYS) expectHeld(shownOf(own, on, [], awaiting));
    // And on the public site while everything awaits entry, the corrections that move it as well.
    const bare = recordOf({ ...own, corrections: [] });
    for (const on of DAYS) expectHeld(shownOf(own, on, [], bare, "entered"));
  });

  test("its words are gone from an earlier text that has it under another name and at other times", () => {
    const first = evening({
      segments: [segment("before", 0, 11), segment("other-name", 11, 20), segment("after", 20, 30)],
    });
    const shown = shownOf(evening({ corrections: [away] }), "2026-12-01", [first]);
    expectHeld(shown);
    expect(textOf(shown)).not.toContain("About other-name");
  });

  test("its words are gone from an earlier text also where all of it was cut from the recording", () => {
    const cutFrom = (file: string): Partial<Episode> => ({
      clock: "aired",
      cuts: [{ from: clockMs(10_000), to: clockMs(20_000), why: "rights", at: { file, line: 1, column: 1 } }],
    });
    const first = evening({
      segments: [segment("before", 0, 10), segment("other-name", 10, 20), segment("after", 20, 30)],
      ...cutFrom("as-published/1/episode.md"),
    });
    expectHeld(shownOf(evening({ corrections: [away], ...cutFrom("episode.md") }), "2026-12-01", [first]));
  });

  test("what is corrected in it is silenced, and says so", () => {
    const corrections = [
      transcript({ id: "2026-10-06-1", said: "sore", now: "hurt", at: at(11), note: "It is a sore knee." }),
      away,
    ];
    const shown = shownOf(evening({ corrections }), "2026-12-01");
    expectHeld(shown);
    expect(shown.episode.laid[0]?.correction).toMatchObject({ note: GONE_NOTE, said: null, now: null });
  });

  test("a note on another item that repeats five words of it goes with it, and says so", () => {
    const note = "As we said: secret matter second half there.";
    const quoting = noted("update", { id: "2026-10-06-1", segment: "before", note });
    const shown = shownOf(evening({ corrections: [quoting, away] }), "2026-12-01");
    expectHeld(shown);
    expect(shown.episode.laid[0]?.correction.note).toBe(GONE_NOTE);
    const other = { ...quoting, note: "We said alpha bravo charlie delta." };
    const kept = shownOf(evening({ corrections: [other, away] }), "2026-12-01");
    expect(kept.episode.laid[0]?.correction.note).toBe(other.note);
  });

  test("its sound is stepped over wherever its segment stands now", () => {
    const moved = page({ id: "2026-10-09-1", field: "in", said: "0:10", now: "0:15", segment: "matter" });
    const { unheard } = shownOf(evening({ corrections: [away, moved] }), "2026-12-01");
    expect(unheard).toEqual([{ span: { from: 10_000, to: 20_000 }, segment: "matter" }]);
  });

  test("a stretch that was entered holds even if the correction's file is taken away", () => {
    const entered = recordOf(evening({ corrections: [away] }));
    expectHeld(shownOf(evening(), "2026-12-01", [], entered));
  });
});

describe("guessed times", () => {
  const guessed = (rights: Rights | null, heard: boolean, corrections: readonly Correction[] = []): Episode => {
    const [first, matter, last] = ITEMS(rights);
    if (first === undefined || matter === undefined || last === undefined) throw new Error("three items");
    const own = heard ? { ...matter, edgesHeard: true as const } : matter;
    return evening({ timesGuessed: true, segments: [first, own, last], corrections });
  };
  const near = ["echo", "india"];

  test.each([
    ["withheld", guessed(NOTHING, false), false],
    ["withheld, and both edges heard", guessed(NOTHING, true), true],
    ["withdrawn", guessed(null, false, [withdrawal({ id: "2026-10-08-1", segment: "matter" })]), false],
    [
      "withdrawn, and both edges heard",
      guessed(null, true, [withdrawal({ id: "2026-10-08-1", segment: "matter" })]),
      true,
    ],
  ])("%s: captions beside it are held back until somebody has listened", (_why, own, given) => {
    const shown = shownOf(own, "2026-12-01");
    expectHeld(shown, ["alpha", "mike"]);
    for (const words of near) expect(textOf(shown).includes(words), words).toBe(given);
    const [stretch] = shown.unheard;
    expect(stretch?.span).toEqual(given ? { from: 10_000, to: 20_000 } : { from: 5000, to: 25_000 });
  });

  test("known times hold nothing back beside it", () => {
    expectHeld(shownOf(evening({}, NOTHING), "2026-12-01"), [...REST, ...near]);
  });
});

describe("points may not be corrected into a neighbour", () => {
  const rulesOf = (...corrections: Correction[]) =>
    layCorrections(evening({ corrections }), "2026-12-01T00:00:00Z").findings.map(({ rule }) => rule);

  test.each([
    [
      "an in point at the one before",
      page({ id: "2026-10-06-1", field: "in", said: "0:20", now: "0:10", segment: "after" }),
      true,
    ],
    [
      "an in point before the one before",
      page({ id: "2026-10-06-1", field: "in", said: "0:20", now: "0:05", segment: "after" }),
      true,
    ],
    [
      "an out point past the next in point",
      page({ id: "2026-10-06-1", field: "out", said: "0:20", now: "0:21", segment: "matter" }),
      true,
    ],
    [
      "an in point within the one before, whose out point goes with it",
      page({ id: "2026-10-06-1", field: "in", said: "0:20", now: "0:15", segment: "after" }),
      false,
    ],
    [
      "an out point that leaves a gap",
      page({ id: "2026-10-06-1", field: "out", said: "0:20", now: "0:18", segment: "matter" }),
      false,
    ],
  ])("%s", (_why, correction, overlaps) => {
    expect(rulesOf(correction)).toEqual(overlaps ? ["correction-segments-overlap"] : []);
  });

  test("one that would is left out, and the segments stay as they were", () => {
    const { segments } = layCorrections(
      evening({
        corrections: [page({ id: "2026-10-06-1", field: "in", said: "0:20", now: "0:05", segment: "after" })],
      }),
      "2026-12-01T00:00:00Z",
    );
    expect(segments.map(({ in: from, out }) => [from, out])).toEqual(
      [
        [0, 10_000],
        [10_000, 20_000],
        [20_000, 30_000],
      ].map((pair) => pair.map(clockMs)),
    );
  });
});
