import { describe, expect, test } from "vitest";
import type { Correction } from "../../src/model/episode.ts";
import type { LaidEpisode } from "../../src/record/laid.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { at, cue, episode, noted, page, transcript, withdrawal } from "./broadcast.ts";
import { LATER, lay, marks, rules, words } from "./laid.ts";

describe("a page correction changes a field", () => {
  const at15 = { id: "2026-10-06-1", segment: "ferry-timetable" };
  test.each([
    [
      "title",
      page({ ...at15, field: "title", said: "about ferry timetable", now: "Nine sailings" }),
      { title: "Nine sailings" },
    ],
    [
      "summary",
      page({ ...at15, field: "summary", said: "What is left of the timetable.", now: "" }),
      { summary: null },
    ],
    [
      "by",
      page({ ...at15, field: "by", said: "Ilse Marrane", now: "Joss Tolvey, Ilse Marrane" }),
      { by: ["Joss Tolvey", "Ilse Marrane"] },
    ],
    ["in", page({ ...at15, field: "in", said: "0:15", now: "0:14.500" }), { in: 14_500 }],
    ["out", page({ ...at15, field: "out", said: "0:30", now: "0:29" }), { out: 29_000 }],
  ])("%s", (_field, correction, expected) => {
    const laid = lay(correction);
    expect(laid.findings).toEqual([]);
    expect(laid.segments[1]).toMatchObject(expected);
    expect(laid.segments[1]?.changes).toHaveLength(1);
  });

  test("the segment before ends where the moved one now begins", () => {
    const laid = lay(page({ ...at15, field: "in", said: "0:15", now: "0:20" }));
    expect(laid.segments.map((own) => [own.in, own.out])).toEqual([
      [0, 20_000],
      [20_000, 30_000],
      [30_000, 40_000],
    ]);
  });

  test("of the episode", () => {
    const laid = lay(page({ id: "2026-10-06-1", field: "title", said: "Fewer ferries", now: "Fewer sailings" }));
    expect(laid).toMatchObject({ title: "Fewer sailings", changes: [{ was: "Fewer ferries", now: "Fewer sailings" }] });
  });
});

describe("a faulty correction is a finding, and stays listed", () => {
  test.each([
    [
      "words not there",
      noted("on-air", { id: "2026-10-06-1", said: "eleven saylings", segment: "ferry-timetable" }),
      "correction-words-not-found",
      'The nearest words are "Eleven sailings" at 0:15',
    ],
    [
      "words in another segment",
      noted("on-air", { id: "2026-10-06-1", said: "Osric Tarrick", segment: "close" }),
      "correction-words-not-found",
      'They stand at 0:10, in "headlines"',
    ],
    [
      "nothing like them",
      noted("on-air", { id: "2026-10-06-1", said: "xylophone quartet" }),
      "correction-words-not-found",
      "Nothing like them",
    ],
    [
      "no word at all",
      transcript({ id: "2026-10-06-1", said: "…", now: "!" }),
      "correction-words-empty",
      "Give the published words",
    ],
    [
      "no such segment",
      noted("on-air", { id: "2026-10-06-1", segment: "ferries", said: "Osric" }),
      "correction-segment-unknown",
      "headlines, ferry-timetable, close",
    ],
    [
      "another title",
      page({ id: "2026-10-06-1", field: "title", said: "More ferries", now: "x" }),
      "correction-field-differs",
      '"Fewer ferries"',
    ],
    [
      "a credit of the episode",
      page({ id: "2026-10-06-1", field: "by", said: "x", now: "y" }),
      "correction-field-not-here",
      "Name the segment",
    ],
    [
      "a time that is none",
      page({ id: "2026-10-06-1", segment: "close", field: "in", said: "0:30", now: "0:75" }),
      "correction-field-unreadable",
      "m:ss",
    ],
    [
      "in after out",
      page({ id: "2026-10-06-1", segment: "close", field: "in", said: "0:30", now: "0:40" }),
      "correction-field-unreadable",
      "before the out point",
    ],
    [
      "nothing to supersede",
      noted("update", { id: "2026-10-06-2", supersedes: "2026-10-06-1" }),
      "correction-supersedes-unknown",
      "Take `supersedes` out",
    ],
  ])("%s", (_why, correction, rule, mend) => {
    const laid = lay(correction);
    expect(rules(laid)).toEqual([rule]);
    expect(laid.findings[0]).toMatchObject({ level: "blocks", at: correction.place });
    expect(laid.findings[0]?.mend).toContain(mend);
    expect(laid.laid).toMatchObject([{ correction: { id: correction.id }, places: 0 }]);
    expect(words(laid)).toEqual(words(lay()));
  });

  test("and lifts nothing that it meant to supersede", () => {
    const laid = lay(
      noted("on-air", { id: "2026-10-06-1", said: "Osric Tarrick" }),
      noted("on-air", { id: "2026-10-07-1", said: "not there at all", supersedes: "2026-10-06-1" }),
    );
    expect(marks(laid)).toMatchObject([{ text: "Osric Tarrick", by: "2026-10-06-1" }]);
  });
});

