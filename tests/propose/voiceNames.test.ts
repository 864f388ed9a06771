import { expect, test } from "vitest";
import { byVoice, type Part, type VoicesHeard } from "../../src/derive/propose/voiceNames.ts";

const [PRESENTER, REPORTER, CLIP] = ["Tamsin Hathersay", "Ilse Marrane", "Edda Vantrell"];

/** Sentences of two words: a voice, whom it names, who the words alone would have said it, and for how many seconds. */
type Said = readonly [heard: number | null, names?: readonly string[], clue?: string, seconds?: number, text?: string];

function partOf(kind: string, said: readonly Said[], from: number, by: readonly string[] = []): Part {
  const scenes = said.map(([heard, names = [], , seconds = 3, text = ""], n) => {
    const start = (from + n) * 10_000;
    const sentence = { from: (from + n) * 2, to: (from + n) * 2 + 2 };
    const words = text.split(" ");
    return {
      sentence,
      text: words,
      names,
      first: names.find((name) => words.slice(0, 2).includes(name.split(" ")[0]?.toLowerCase() ?? "")) ?? null,
      asks: false,
      heard,
      span: { start, end: start + seconds * 1000 },
    };
  });
  const clued = said.map(([, , voice = PRESENTER], n) => ({ from: (from + n) * 2, to: (from + n) * 2 + 2, voice }));
  return { stretch: { in: from, out: from + said.length, kind, by }, scenes, clued };
}

const HEADLINES: readonly Said[] = [[0], [0], [0]];

function voicesOf(
  kind: string,
  said: readonly Said[],
  {
    by = [REPORTER],
    alike = [],
  }: { readonly by?: readonly string[]; readonly alike?: readonly (readonly number[])[] } = {},
): readonly (string | null)[] {
  const parts = [partOf("headlines", HEADLINES, 0), partOf(kind, said, HEADLINES.length, by)];
  const heard: VoicesHeard = {
    of: parts.flatMap(({ scenes }) => scenes.map((scene) => scene.heard)),
    unspoken: [],
    alike: (a, b) => a === b || alike.some((pair) => pair.includes(a) && pair.includes(b)),
  };
  return byVoice(parts, [PRESENTER], heard)
    .slice(HEADLINES.length)
    .map(({ voice }) => voice);
}

const ABOUT: readonly [string, readonly Said[], readonly (string | null)[], Parameters<typeof voicesOf>[2]?][] = [
  [
    "the first voice after the presenter's is the reporter's",
    [[0], [1], [1], [0]],
    [PRESENTER, REPORTER, REPORTER, PRESENTER],
  ],
  [
    "a voice is that of whom the sentence before it names",
    [[0], [1, [CLIP]], [2], [1]],
    [PRESENTER, REPORTER, CLIP, REPORTER],
  ],
  [
    "a voice is that of whom the sentence after it thanks, or says was heard",
    [[1], [2], [1, [CLIP], REPORTER, 3, "that was edda"]],
    [REPORTER, CLIP, REPORTER],
  ],
  [
    "but whom the sentence after it only speaks of was not heard",
    [[1], [2], [1, [CLIP], REPORTER, 3, "next comes edda"]],
    [REPORTER, null, REPORTER],
  ],
  [
    "a voice is that of whose name the sentence after it begins with",
    [[1], [2], [1, [CLIP], REPORTER, 3, "edda has worked here for years"]],
    [REPORTER, CLIP, REPORTER],
  ],
  [
    "also where that is after its first turn, and it comes again",
    [[1], [2], [1, [CLIP], REPORTER, 3, "that's edda"], [1], [1], [2], [1]],
    [REPORTER, CLIP, REPORTER, REPORTER, REPORTER, CLIP, REPORTER],
  ],
  [
    "but not where another voice is heard soon after the name, which may be theirs",
    [[1], [2], [1, [CLIP], REPORTER, 3, "edda has worked here for years"], [3], [1]],
    [REPORTER, null, REPORTER, CLIP, REPORTER],
  ],
  ["it keeps the name where it comes again", [[1, [CLIP]], [2], [1], [2]], [REPORTER, CLIP, REPORTER, CLIP]],
  ["a voice that nobody is named before has no name", [[0], [1], [2], [1]], [PRESENTER, REPORTER, null, REPORTER]],
  [
    "the reporter's own name introduces nobody else",
    [[0, [REPORTER]], [1], [2], [1]],
    [PRESENTER, REPORTER, null, REPORTER],
  ],
  [
    "a voice like the reporter's is the reporter's",
    [[0], [1], [2], [1]],
    [PRESENTER, REPORTER, REPORTER, REPORTER],
    { alike: [[1, 2]] },
  ],
  [
    "but not where somebody was named",
    [[0], [1, [CLIP]], [2], [1]],
    [PRESENTER, REPORTER, CLIP, REPORTER],
    { alike: [[1, 2]] },
  ],
  ["a few words between two of one voice are that voice's", [[1], [null], [1]], [REPORTER, REPORTER, REPORTER]],
  [
    "a few words between two voices are whose their words say",
    [[0], [null, [], REPORTER], [1]],
    [PRESENTER, REPORTER, REPORTER],
  ],
  [
    "somebody heard first for a moment is no reporter",
    [[0], [2, [], PRESENTER, 1], [1], [1], [1]],
    [PRESENTER, null, REPORTER, REPORTER, REPORTER],
  ],
];

