import fc from "fast-check";
import { expect, test } from "vitest";
import { CEPSTRA, FRAMES } from "../../src/listen/alignFeatures.ts";
import { costOfJoining, spreadOf, statsOf, together, voiceModel } from "../../src/listen/voiceStats.ts";
import { voicesIn } from "../../src/listen/voices.ts";
import { randomFrom } from "../support/random.ts";

const VALUES = CEPSTRA - 1;
const SPOKEN = { stretches: [{ kind: "speech" as const, start: 0, end: 3_600_000 }], pauses: [] };

/** A voice that says pieces of so many seconds: its values lie around those of its own number. */
function said(pieces: readonly { readonly voice: number; readonly seconds: number }[], seed = 1) {
  const { next } = randomFrom(seed);
  const normal = () => Math.sqrt(-2 * Math.log(next() + 1e-12)) * Math.cos(2 * Math.PI * next());
  const spans: { start: number; end: number }[] = [];
  const values: number[] = [];
  for (const { voice, seconds } of pieces) {
    const start = (values.length / CEPSTRA / FRAMES) * 1000;
    for (let n = 0; n < seconds * FRAMES; n++) {
      values.push(50);
      for (let k = 1; k < CEPSTRA; k++) values.push(normal() + (((voice * 5 + k * 3) % 7) - 3));
    }
    spans.push({ start, end: (values.length / CEPSTRA / FRAMES) * 1000 });
  }
  return { frames: Float32Array.from(values), spans };
}

test("pieces of one voice get one number, those of another another", () => {
  fc.assert(
    fc.property(
      fc.array(fc.record({ voice: fc.integer({ min: 0, max: 3 }), seconds: fc.integer({ min: 3, max: 5 }) }), {
        minLength: 1,
        maxLength: 12,
      }),
      fc.integer({ min: 1, max: 1000 }),
      (pieces, seed) => {
        const { frames, spans } = said(pieces, seed);
        const { of, alike } = voicesIn(frames, spans, SPOKEN);
        pieces.forEach((a, n) => {
          pieces.forEach((b, k) => {
            expect(of[n] === of[k]).toBe(a.voice === b.voice);
          });
        });
        for (const own of of) expect(own !== null && alike(own, own)).toBe(true);
      },
    ),
    { numRuns: 30 },
  );
});

test("a piece that is too short or outside the recording has no voice", () => {
  const { frames, spans } = said([
    { voice: 0, seconds: 4 },
    { voice: 1, seconds: 4 },
  ]);
  const end = spans[1]?.end ?? 0;
  const short = [
    { start: 0, end: 200 },
    { start: 500, end: 500 },
    { start: end + 1000, end: end + 5000 },
  ];
  expect(voicesIn(frames, [...spans, ...short], SPOKEN).of).toEqual([0, 1, null, null, null]);
  expect(voicesIn(frames, short, SPOKEN).of).toEqual([null, null, null]);
  expect(voicesIn(frames, [], SPOKEN).of).toEqual([]);
});

test("too many pieces to compare all are joined with their neighbours first", () => {
  const pieces = Array.from({ length: 700 }, (_, n) => ({ voice: Math.floor(n / 175) % 2, seconds: 0.4 }));
  const { frames, spans } = said(pieces);
  const { of } = voicesIn(frames, spans, SPOKEN);
  expect(of).toEqual(pieces.map(({ voice }) => voice));
});

test("a piece in which mostly music is heard has no voice, and its words are nobody's", () => {
  const { frames, spans } = said([
    { voice: 0, seconds: 4 },
    { voice: 1, seconds: 4 },
  ]);
  const told = (edge: number) =>
    voicesIn(frames, spans, {
      stretches: [
        { kind: "speech", start: 0, end: edge },
        { kind: "music", start: edge, end: 8000 },
      ],
      pauses: [],
    });
  expect(told(4000)).toMatchObject({ of: [0, null], unspoken: [false, true] });
  expect(told(6100)).toMatchObject({ of: [0, 1], unspoken: [false, false] });
  expect(told(1900)).toMatchObject({ of: [null, null], unspoken: [true, true] });
  const cut = { start: 500, end: 500 };
  expect(voicesIn(frames, [cut], SPOKEN).unspoken).toEqual([false]);
});

test("a pause inside a piece does not count", () => {
  const { frames, spans } = said([{ voice: 0, seconds: 4 }]);
  for (let n = 100; n < 200; n++) frames[n * CEPSTRA] = 20;
  expect(statsOf(frames, 0, Math.round(((spans[0]?.end ?? 0) / 1000) * FRAMES)).count).toBe(300);
});

// Outside check: the closed form of the criterion of Chen and Gopalakrishnan (1998), "Speaker, environment and channel change
// detection", for two clouds of the same shape whose means are 2d apart along one value: half the frames by log(1 + d²).
test("what joining costs is the criterion's closed form", () => {
  const d = 1.5;
  const cloud = (shift: number) => {
    const values: number[] = [];
    for (let n = 0; n < 2 ** VALUES; n++) {
      values.push(50);
      for (let k = 0; k < VALUES; k++) values.push(((n >> k) & 1 ? 1 : -1) + (k === 0 ? shift : 0));
    }
    return statsOf(Float32Array.from(values), 0, 2 ** VALUES);
  };
  const [a, b] = [cloud(-d), cloud(d)];
  const count = 2 ** (VALUES + 1);
  const parameters = VALUES + (VALUES * (VALUES + 1)) / 2;
  const wanted = 0.5 * count * Math.log(1 + (d * d) / 1.05) - 0.5 * parameters * Math.log(count);
  // 0.05 is added to each variance of 1.
  expect(costOfJoining([spreadOf(a), spreadOf(b), spreadOf(together(a, b))], count, 1)).toBeCloseTo(wanted, 3);
});

test("a voice's likelihood is that of the normal distribution, frame by frame", () => {
  const { frames } = said([{ voice: 2, seconds: 3 }]);
  // With no values bound to each other the determinant is the product of the variances.
  const own = statsOf(frames, 0, 300);
  const flat = {
    ...own,
    products: own.products.map((sum, n) => {
      const [i, k] = [Math.floor(n / VALUES), n % VALUES];
      return i === k ? sum : ((own.sum[i] ?? 0) * (own.sum[k] ?? 0)) / own.count;
    }),
  };
  const one = statsOf(frames, 10, 11);
  let wanted = 0;
  for (let k = 0; k < VALUES; k++) {
    const mean = (own.sum[k] ?? 0) / own.count;
    const variance = (own.products[k * VALUES + k] ?? 0) / own.count - mean * mean + 0.05;
    wanted -= 0.5 * (Math.log(variance) + ((frames[10 * CEPSTRA + 1 + k] ?? 0) - mean) ** 2 / variance);
  }
  expect(voiceModel(flat)(one)).toBeCloseTo(wanted, 4);
});
