import { describe, expect, test } from "vitest";
import type { Episode, Rights } from "../../src/model/episode.ts";
import type { ArchivedEpisode } from "../../src/model/programme.ts";
import { heldRuns } from "../../src/scan/held.ts";
import { at, cue, episode, noted, page, segment, transcript, withdrawal } from "../record/broadcast.ts";

const NOTHING: Rights = { withheld: true, until: null, holder: "an agency", show: "nothing" };
/** Three items of ten seconds; the middle one is the one in question. */
const CUES = [
  cue(0, "alpha bravo charlie delta"),
  cue(5, "echo foxtrot golf hotel"),
  cue(10, "sore knee first words here"),
  cue(15, "secret matter second half there"),
  cue(20, "india juliet kilo lima"),
  cue(25, "mike november oscar papa"),
];
const items = (rights: Rights | null, first = 10, last = 20) => [
  segment("before", 0, first),
  segment("matter", first, last, { rights, title: "The matter of grave import" }),
  segment("after", last, 30),
];
const evening = (rest: Partial<Episode> = {}, rights: Rights | null = null): Episode =>
  episode({ segments: items(rights), cues: CUES, title: "Title", summary: null, notes: "", ...rest });
const withdrawn = (segment: string | null, from: number, to: number) =>
  `${JSON.stringify({ correction: { id: "2026-10-08-1" }, withdrawn: [{ segment, from: from * 1000, to: to * 1000 }] })}\n`;

function held(own: Episode, date = "2026-12-01", rest: Partial<ArchivedEpisode> = {}): ReadonlySet<string> {
  const archived = { ...own, record: null, merged: [], earlier: [], ...rest };
  return new Set(heldRuns(archived, { date, until: `${date}T23:59:59Z` }, "en-GB").runs.keys());
}
const ALL = ["sore knee first", "words here secret", "second half there"];
function expectHeld(runs: ReadonlySet<string>, ...others: readonly string[]): void {
  for (const run of [...ALL, ...others]) expect(runs, run).toContain(run);
  for (const run of ["golf hotel sore", "alpha bravo charlie", "half there india", "mike november oscar"])
    expect(runs, run).not.toContain(run);
}
const away = withdrawal({ id: "2026-10-08-1", segment: "matter" });

describe("runs are held", () => {
  test.each([
    ["of an item that shows nothing", evening({}, NOTHING)],
    ["until the day on which it may be shown", evening({}, { ...NOTHING, until: "2026-12-02" })],
    [
      "where its in point moved since",
      evening(
        { corrections: [page({ id: "2026-10-06-1", field: "in", said: "0:10", now: "0:15", segment: "matter" })] },
        NOTHING,
      ),
    ],
    [
      "where its neighbour's moved over it",
      evening(
        { corrections: [page({ id: "2026-10-06-1", field: "in", said: "0:20", now: "0:15", segment: "after" })] },
        NOTHING,
      ),
    ],
    ["of a withdrawn item that awaits entry", evening({ corrections: [away] })],
    [
      "of one whose point moved after",
      evening({
        corrections: [away, page({ id: "2026-10-09-1", field: "in", said: "0:10", now: "0:15", segment: "matter" })],
      }),
    ],
  ])("%s", (_why, own) => {
    expectHeld(held(own));
  });

  test("of what the record has as withdrawn, whatever else is gone", () => {
    expectHeld(held(evening(), "2026-12-01", { record: withdrawn("matter", 10, 20) }));
  });

  test("of a withdrawn title, and on days before the withdrawal", () => {
    expectHeld(held(evening({ corrections: [away] }), "2026-10-05"), "matter of grave");
  });

  test("of the whole episode when it is withdrawn", () => {
    const all = held(evening({ corrections: [withdrawal({ id: "2026-10-08-1", segment: null })] }));
    for (const run of [...ALL, "alpha bravo charlie", "november oscar papa"]) expect(all).toContain(run);
  });

  test("as corrected too", () => {
    const own = transcript({ id: "2026-10-06-1", said: "first words", now: "second thoughts", at: at(11) });
    expectHeld(held(evening({ corrections: [own] }, NOTHING)), "knee second thoughts");
  });

  test("of an earlier text too, where it says something else", () => {
    const first = evening({ cues: CUES.map((own) => (own === CUES[3] ? cue(15, "other matter was said") : own)) });
    const runs = held(evening({}, NOTHING), "2026-12-01", { earlier: [{ seq: 1, episode: first, reason: "why" }] });
    expectHeld(runs, "other matter was");
  });

  test("beside an edge that is a guess", () => {
    const runs = held(evening({ timesGuessed: true }, NOTHING));
    expect([runs.has("echo foxtrot golf"), runs.has("alpha bravo charlie")]).toEqual([true, false]);
  });
});

describe("runs are not held", () => {
  test.each([
    ["of an item that is given", evening()],
    ["of one whose words may be read", evening({}, { ...NOTHING, show: "transcript" })],
    ["from the day on which it may be shown", evening({}, { ...NOTHING, until: "2026-12-01" })],
  ])("%s", (_why, own) => {
    expect([...held(own)]).toEqual([]);
  });

  const other = (words: string) => evening({ cues: [...CUES.slice(0, 5), cue(25, words)] }, NOTHING);
  const note = (words: string) =>
    evening({ corrections: [noted("update", { id: "2026-10-06-1", segment: "after", note: words })] }, NOTHING);
  test.each([
    ["that are said in what is given", other("and a sore knee first")],
    ["that a title says", evening({ title: "Sore knee first" }, NOTHING)],
    ["that a note on another item happens to have", note("A sore knee first of all.")],
    ["that are a slug", evening({ segments: [...items(NOTHING).slice(0, 2), segment("sore-knee-first", 20, 30)] })],
  ])("%s", (_why, own) => {
    const runs = held(own);
    expect([runs.has("sore knee first"), runs.has("second half there")]).toEqual([false, true]);
  });

  test("but a note that repeats five held words gives no right to them", () => {
    expectHeld(held(note("We said: sore knee first words here.")));
  });

  test("that are a date", () => {
    const dated = evening(
      { cues: [...CUES.slice(0, 2), cue(10, "on Monday 5 October 2026"), ...CUES.slice(3)] },
      NOTHING,
    );
    const runs = held(dated);
    expect([runs.has("on monday 5"), runs.has("monday 5 october")]).toEqual([true, false]);
  });
});

test("a torn record is taken as far as it can be read", () => {
  expect(held(evening(), "2026-12-01", { record: `${withdrawn("matter", 10, 20)}{"correc` })).toContain(
    "sore knee first",
  );
});