test.each(ABOUT)("in a report, %s", (_, said, wanted, more) => {
  expect(voicesOf("package", said, more)).toEqual(wanted);
});

test("in a conversation the other voice is the one that speaks most, and short questions are whose their words say", () => {
  const said: readonly Said[] = [[0], [2, [], PRESENTER, 2], [1, [], CLIP], [null, [], PRESENTER, 0.5], [1, [], CLIP]];
  expect(voicesOf("interview", said, { by: [PRESENTER] })).toEqual([PRESENTER, null, CLIP, PRESENTER, CLIP]);
  expect(voicesOf("two-way", said)).toEqual([PRESENTER, null, REPORTER, PRESENTER, REPORTER]);
});

test("in a conversation with several, each is whom the sentence before names, and a voice like another stays without a name", () => {
  const said: readonly Said[] = [[0], [1], [1], [0, [CLIP]], [2], [0], [3]];
  const wanted = [PRESENTER, REPORTER, REPORTER, PRESENTER, CLIP, PRESENTER, null];
  expect(voicesOf("interview", said, { alike: [[1, 3]] })).toEqual(wanted);
});

test("where nobody is known besides the presenter, another voice has no name", () => {
  expect(voicesOf("package", [[0], [1], [0]], { by: [] })).toEqual([PRESENTER, null, PRESENTER]);
});

test("a voice that leads to three reports is the presenter's, and so is one like it", () => {
  const report: readonly Said[] = [[3], [1, [], REPORTER], [1, [], REPORTER], [1, [], REPORTER]];
  const parts = [
    partOf("headlines", [[0], [0], [0], [0], [4, [], PRESENTER, 1]], 0),
    ...[5, 9, 13].map((from) => partOf("package", report, from, [REPORTER])),
    partOf("package", [[4], [1]], 17, [REPORTER]),
  ];
  const of = parts.flatMap(({ scenes }) => scenes.map(({ heard }) => heard));
  const who = (alike: boolean) =>
    byVoice(parts, [PRESENTER], { of, unspoken: [], alike: (a, b) => a === b || alike }).map(({ voice }) => voice);
  expect(who(true).slice(5, 7)).toEqual([PRESENTER, REPORTER]);
  expect(who(true)[17]).toBe(PRESENTER);
  expect(who(false)[17]).not.toBe(PRESENTER);
});

test("where the presenter is heard nowhere alone, the words decide", () => {
  const part = partOf(
    "package",
    [
      [0, [], PRESENTER],
      [1, [], REPORTER],
    ],
    0,
    [REPORTER],
  );
  const heard = { of: [0, 1], unspoken: [], alike: () => false };
  expect(byVoice([part], [PRESENTER], heard)).toEqual(part.clued);
});

test("two who present are each known by the voice: alone, together, and where they lead to a report", () => {
  const SECOND = "Piers Haldersby";
  const parts = [
    partOf("headlines", [[0], [5], [0], [9]], 0, [PRESENTER, SECOND]),
    partOf("reader", [[0], [0], [0]], 4, [PRESENTER]),
    partOf(
      "reader",
      [
        [5, [], SECOND],
        [5, [], SECOND],
        [5, [], SECOND],
      ],
      7,
      [SECOND],
    ),
    partOf("package", [[5], [1], [1], [0]], 10, [REPORTER]),
    partOf("close", [[5], [0]], 14, [PRESENTER, SECOND]),
  ];
  const of = parts.flatMap(({ scenes }) => scenes.map(({ heard }) => heard));
  const who = byVoice(parts, [PRESENTER, SECOND], { of, unspoken: [], alike: (a, b) => a === b });
  expect(who.map(({ voice }) => voice)).toEqual([
    ...[PRESENTER, SECOND, PRESENTER, null],
    ...[PRESENTER, PRESENTER, PRESENTER],
    ...[SECOND, SECOND, SECOND],
    ...[SECOND, REPORTER, REPORTER, PRESENTER],
    ...[SECOND, PRESENTER],
  ]);
});
