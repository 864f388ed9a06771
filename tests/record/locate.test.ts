import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { TranscriptCue } from "../../src/model/episode.ts";
import { clockMs } from "../../src/model/units.ts";
import { tokensOf } from "../../src/record/fold.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { findPassages } from "../../src/record/locate.ts";
import { pieceIndexOf } from "../../src/record/pieceIndex.ts";
import { tokensIn, type WorkingPiece, workingPieces } from "../../src/record/words.ts";
import { segment } from "../support/episodes.ts";
import { cue, episode, noted } from "./broadcast.ts";
import { LATER } from "./laid.ts";

const word = fc.constantFrom("nine", "sailings", "a", "week", "–", "a-week", "");
const text = (most: number) => fc.array(word, { maxLength: most }).map((words) => words.join(" "));
const piece = text(5).map((words) => ({ voice: null, language: null, words }));
/** Cues that start at any time: a file need not have them in order. */
const cues: fc.Arbitrary<readonly TranscriptCue[]> = fc.array(
  fc.tuple(fc.nat(20), fc.array(piece, { maxLength: 3 })).map(([at, pieces]) => cue(at, pieces)),
  { maxLength: 10 },
);
const stretch = fc.option(
  fc.tuple(fc.nat(15), fc.nat(10)).map(([from, long]) => ({
    ...segment("part", "0:00", "0:01"),
    in: clockMs(from * 1000),
    out: clockMs((from + long) * 1000),
  })),
  { nil: null },
);

/** Every word tried as the beginning of a passage, from the left: which words of which pieces it has. */
function tried(said: string, pieces: readonly WorkingPiece[], own: ReturnType<typeof segment> | null) {
  const needle = tokensOf(said).map((token) => token.text);
  const hay = pieces
    .filter(({ cue: { start } }) => own === null || (own.in <= start && start < own.out))
    .flatMap((one) => tokensIn(one).map((token) => ({ piece: one.number, ...token })));
  const found: (readonly number[])[] = [];
  for (let at = 0; needle.length > 0 && at + needle.length <= hay.length; at++) {
    const words = hay.slice(at, at + needle.length);
    if (!words.every((token, n) => token.text === needle[n])) continue;
    found.push([...new Set(words.map((token) => token.piece))]);
    at += needle.length - 1;
  }
  return found;
}

describe("words are looked up, not looked for", () => {
  test("what is found is what trying each place finds, also after words have become others", () => {
    fc.assert(
      fc.property(cues, text(4), stretch, fc.option(fc.tuple(fc.nat(29), text(4))), (all, said, own, change) => {
        const pieces = workingPieces(all);
        const index = pieceIndexOf(pieces);
        findPassages(said, index, own);
        const changed = change === null ? undefined : pieces[change[0]];
        if (change !== null && changed !== undefined) {
          changed.stretches = [{ text: change[1], was: null, holds: [] }];
          changed.tokens = null;
          index.changed(changed);
        }
        const found = findPassages(said, index, own).map(({ spans }) => spans.map((span) => span.piece));
        expect(found).toEqual(tried(said, pieces, own));
      }),
      { numRuns: 1000 },
    );
  });

  test("twice the cues and twice the corrections ask for the times of cues twice as often, not four times", () => {
    const asked = (count: number): number => {
      let times = 0;
      const counting = (own: TranscriptCue): TranscriptCue => ({
        ...own,
        get start() {
          times++;
          return own.start;
        },
      });
      const many = Array.from({ length: count }, (_, n) => counting(cue(n, `Word${n}.`)));
      const segments = [{ ...segment("all", "0:00", "0:01"), out: clockMs(count * 1000) }];
      const corrections = many.map((_, n) =>
        noted("on-air", { id: `2026-10-06-${n + 1}`, said: `word${n}`, at: clockMs(n * 1000), segment: "all" }),
      );
      const laid = layCorrections(episode({ cues: many, segments, corrections }), LATER);
      expect(laid.laid.every(({ places }) => places === 1)).toBe(true);
      return times;
    };
    const [once, twice] = [asked(200), asked(400)];
    expect(twice / once).toBeLessThan(2.3);
  });
});
