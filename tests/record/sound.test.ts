import { describe, expect, test } from "vitest";
import type { Episode, Rights, Segment } from "../../src/model/episode.ts";
import { clockMs, mediaMs } from "../../src/model/units.ts";
import { fieldsDigest } from "../../src/record/frozen.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { givingOf, heldSound, soundFindings, soundStillThere } from "../../src/record/sound.ts";
import { episode, page, segment, withdrawal } from "./broadcast.ts";
import { LATER } from "./laid.ts";

const DAY = "2026-10-10";
const WITHHELD: Rights = { withheld: true, until: null, holder: "Farwater News Agency", show: "transcript" };
const SILENCED = { is: "silenced" } as const;
const ACCEPTED = { is: "in-file", because: "The contract allows it." } as const;

/** The evening with rights on its middle segment, which runs from 0:15 to 0:30. */
const evening = (rights: Rights | null, more: Partial<Episode> = {}): Episode =>
  episode({
    segments: [segment("headlines", 0, 15), segment("ferry-timetable", 15, 30, { rights }), segment("close", 30, 40)],
    ...more,
  });
const cuts = (...pairs: readonly (readonly [number, number])[]): Episode["cuts"] =>
  pairs.map(([from, to]) => ({
    from: clockMs(from * 1000),
    to: clockMs(to * 1000),
    why: "rights",
    at: { file: "a", line: 1, column: 1 },
  }));
const gone = withdrawal({ id: "2026-10-06-1", segment: "ferry-timetable" });
const laid = (own: Episode) => layCorrections(own, LATER);
const pieces = (own: Episode, day = DAY) =>
  heldSound(laid(own), day).map(({ from, to, why }) => [why, from / 1000, to / 1000]);

describe("sound that may not be given", () => {
  test.each<[string, Episode, unknown]>([
    ["nothing is withheld", evening(null), []],
    ["not withheld", evening({ ...WITHHELD, withheld: false }), []],
    ["withheld", evening(WITHHELD), [["withheld", 15, 30]]],
    ["without its words too", evening({ ...WITHHELD, show: "nothing" }), [["withheld", 15, 30]]],
    ["until the day after", evening({ ...WITHHELD, until: "2026-10-11" }), [["withheld", 15, 30]]],
    ["until that day", evening({ ...WITHHELD, until: DAY }), []],
    ["cut out whole", evening(WITHHELD, { cuts: cuts([15, 30]) }), []],
    ["cut out with more", evening(WITHHELD, { cuts: cuts([10, 35]) }), []],
    ["by two cuts that touch", evening(WITHHELD, { cuts: cuts([15, 20], [20, 30]) }), []],
    ["all but its beginning", evening(WITHHELD, { cuts: cuts([16, 30]) }), [["withheld", 15, 16]]],
    ["all but its end", evening(WITHHELD, { cuts: cuts([10, 29.999]) }), [["withheld", 29.999, 30]]],
    [
      "all but three pieces",
      evening(WITHHELD, { cuts: cuts([16, 20], [25, 28]) }),
      [
        ["withheld", 15, 16],
        ["withheld", 20, 25],
        ["withheld", 28, 30],
      ],
    ],
    ["cuts beside it", evening(WITHHELD, { cuts: cuts([10, 15], [30, 35]) }), [["withheld", 15, 30]]],
    [
      "in the media's own time, which has no cuts",
      evening(WITHHELD, { clock: "media", cuts: cuts([15, 30]) }),
      [["withheld", 15, 30]],
    ],
    ["withdrawn", evening(null, { corrections: [gone] }), [["withdrawn", 15, 30]]],
    ["withdrawn and withheld", evening(WITHHELD, { corrections: [gone] }), [["withdrawn", 15, 30]]],
    ["withdrawn and cut", evening(null, { corrections: [gone], cuts: cuts([15, 30]) }), []],
    [
      "an out point that was corrected: what it was published with still counts",
      evening(WITHHELD, {
        corrections: [
          page({ id: "2026-10-06-1", segment: "ferry-timetable", field: "out", said: "0:30", now: "0:28" }),
        ],
      }),
      [["withheld", 15, 30]],
    ],
    [
      "withdrawn whole: its media are gone",
      evening(WITHHELD, { corrections: [withdrawal({ id: "2026-10-06-1" })] }),
      [],
    ],
  ])("%s", (_why, own, expected) => {
    expect(pieces(own)).toEqual(expected);
  });
});

