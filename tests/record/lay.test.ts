import { describe, expect, test } from "vitest";
import { layCorrections } from "../../src/record/lay.ts";
import { at, cue, episode, noted, transcript } from "./broadcast.ts";
import { LATER, lay, marks, words } from "./laid.ts";

describe("an on-air error marks words and leaves them", () => {
  test.each([
    ["as written", "Osric Tarrick", at(12), ["Osric Tarrick"]],
    ["another case", "osric TARRICK", at(12), ["Osric Tarrick"]],
    ["over a cue's edge", "eleven sailings a week", at(3), ["eleven", "sailings a week"]],
    ["over a line break", "a week, not fourteen", at(6), ["a week,\nnot fourteen"]],
    ["over a voice's edge", "reports. Eleven sailings", at(17), ["reports.", "Eleven sailings"]],
    ["straight for typographic quotes", 'says the "company"', at(17), ["says the “company”"]],
    ["a straight apostrophe and a hyphen", "sailings - that's what's left", at(17), ["sailings – that’s what’s left"]],
    ["a full stop that stands there is taken in", "forty years.", at(12), ["forty years."]],
    ["a full stop that does not is left", "eleven.", at(3), ["eleven"]],
    ["half a word is no word", "Skell", at(22), []],
    ["the possessive keeps its s", "Rowan Skelland", at(27), ["Rowan Skelland"]],
  ])("%s", (_why, said, moment, expected) => {
    const laid = lay(noted("on-air", { id: "2026-10-06-1", said, at: moment }));
    expect(marks(laid).map(({ text }) => text)).toEqual(expected);
    expect(marks(laid).every(({ was }) => was === null)).toBe(true);
    expect(words(laid)).toEqual(words(lay()));
  });
});

describe("the place nearest to the moment, in the segment named", () => {
  test.each([
    ["the first, early", null, at(2), 0],
    ["the second, late", null, at(19), 15_000],
    ["the segment wins over the moment", "ferry-timetable", at(2), 15_000],
    ["no moment: the first in the segment", "ferry-timetable", null, 15_000],
  ])("%s", (_why, segment, moment, clock) => {
    const laid = lay(noted("on-air", { id: "2026-10-06-1", said: "eleven sailings", segment, at: moment }));
    expect(laid.laid[0]).toMatchObject({ clock, places: 1 });
  });

  test("of two in one long cue, the one said nearest", () => {
    const long = { ...cue(0, "nine of them, and then there was a long silence, and nine again"), end: at(30) };
    const corrections = [noted("on-air", { id: "2026-10-06-1", said: "nine", at: at(28) })];
    const laid = layCorrections(episode({ cues: [long], corrections }), LATER);
    expect(laid.cues[0]?.pieces[0]?.runs.map(({ text }) => text)).toEqual([
      "nine of them, and then there was a long silence, and ",
      "nine",
      " again",
    ]);
  });

  test("without a moment, words that stand twice are asked about", () => {
    const laid = lay(noted("on-air", { id: "2026-10-06-1", said: "Rowan Skelland" }));
    expect(laid.findings[0]).toMatchObject({ rule: "correction-words-many", level: "warns" });
    expect(laid.findings[0]?.says).toContain("(0:20, 0:25)");
  });

  test("words a minute away from the moment are asked about", () => {
    const laid = lay(noted("on-air", { id: "2026-10-06-1", said: "Osric", at: at(90) }));
    expect(laid.findings[0]).toMatchObject({ rule: "correction-words-far", level: "warns", seconds: 90 });
    expect(laid.laid[0]?.places).toBe(1);
  });
});

