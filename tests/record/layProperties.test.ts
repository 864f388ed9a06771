import fc from "fast-check";
import { expect, test } from "vitest";
import type { Correction, TranscriptCue } from "../../src/model/episode.ts";
import type { LaidEpisode } from "../../src/record/laid.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { at, cue, episode, noted, transcript, withdrawal } from "./broadcast.ts";

const LATER = "2027-01-01T00:00:00Z";
const WORDS = [
  "nine",
  "Nine",
  "sailings",
  "week",
  "Rowan",
  "Skelland’s",
  "–",
  "harbour,",
  "“light”",
  "no",
  "\n",
  "3.2",
];

const words = (most: number) =>
  fc.array(fc.constantFrom(...WORDS), { minLength: 1, maxLength: most }).map((own) => own.join(" "));
const cues: fc.Arbitrary<readonly TranscriptCue[]> = fc
  .array(
    fc.array(fc.record({ voice: fc.constantFrom("Tamsin", "Ilse", null), words: words(6) }), {
      minLength: 0,
      maxLength: 2,
    }),
    { minLength: 1, maxLength: 8 },
  )
  .map((all) =>
    all.map((pieces, index) =>
      cue(
        index * 5,
        pieces.map((piece) => ({ ...piece, language: null })),
      ),
    ),
  );

const day = (index: number): string => `2026-10-${String(6 + index).padStart(2, "0")}`;
const oneCorrection = (index: number): fc.Arbitrary<Correction> =>
  fc
    .record({
      kind: fc.constantFrom(
        "on-air" as const,
        "update" as const,
        "transcript" as const,
        "speaker" as const,
        "withdrawal" as const,
      ),
      said: words(3),
      now: fc.oneof(words(3), fc.constant("")),
      every: fc.boolean(),
      moment: fc.option(fc.integer({ min: 0, max: 40 }).map(at)),
      segment: fc.option(fc.constantFrom("headlines", "ferry-timetable", "nowhere")),
      supersedes: fc.option(fc.integer({ min: 0, max: index }).map((own) => `${day(own)}-1`)),
    })
    .map(({ kind, said, now, every, moment, segment, supersedes }) => {
      const given = { id: `${day(index)}-1`, said, every, at: moment, segment, supersedes };
      if (kind === "withdrawal") return withdrawal({ id: given.id, segment: segment ?? "close" });
      if (kind === "speaker") return transcript({ ...given, field: "speaker", said: "Ilse", now: "Joss" });
      return kind === "transcript" ? transcript({ ...given, now }) : noted(kind, given);
    });
const corrections: fc.Arbitrary<readonly Correction[]> = fc
  .integer({ min: 0, max: 6 })
  .chain((count) => fc.tuple(...Array.from({ length: count }, (_, index) => oneCorrection(index))));
const noWithdrawals = corrections.map((all) => all.filter(({ kind }) => kind !== "withdrawal"));

const asPublished = (laid: LaidEpisode): readonly (readonly string[])[] =>
  laid.cues.map(({ pieces }) => pieces.map(({ runs }) => runs.map(({ text, mark }) => mark?.was ?? text).join("")));

test("none laid: everything is as it was", () => {
  fc.assert(
    fc.property(cues, (own) => {
      const laid = layCorrections(episode({ cues: own }), LATER);
      expect(laid).toMatchObject({ findings: [], laid: [], changes: [], withdrawn: null });
      expect(
        laid.cues.map(({ place: _place, ...one }) => ({
          ...one,
          pieces: one.pieces.map(({ runs: _runs, speaker: _speaker, ...piece }) => piece),
        })),
      ).toEqual(own);
      expect(
        laid.cues.flatMap(({ pieces }) => pieces.flatMap(({ runs }) => runs)).every(({ mark }) => mark === null),
      ).toBe(true);
    }),
  );
});

