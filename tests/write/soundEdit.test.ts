import { describe, expect, test } from "vitest";
import { type SoundChange, soundYaml, withSound } from "../../src/write/soundEdit.ts";

const NOTHING: SoundChange = { media: new Map(), duration: null, cuts: [], silenced: [] };
const WEB_2 = new Map([[0, { src: "web-2.mp3", bytes: 99 }]]);
const CUT = { from: 315_714, to: 353_019, why: "withheld" };
const text = (front: string) => `---\n${front}---\nThe notes: duration: 1:00, and a --- of their own.\n`;

const BLOCK = text(`# A remark at the top.
title: "An evening"   # with a remark
duration: 6:53.910 # as measured
media:
  - { src: web.mp3, type: "audio/mpeg", bytes: 1656274 }
  - src: web.ogg
    type: audio/ogg; codecs=opus
clock: aired
cuts:
  - { from: 4:51.464, to: 5:15.714, why: break }
  - { from: 6:00, to: 6:10, why: break }
segments:
  - slug: talks
    kind: agency
    in: 5:15.714 # proposed, 65 % sure
    title: Talks
    rights: { withheld: true, holder: "Farwater News Agency, Skerrow", show: nothing }
  - slug: sport
    kind: sport
    title: Sport
    in: 5:53.019
  - slug: close
    kind: close
    title: Close
    in: 7:29.717
    rights:
      withheld: true
      show: transcript # its words
`);

const line = (from: string, to: string): string => {
  expect(BLOCK.split(from)).toHaveLength(2);
  return BLOCK.replace(from, () => to);
};