describe("what was decided", () => {
  const withdrawn = { corrections: [gone] };
  test.each<[string, Episode, number, string, readonly string[]]>([
    ["nothing to decide", evening(null), 0, "whole", []],
    ["nothing", evening(WITHHELD), 1, "stepped", ["sound-in-file blocks"]],
    ["silenced", evening({ ...WITHHELD, sound: SILENCED }), 0, "whole", []],
    ["no recording", evening(WITHHELD, { media: [] }), 0, "none", []],
    ["accepted", evening({ ...WITHHELD, sound: ACCEPTED }), 0, "stepped", []],
    ["withdrawn, and nothing decided", evening(null, withdrawn), 1, "off", ["sound-withdrawn warns"]],
    ["withdrawn and silenced", evening({ ...WITHHELD, withheld: false, sound: SILENCED }, withdrawn), 0, "whole", []],
    [
      "an acceptance ends with the withdrawal",
      evening({ ...WITHHELD, sound: ACCEPTED }, withdrawn),
      1,
      "off",
      ["sound-withdrawn warns"],
    ],
    ["cut", evening(WITHHELD, { cuts: cuts([15, 30]) }), 0, "whole", []],
    ["lapsed, and silent still", evening({ ...WITHHELD, until: DAY, sound: SILENCED }), 0, "whole", []],
  ])("%s", (_why, own, still, giving, told) => {
    const episode = laid(own);
    expect(soundStillThere(episode, DAY)).toHaveLength(still);
    expect(givingOf(episode, DAY)).toBe(giving);
    expect(soundFindings(episode, DAY).map(({ rule, level }) => `${rule} ${level}`)).toEqual(told);
  });

  test("one withdrawn stretch takes the recording off, whatever was decided beside it", () => {
    const own = evening(null, {
      segments: [
        segment("headlines", 0, 15, { rights: { ...WITHHELD, sound: ACCEPTED } }),
        segment("ferry-timetable", 15, 30),
      ],
      ...withdrawn,
    });
    expect(givingOf(laid(own), DAY)).toBe("off");
  });

  test("a draft is only warned of", () => {
    expect(soundFindings(laid(evening(WITHHELD)), DAY, true).map(({ level }) => level)).toEqual(["warns"]);
  });

  test("a finding names the place, the times and both ways out", () => {
    const at: Segment["at"] = { file: "episodes/2026/2026-10-05/episode.md", line: 31, column: 5 };
    const own = evening(null, {
      segments: [segment("talks", 0, 12.5, { rights: WITHHELD, at })],
      duration: mediaMs(12_500),
    });
    expect(soundFindings(laid(own), DAY)).toEqual([
      {
        rule: "sound-in-file",
        level: "blocks",
        at,
        seconds: 0,
        says: "talks is withheld, and the recording still has its sound, from 0:00 to 0:12.500: whoever fetches the file hears it.",
        mend: expect.stringMatching(/`afterair cuts 2026-10-05`.*`sound: in-file, because: …`/),
      },
    ]);
  });

  test("what is withdrawn is named by its address alone", () => {
    const [finding] = soundFindings(laid(evening(null, withdrawn)), DAY);
    expect(JSON.stringify(finding)).not.toContain("About ferry-timetable");
  });

  test("deciding it changes no frozen field", () => {
    expect(fieldsDigest(evening({ ...WITHHELD, sound: SILENCED }))).toBe(fieldsDigest(evening(null)));
  });
});
