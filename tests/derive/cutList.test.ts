import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { cutList, type Unwanted } from "../../src/derive/cutList.ts";
import { laidStretches, leavesAll } from "../../src/model/cutList.ts";
import { toMedia } from "../../src/model/timeMap.ts";
import { type Clock, clockMs, mediaMs } from "../../src/model/units.ts";
import { cutsOf } from "../support/episodes.ts";

type Pair = readonly [number, number];

const evening = (cuts: readonly Pair[], duration = 60_000, clock: Clock = "aired") => ({
  clock,
  cuts: cutsOf(cuts),
  duration: mediaMs(duration),
});
const unwanted = (does: Unwanted["does"], ...pairs: readonly Pair[]): readonly Unwanted[] =>
  pairs.map(([from, to]) => ({ from: clockMs(from), to: clockMs(to), why: "withheld", does }));
const shown = ({ stretches }: ReturnType<typeof cutList>) =>
  stretches.map(({ does, from, to, why }) => [does, from, to, ...why]);

describe("the cut list of the public recording", () => {
  test.each<[string, Parameters<typeof cutList>[0], readonly unknown[], number]>([
    [
      "nothing to leave out",
      { episode: evening([]), unwanted: [], source: "web", length: null },
      [["keep", 0, 60_000]],
      60_000,
    ],
    [
      "from the broadcast, the declared cut goes",
      { episode: evening([[10_000, 15_000]]), unwanted: [], source: "aired", length: null },
      [
        ["keep", 0, 10_000],
        ["cut", 10_000, 15_000, "break"],
        ["keep", 15_000, 65_000],
      ],
      60_000,
    ],
    [
      "a cut that touches it makes one of the two",
      {
        episode: evening([[10_000, 15_000]]),
        unwanted: unwanted("cut", [15_000, 20_000]),
        source: "aired",
        length: null,
      },
      [
        ["keep", 0, 10_000],
        ["cut", 10_000, 20_000, "break", "withheld"],
        ["keep", 20_000, 65_000],
      ],
      55_000,
    ],
    [
      "silence beside a cut stays silence",
      {
        episode: evening([[10_000, 15_000]]),
        unwanted: unwanted("silence", [15_000, 20_000]),
        source: "aired",
        length: null,
      },
      [
        ["keep", 0, 10_000],
        ["cut", 10_000, 15_000, "break"],
        ["silence", 15_000, 20_000, "withheld"],
        ["keep", 20_000, 65_000],
      ],
      60_000,
    ],
    [
      "from the web file, in its own time",
      {
        episode: evening([[10_000, 15_000]]),
        unwanted: unwanted("silence", [20_000, 30_000]),
        source: "web",
        length: null,
      },
      [
        ["keep", 0, 15_000],
        ["silence", 15_000, 25_000, "withheld"],
        ["keep", 25_000, 60_000],
      ],
      60_000,
    ],
    [
      "at the beginning, and to the end",
      {
        episode: evening([]),
        unwanted: unwanted("cut", [0, 1000], [50_000, 60_000]),
        source: "web",
        length: null,
      },
      [
        ["cut", 0, 1000, "withheld"],
        ["keep", 1000, 50_000],
        ["cut", 50_000, 60_000, "withheld"],
      ],
      49_000,
    ],
    [
      "to the last sample of a file that runs a little longer",
      { episode: evening([]), unwanted: unwanted("cut", [50_000, 60_000]), source: "web", length: 60_024 },
      [
        ["keep", 0, 50_000],
        ["cut", 50_000, 60_024, "withheld"],
      ],
      50_000,
    ],
    [
      "what the broadcast's file has after the programme goes",
      {
        episode: evening([]),
        unwanted: unwanted("silence", [50_000, 60_000]),
        source: "aired",
        length: 90_000,
        ends: 60_000,
      },
      [
        ["keep", 0, 50_000],
        ["silence", 50_000, 60_000, "withheld"],
        ["cut", 60_000, 90_000, "after the end"],
      ],
      60_000,
    ],
    [
      "times of the media's clock, looked up in the broadcast",
      {
        episode: evening([[10_000, 15_000]], 60_000, "media"),
        unwanted: unwanted("silence", [5000, 12_000]),
        source: "aired",
        length: null,
      },
      [
        ["keep", 0, 5000],
        ["silence", 5000, 10_000, "withheld"],
        ["cut", 10_000, 15_000, "break"],
        ["silence", 15_000, 17_000, "withheld"],
        ["keep", 17_000, 65_000],
      ],
      60_000,
    ],
  ])("%s", (_why, wanted, stretches, result) => {
    const list = cutList(wanted);
    expect(shown(list)).toEqual(stretches);
    expect(list.result).toBe(result);
  });

  const pairs = (most: number) =>
    fc
      .uniqueArray(fc.integer({ min: 0, max: most }), { maxLength: 8 })
      .map((edges) => edges.sort((a, b) => a - b))
      .map((edges) =>
        edges.flatMap((from, n): Pair[] => (n % 2 === 0 && n + 1 < edges.length ? [[from, edges[n + 1] ?? 0]] : [])),
      );

  test("covers the source without a gap, and every moment that stays is where the time map has it", () => {
    fc.assert(
      fc.property(pairs(200), pairs(200), fc.constantFrom("cut" as const, "silence" as const), (cuts, held, way) => {
        const episode = evening(cuts, 250);
        const list = cutList({ episode, unwanted: unwanted(way, ...held), source: "aired", length: null });
        expect([0, ...list.stretches.map(({ to }) => to)]).toEqual([
          ...list.stretches.map(({ from }) => from),
          list.length,
        ]);
        const missing = { clock: "aired", cuts: cutsOf([...cuts, ...(way === "cut" ? held : [])]) } as const;
        const laid = laidStretches(list);
        for (let at = 0; at < list.length; at++) {
          const isIn = ([from, to]: Pair) => from <= at && at < to;
          const does = cuts.some(isIn) ? "cut" : held.some(isIn) ? way : "keep";
          const own = list.stretches.find(({ from, to }) => from <= at && at < to);
          expect(own?.does).toBe(does);
          if (does === "cut" || way === "cut") continue;
          const there = laid.find(({ from, to }) => from <= at && at < to);
          expect((there?.at ?? Number.NaN) + at - (there?.from ?? 0)).toBe(toMedia(clockMs(at), missing));
        }
        expect(list.result).toBe(laid.reduce((sum, { from, to }) => sum + to - from, 0));
      }),
    );
  });

  test("a source that is as it should be needs nothing", () => {
    const list = (held: readonly Pair[]) =>
      cutList({ episode: evening([]), unwanted: unwanted("cut", ...held), source: "web", length: null });
    expect([leavesAll(list([])), leavesAll(list([[1, 2]]))]).toEqual([true, false]);
  });
});