describe("a change put into episode.md leaves every other character alone", () => {
  test.each<[string, Partial<SoundChange>, string]>([
    ["nothing", {}, BLOCK],
    [
      "a file in a flow map",
      { media: WEB_2 },
      line('{ src: web.mp3, type: "audio/mpeg", bytes: 1656274 }', '{ src: web-2.mp3, type: "audio/mpeg", bytes: 99 }'),
    ],
    [
      "a file in a block map, without a size until now",
      { media: new Map([[1, { src: "web-2.ogg", bytes: 7 }]]) },
      line("  - src: web.ogg\n", "  - src: web-2.ogg\n    bytes: 7\n"),
    ],
    [
      "an address",
      { media: new Map([[0, { src: "https://media.example.org/a,b-2.mp3", bytes: 99 }]]) },
      line(
        '{ src: web.mp3, type: "audio/mpeg", bytes: 1656274 }',
        '{ src: "https://media.example.org/a,b-2.mp3", type: "audio/mpeg", bytes: 99 }',
      ),
    ],
    ["the duration", { duration: 376_605 }, line("6:53.910 # as", "6:16.605 # as")],
    [
      "a cut between two",
      { cuts: [CUT] },
      line("  - { from: 6:00,", "  - { from: 5:15.714, to: 5:53.019, why: withheld }\n  - { from: 6:00,"),
    ],
    [
      "a cut before all",
      { cuts: [{ ...CUT, from: 1000, to: 2000 }] },
      line("cuts:\n", "cuts:\n  - { from: 0:01, to: 0:02, why: withheld }\n"),
    ],
    [
      "a cut after all, and another",
      { cuts: [CUT, { from: 400_000, to: 410_000, why: "withheld, still" }] },
      line(
        "  - { from: 6:00, to: 6:10, why: break }\n",
        '  - { from: 5:15.714, to: 5:53.019, why: withheld }\n  - { from: 6:00, to: 6:10, why: break }\n  - { from: 6:40, to: 6:50, why: "withheld, still" }\n',
      ),
    ],
    ["silence in a flow map", { silenced: ["talks"] }, line("show: nothing }", "show: nothing, sound: silenced }")],
    [
      "silence in a block map",
      { silenced: ["close"] },
      line("show: transcript # its words\n", "show: transcript # its words\n      sound: silenced\n"),
    ],
    [
      "silence where there were no rights",
      { silenced: ["sport"] },
      line("    in: 5:53.019\n", "    in: 5:53.019\n    rights: { sound: silenced }\n"),
    ],
  ])("%s", (_why, change, expected) => {
    expect(withSound(BLOCK, { ...NOTHING, ...change })).toBe(expected);
  });

  const FLOW = text(`title: An evening
duration: 1:00
media: [{ src: a.mp3, type: audio/mpeg }]
clock: aired
segments: [{ slug: talks, in: 0:00, rights: { withheld: true, show: nothing } }, { slug: sport, in: 0:30 }]
`);
  test.each<[string, string, Partial<SoundChange>, string, string]>([
    ["a file", FLOW, { media: WEB_2 }, "{ src: a.mp3,", "{ src: web-2.mp3, bytes: 99,"],
    [
      "the first cut",
      FLOW,
      { cuts: [CUT] },
      "clock: aired\n",
      "clock: aired\ncuts:\n  - { from: 5:15.714, to: 5:53.019, why: withheld }\n",
    ],
    [
      "silence",
      FLOW,
      { silenced: ["talks", "sport"] },
      "show: nothing } }, { slug: sport, in: 0:30 }",
      "show: nothing, sound: silenced } }, { slug: sport, in: 0:30, rights: { sound: silenced } }",
    ],
    [
      "a cut in an empty list",
      FLOW.replace("clock: aired\n", "clock: aired\ncuts: []\n"),
      { cuts: [CUT] },
      "cuts: []",
      "cuts: [{ from: 5:15.714, to: 5:53.019, why: withheld }]",
    ],
    [
      "cuts in a flow list, before and after",
      FLOW.replace("clock: aired\n", "clock: aired\ncuts: [{ from: 0:30, to: 0:31, why: a }]\n"),
      { cuts: [{ from: 10_000, to: 11_000, why: "b" }, CUT] },
      "[{ from: 0:30, to: 0:31, why: a }]",
      "[{ from: 0:10, to: 0:11, why: b }, { from: 0:30, to: 0:31, why: a }, { from: 5:15.714, to: 5:53.019, why: withheld }]",
    ],
  ])("in flow style: %s", (_why, own, change, from, to) => {
    expect(own.split(from)).toHaveLength(2);
    expect(withSound(own, { ...NOTHING, ...change })).toBe(own.replace(from, () => to));
  });

  test.each<[string, string, Partial<SoundChange>]>([
    ["no front matter", "title: A\n", {}],
    ["lines of another system", BLOCK.replaceAll("\n", "\r\n"), { duration: 1000 }],
    ["a segment that is not there", BLOCK, { silenced: ["weather"] }],
    [
      "what was accepted before",
      BLOCK.replace("show: nothing }", "show: nothing, sound: in-file, because: x }"),
      { silenced: ["talks"] },
    ],
    [
      "an alias",
      BLOCK.replace(
        '{ src: web.mp3, type: "audio/mpeg", bytes: 1656274 }',
        "&a { src: web.mp3, type: audio/mpeg }",
      ).replace("  - src: web.ogg\n    type: audio/ogg; codecs=opus", "  - *a"),
      { media: WEB_2 },
    ],
  ])("left to a person: %s", (_why, own, change) => {
    const edited = withSound(own, { ...NOTHING, ...change });
    expect(edited === null || edited === own).toBe(true);
  });
});

test("the same as YAML to paste, with a reason that no longer holds taken out", () => {
  const own = BLOCK.replace("show: nothing }", "show: nothing, sound: in-file, because: x }");
  const change = { media: WEB_2, duration: 376_605, cuts: [CUT], silenced: ["talks", "sport"] };
  expect(soundYaml(own, change)).toBe(`duration: 6:16.605
media:
  - { src: web-2.mp3, type: audio/mpeg, bytes: 99 }
  - { src: web.ogg, type: audio/ogg; codecs=opus }
cuts:
  - { from: 4:51.464, to: 5:15.714, why: break }
  - { from: 5:15.714, to: 5:53.019, why: withheld }
  - { from: 6:00, to: 6:10, why: break }
# in the segment talks:
    rights: { withheld: true, holder: "Farwater News Agency, Skerrow", show: nothing, sound: silenced }
# in the segment sport:
    rights: { sound: silenced }`);
});