describe("a withdrawal", () => {
  const about = [
    transcript({ id: "2026-10-06-1", said: "Rowan", now: "Ruan", every: true, note: "He is Ruan." }),
    page({
      id: "2026-10-06-2",
      segment: "ferry-timetable",
      field: "title",
      said: "About ferry-timetable",
      now: "Nine",
    }),
    noted("on-air", { id: "2026-10-06-3", said: "Osric Tarrick", note: "He is Osmund." }),
  ];

  test("of a segment leaves nothing of it but address, kind and times", () => {
    const laid = lay(...about, withdrawal({ id: "2026-10-07-1", segment: "ferry-timetable" }));
    expect(laid.segments[1]).toMatchObject({
      slug: "ferry-timetable",
      kind: "package",
      title: "Withdrawn",
      summary: null,
      by: [],
      in: 15_000,
      changes: [],
      withdrawn: { id: "2026-10-07-1" },
      rights: { withheld: true, show: "nothing" },
    });
    expect(laid.cues.map(({ start }) => start)).toEqual([0, 5000, 10_000, 30_000, 35_000]);
    const all = JSON.stringify({ ...laid, folder: "", at: "" });
    for (const gone of ["Rowan", "Ruan", "Skelland", "Nine", "About ferry", "what’s left"])
      expect(all).not.toContain(gone);
    expect(all).toContain("He is Osmund.");
    expect(laid.laid.map(({ hidden }) => hidden)).toEqual([true, true, false, false]);
  });

  test("of the episode leaves only itself", () => {
    const laid = lay(...about, withdrawal({ id: "2026-10-07-1", note: "By order of the court." }));
    expect(laid).toMatchObject({ title: "Withdrawn", summary: null, notes: "", media: [], cues: [] });
    expect(laid.segments.every((own) => own.withdrawn?.id === "2026-10-07-1")).toBe(true);
    const all = JSON.stringify(laid);
    for (const gone of ["Fewer", "thanks", "Osric", "Osmund", "Ruan", "Good evening"]) expect(all).not.toContain(gone);
    expect(all).toContain("By order of the court.");
  });

  test("excuses earlier corrections whose words were cut from the files since", () => {
    const cut = episode().cues.filter(({ start }) => start < 15_000 || start >= 30_000);
    const corrections = [...about, withdrawal({ id: "2026-10-07-1", segment: "ferry-timetable" })];
    const laid = layCorrections(episode({ cues: cut, corrections }), LATER);
    expect(laid.findings).toEqual([]);
    expect(laid.laid[0]).toMatchObject({ hidden: true, places: 0, correction: { said: "", now: "", note: "" } });
  });

  test("takes along a cue that mostly lies in the segment, though it starts before", () => {
    const cues = [cue(0, "Before."), cue(13, "Straddles the edge.")];
    const corrections = [withdrawal({ id: "2026-10-07-1", segment: "ferry-timetable" })];
    expect(words(layCorrections(episode({ cues, corrections }), LATER))).toEqual(["Before."]);
  });

  test("can't be superseded by anything but a withdrawal", () => {
    const laid = lay(
      withdrawal({ id: "2026-10-07-1", segment: "close" }),
      noted("update", { id: "2026-10-08-1", segment: "close", supersedes: "2026-10-07-1" }),
    );
    expect(rules(laid)).toEqual(["correction-withdrawal-stands"]);
    expect(laid.segments[2]?.withdrawn?.id).toBe("2026-10-07-1");
  });
});

describe("a correction that a reissue may have taken in", () => {
  const earlier = new Set(["2026-10-06-1"]);
  const fix = transcript({ id: "2026-10-06-1", said: "Tarrick", now: "Osmund Tarrick", at: at(10) });
  const reissued = (words: string, correction: Correction): LaidEpisode =>
    layCorrections(episode({ cues: [cue(10, words)], corrections: [correction] }), LATER, {
      reissued: earlier,
      withdrawn: [],
    });

  test.each([
    [
      "is not laid twice where the new text took it in",
      "Osmund Tarrick has kept it.",
      "Osmund Tarrick has kept it.",
      0,
    ],
    ["is laid where the new text did not", "Tarrick has kept it.", "Osmund Tarrick has kept it.", 1],
    ["leaves no finding where its words are gone", "The keeper has kept it.", "The keeper has kept it.", 0],
  ])("%s", (_why, published, now, places) => {
    const laid = reissued(published, fix);
    expect(words(laid)).toEqual([now]);
    expect(laid.findings).toEqual([]);
    expect(laid.laid).toMatchObject([{ correction: { id: "2026-10-06-1" }, places }]);
  });

  test("and one that came after it does leave a finding", () => {
    const given = episode({ cues: [cue(10, "The keeper.")], corrections: [fix] });
    expect(rules(layCorrections(given, LATER))).toEqual(["correction-words-not-found"]);
  });

  test("keeps its mark where it changed no words", () => {
    const laid = reissued("Osric Tarrick has kept it.", noted("on-air", { id: "2026-10-06-1", said: "Osric Tarrick" }));
    expect(marks(laid)).toMatchObject([{ text: "Osric Tarrick", by: "2026-10-06-1" }]);
  });
});