describe("a transcript error replaces words", () => {
  test("and keeps what stood there", () => {
    const laid = lay(transcript({ id: "2026-10-06-1", said: "Osric Tarrick", now: "Osmund Tarrick", at: at(10) }));
    expect(words(laid)[2]).toBe("Osmund Tarrick has kept Hallan light for forty years.");
    expect(marks(laid)).toEqual([{ text: "Osmund Tarrick", was: "Osric Tarrick", by: "2026-10-06-1", occurrence: 1 }]);
  });

  test("over a cue's edge: the new words go first, the rest is removed where it stood", () => {
    const laid = lay(transcript({ id: "2026-10-06-1", said: "eleven sailings", now: "nine sailings", at: at(4) }));
    expect(words(laid).slice(0, 2)).toEqual([
      "Good evening. The ferry from Sollen will make nine sailings",
      " a week,\nnot fourteen.",
    ]);
    expect(marks(laid)).toEqual([
      { text: "nine sailings", was: "eleven", by: "2026-10-06-1", occurrence: 1 },
      { text: "", was: "sailings", by: "2026-10-06-1", occurrence: 1 },
    ]);
    expect(laid.laid[0]?.places).toBe(1);
  });

  test("every occurrence, whatever the segment", () => {
    const laid = lay(transcript({ id: "2026-10-06-1", said: "Rowan", now: "Ruan", every: true, segment: "headlines" }));
    expect(words(laid).join(" ")).not.toContain("Rowan");
    expect(marks(laid).map(({ occurrence }) => occurrence)).toEqual([1, 2]);
    expect(laid.laid[0]).toMatchObject({ places: 2, segments: ["ferry-timetable"], segment: "headlines" });
  });

  test("twice in one cue, each at its place", () => {
    const cues = [cue(0, "Rowan said that Rowan would, and Rowan did.")];
    const corrections = [transcript({ id: "2026-10-06-1", said: "Rowan", now: "Ruan the Elder", every: true })];
    const laid = layCorrections(episode({ cues, corrections }), LATER);
    expect(words(laid)).toEqual(["Ruan the Elder said that Ruan the Elder would, and Ruan the Elder did."]);
    expect(marks(laid).map(({ occurrence }) => occurrence)).toEqual([1, 2, 3]);
  });

  test("a correction of a correction still shows what was first published", () => {
    const laid = lay(
      transcript({ id: "2026-10-06-1", said: "Osric Tarrick", now: "Oswald Tarrick" }),
      transcript({ id: "2026-10-07-1", said: "Oswald", now: "Osmund", supersedes: "2026-10-06-1" }),
    );
    expect(marks(laid)).toEqual([{ text: "Osmund Tarrick", was: "Osric Tarrick", by: "2026-10-07-1", occurrence: 1 }]);
    expect(laid.laid[0]?.supersededBy?.id).toBe("2026-10-07-1");
    expect(laid.laid[1]?.supersededBy).toBeNull();
  });

  test("words put back as they were are marked, with nothing struck out", () => {
    const laid = lay(
      transcript({ id: "2026-10-06-1", said: "Osric", now: "Osmund" }),
      transcript({ id: "2026-10-07-1", said: "Osmund", now: "Osric" }),
    );
    expect(marks(laid)).toEqual([{ text: "Osric", was: null, by: "2026-10-07-1", occurrence: 1 }]);
  });

  test("dates decide, then the number in the name, not the order of the files", () => {
    const laid = lay(
      transcript({ id: "2026-10-06-10", said: "Oswald", now: "Osmund" }),
      transcript({ id: "2026-10-06-2", said: "Osric", now: "Oswald" }),
    );
    expect(words(laid)[2]).toContain("Osmund Tarrick");
    expect(laid.laid.map(({ correction }) => correction.id)).toEqual(["2026-10-06-2", "2026-10-06-10"]);
    expect(laid.findings).toEqual([]);
  });
});