test("the words are the runs joined, and the words first published can always be had from them", () => {
  fc.assert(
    fc.property(cues, noWithdrawals, (own, all) => {
      const laid = layCorrections(episode({ cues: own, corrections: all }), LATER);
      for (const { pieces } of laid.cues)
        for (const piece of pieces) expect(piece.words).toBe(piece.runs.map(({ text }) => text).join(""));
      expect(asPublished(laid)).toEqual(own.map(({ pieces }) => pieces.map((piece) => piece.words)));
      const voices = laid.cues.map(({ pieces }) =>
        pieces.map(({ voice, speaker }) => (speaker === null ? voice : speaker.was)),
      );
      expect(voices).toEqual(own.map(({ pieces }) => pieces.map(({ voice }) => voice)));
    }),
  );
});

test("without a transcript error no word changes, whatever is laid", () => {
  fc.assert(
    fc.property(cues, noWithdrawals, (own, all) => {
      const kept = all.filter(({ kind }) => kind !== "transcript");
      const laid = layCorrections(episode({ cues: own, corrections: kept }), LATER);
      expect(laid.cues.map(({ pieces }) => pieces.map((piece) => piece.words))).toEqual(
        own.map(({ pieces }) => pieces.map((piece) => piece.words)),
      );
    }),
  );
});

test("every correction is listed once, in date order; each place is one mark; a finding that blocks means no place", () => {
  fc.assert(
    fc.property(cues, corrections, (own, all) => {
      const laid = layCorrections(episode({ cues: own, corrections: all.toReversed() }), LATER);
      expect(laid.laid.map(({ correction }) => correction.id)).toEqual(all.map(({ id }) => id));
      const marked = new Map<string, Set<number>>();
      for (const { pieces } of laid.cues)
        for (const { runs, speaker } of pieces)
          for (const hold of [...runs.map(({ mark }) => mark), speaker]) {
            if (hold === null) continue;
            marked.set(hold.correction.id, (marked.get(hold.correction.id) ?? new Set()).add(hold.occurrence));
          }
      if (all.some(({ kind }) => kind === "withdrawal" || kind === "transcript")) return;
      for (const { correction, places } of laid.laid) {
        expect([...(marked.get(correction.id) ?? [])].toSorted((a, b) => a - b)).toEqual(
          Array.from({ length: places }, (_, index) => index + 1),
        );
      }
    }),
  );
});

test("a later day has all that an earlier one had", () => {
  fc.assert(
    fc.property(cues, corrections, fc.integer({ min: 0, max: 8 }), (own, all, index) => {
      const given = episode({ cues: own, corrections: all });
      // A withdrawal counts as of any day: see the test beside.
      const ids = (on: string) =>
        layCorrections(given, on).laid.flatMap(({ correction: { id, kind } }) => (kind === "withdrawal" ? [] : [id]));
      const [earlier, later] = [ids(`${day(index)}T12:00:00Z`), ids(LATER)];
      expect(later.slice(0, earlier.length)).toEqual(earlier);
      const dated = all.slice(0, index + 1).filter(({ kind }) => kind !== "withdrawal");
      expect(earlier).toHaveLength(dated.length);
    }),
  );
});

test("the same day and corrections give the same episode, in whatever order the files come", () => {
  fc.assert(
    fc.property(cues, corrections, (own, all) => {
      const [a, b] = [all, all.toReversed()].map((given) =>
        layCorrections(episode({ cues: own, corrections: given }), LATER),
      );
      expect({ ...a, corrections: [] }).toEqual({ ...b, corrections: [] });
    }),
  );
});

test("nothing said in a withdrawn segment is left anywhere", () => {
  fc.assert(
    fc.property(corrections, (all) => {
      const last = withdrawal({ id: "2026-10-30-1", segment: "ferry-timetable" });
      const secret = [cue(0, "nine sailings"), cue(20, "zyxwv nine zyxwv", "Vutsr")];
      const about = transcript({ id: "2026-10-29-1", said: "zyxwv", now: "zyxwvu", note: "zyxwv", at: at(20) });
      const laid = layCorrections(episode({ cues: secret, corrections: [...all, about, last] }), LATER);
      expect(JSON.stringify({ ...laid, findings: [] })).not.toMatch(/zyxwv|Vutsr/);
    }),
  );
});