describe("a speaker's name", () => {
  test("is replaced for the turn at the moment", () => {
    const laid = lay(
      transcript({ id: "2026-10-06-1", field: "speaker", said: "Ilse Marrane", now: "Joss Tolvey", at: at(22) }),
    );
    const voices = laid.cues.flatMap(({ pieces }) => pieces.map(({ voice }) => voice));
    expect(voices.slice(3, 7)).toEqual(["Tamsin Hathersay", "Joss Tolvey", "Joss Tolvey", "Joss Tolvey"]);
    expect(laid.cues[4]?.pieces[0]?.speaker).toMatchObject({ was: "Ilse Marrane", occurrence: 1 });
    expect(words(laid)).toEqual(words(lay()));
    expect(laid.laid[0]).toMatchObject({ places: 1, clock: 15_000, segments: ["ferry-timetable"] });
  });

  test("that is not there names who is", () => {
    const laid = lay(
      transcript({ id: "2026-10-06-1", field: "speaker", said: "Joss Tolvey", now: "Ilse Marrane", at: at(22) }),
    );
    expect(laid.findings[0]).toMatchObject({ rule: "correction-speaker-not-found", level: "blocks", seconds: 22 });
    expect(laid.findings[0]?.mend).toContain('At 0:20 the transcript names "Ilse Marrane"');
  });
});

describe("a later mark on the same words", () => {
  test("covers the earlier, which stays listed under it", () => {
    const laid = lay(
      noted("on-air", { id: "2026-10-06-1", said: "Osric Tarrick" }),
      noted("update", { id: "2026-10-07-1", said: "Tarrick has kept" }),
    );
    expect(marks(laid)).toMatchObject([
      { text: "Osric ", by: "2026-10-06-1" },
      { text: "Tarrick", by: "2026-10-07-1" },
      { text: " has kept", by: "2026-10-07-1" },
    ]);
    expect(laid.cues[2]?.pieces[0]?.runs[1]?.mark?.under.map(({ id }) => id)).toEqual(["2026-10-06-1"]);
  });

  test("that supersedes it lifts it from the words it no longer speaks of", () => {
    const laid = lay(
      noted("on-air", { id: "2026-10-06-1", said: "Osric Tarrick" }),
      noted("on-air", { id: "2026-10-07-1", said: "forty years", supersedes: "2026-10-06-1" }),
    );
    expect(marks(laid)).toMatchObject([{ text: "forty years", by: "2026-10-07-1" }]);
  });

  test("without words of its own stands where the earlier stood", () => {
    const laid = lay(
      noted("on-air", { id: "2026-10-06-1", said: "Osric Tarrick" }),
      noted("on-air", { id: "2026-10-07-1", supersedes: "2026-10-06-1" }),
    );
    expect(marks(laid)).toMatchObject([{ text: "Osric Tarrick", by: "2026-10-07-1" }]);
    expect(laid.laid[1]).toMatchObject({ places: 1, clock: 10_000 });
  });

  test("never hides what stood there first", () => {
    const laid = lay(
      transcript({ id: "2026-10-06-1", said: "Osric", now: "Osmund" }),
      noted("update", { id: "2026-10-07-1", said: "forty years", supersedes: "2026-10-06-1" }),
    );
    expect(marks(laid)).toMatchObject([
      { text: "Osmund", was: "Osric", by: "2026-10-07-1" },
      { text: "forty years", was: null, by: "2026-10-07-1" },
    ]);
  });
});

test.each([
  ["the day before", "2026-10-05T23:59:59Z", 0],
  ["the moment itself, in another zone", "2026-10-06T08:00:00Z", 1],
  ["a moment before", "2026-10-06T07:59:59.999Z", 0],
  ["between the two", "2026-10-06T23:00:00Z", 1],
  ["after both", "2026-10-08T00:00:00Z", 2],
])("on a day: %s", (_why, on, count) => {
  const corrections = [
    transcript({ id: "2026-10-06-1", said: "Osric", now: "Osmund" }),
    noted("update", { id: "2026-10-07-1" }),
  ];
  const laid = layCorrections(episode({ corrections }), on);
  expect(laid.laid).toHaveLength(count);
  expect(laid.corrections).toHaveLength(count);
});
