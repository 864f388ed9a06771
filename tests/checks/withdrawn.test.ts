import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { spokenIn } from "../../src/checks/speech.ts";
import { stepsFor } from "../../src/checks/withdrawn/command.ts";
import { hintsOf, mayStandIn } from "../../src/checks/withdrawn/files.ts";
import { givenOf } from "../../src/checks/withdrawn/given.ts";
import { languageOf, type Matter, matterOf } from "../../src/checks/withdrawn/matter.ts";
import { placesIn, type SamePlace } from "../../src/checks/withdrawn/places.ts";
import { isRun, runIndexOf } from "../../src/checks/withdrawn/runs.ts";
import { stemsBy } from "../../src/checks/withdrawn/stems.ts";
import { withdrawnTextsOf } from "../../src/checks/withdrawn/text.ts";
import type { Correction, Episode, Withdrawal } from "../../src/model/episode.ts";
import { heldOn } from "../../src/record/held.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { composeCaptions } from "../../src/webvtt/compose.ts";
import { around, episodeOf, programmeOf } from "./measure/archive.ts";
import { lexicon, name, REGISTER, turnsOf } from "./support.ts";

const PROGRAMME = programmeOf([...REGISTER, name("Kit Saverell"), { ...name("Bran Dunmarrow"), role: "coach" }]);
const { known } = await around(PROGRAMME);
const LANGUAGE = languageOf(known, lexicon);
const AT_LAST = "2027-01-01T00:00:00Z";
const DAY = "2026-10-12";

const withdrawal = (segment: string | null, note = "We took it away."): Withdrawal => ({
  kind: "withdrawal",
  id: "2026-10-09-1",
  dated: "2026-10-09T09:00:00.000+01:00",
  segment,
  at: null,
  signed: "Standards editor",
  supersedes: null,
  note,
  place: { file: "episodes/2026/2026-10-05/corrections/2026-10-09-1.md", line: 3, column: 1 },
});

/** An evening whose segment `a` was withdrawn. */
const evening = (texts: readonly string[], more: Partial<Episode> = {}): Episode =>
  episodeOf([...turnsOf(texts), ...turnsOf(["That is all for tonight."], "z")], {
    ...more,
    corrections: [...(more.corrections ?? []), withdrawal("a")],
  });

function matterIn(episode: Episode, usual: Matter["usual"] = new Map()): Matter {
  const [text] = withdrawnTextsOf(episode, AT_LAST, { reissued: new Set(), withdrawn: [] }, PROGRAMME.presenters);
  if (text === undefined) throw new Error("nothing is withdrawn");
  return matterOf(text, LANGUAGE, usual);
}

const other = (texts: readonly string[], more: Partial<Episode> = {}): Episode =>
  episodeOf(turnsOf(texts), { id: "2026-10-07", aired: "2026-10-07T18:30:00.000+01:00", ...more });

function placesOf(matter: Matter, episode: Episode): readonly SamePlace[] {
  const laid = layCorrections(episode, AT_LAST);
  const given = givenOf(laid, spokenIn(laid), heldOn({ episode: laid, also: [] }, DAY).cues);
  return placesIn({ index: runIndexOf([matter]), language: LANGUAGE }, given);
}

/** `person Kit Saverell: knee sore`, with a question mark where it is not sure. */
const rowOf = ({ reason, text, words, sure }: SamePlace): string => {
  const why = reason.by === "person" ? `person ${reason.name}` : reason.by;
  const own = words.map((word) => word.text).join(" ");
  return `${text === null ? "" : `${text.kind}: `}${why}: ${own}${sure ? "" : "?"}`;
};

const KNEE = [
  "Bran Dunmarrow: Kit Saverell has a sore knee, but Kit always has a sore knee. He will start.",
  "Some Speaker: In other news the harbour board met behind closed doors.",
];
/** Words that last longer than anything near a name. */
const LONG = "and then they went on to say that we would see what was to come of it all in the end ".repeat(2);

describe("stems", () => {
  const stems = stemsBy(lexicon);
  test.each([
    ["knee", "knees"],
    ["injured", "injury"],
    ["injuries", "injure"],
    ["stopped", "stops"],
    ["arrested", "arrests"],
    ["carried", "carrying"],
    ["wounded", "wounds"],
  ])("%s and %s are one", (a, b) => {
    expect(stems(a)).toBe(stems(b));
  });
  test.each([
    ["news", "new"],
    ["bus", "bu"],
    ["harm", "harbour"],
    ["king", "kin"],
  ])("%s and %s are two", (a, b) => {
    expect(stems(a)).not.toBe(stems(b));
  });
});

describe("the same matter", () => {
  test.each<[string, readonly string[], readonly string[]]>([
    ["in other words, of the same person", ["Kit Saverell scored, knees or no knees."], ["person Kit Saverell: knees"]],
    ["by the surname alone", ["They say Saverell will rest the knee."], ["person Kit Saverell: knee"]],
    [
      "by the first name, where the whole stands too",
      [`Kit Saverell. ${LONG} Kit and the knee.`],
      ["person Kit Saverell: knee"],
    ],
    ["not by the first name alone", ["A kit for the knee."], []],
    ["spoken by the person", ["Kit Saverell: My knee is better, thank you."], ["person Kit Saverell: knee"]],
    ["not far from the name", [`Kit Saverell was there. ${LONG} Somebody hurt a knee.`], []],
    ["not of somebody else", ["Osmund Tarrick has a sore back and a bad knee."], []],
    ["not what is said of anybody", ["Kit Saverell will start."], []],
    ["not in another segment than the name", ["Kit Saverell was there."], []],
    [
      "the same words in a row, without a name",
      ["He always has a sore knee, they say."],
      ["words: always has a sore knee"],
    ],
    ["not a turn of phrase", ["In other news, he will start."], []],
    ["not a role", ["Bran Dunmarrow is the coach."], []],
  ])("%s", (_why, texts, rows) => {
    expect(placesOf(matterIn(evening(KNEE)), other(texts)).map(rowOf)).toEqual(rows);
  });

  test("is not sure where only a word is shared that was said once", () => {
    const once = evening(["Kit Saverell has a hurt ankle."]);
    expect(placesOf(matterIn(once), other(["Kit Saverell showed his ankle."])).map(rowOf)).toEqual([
      "person Kit Saverell: ankle?",
    ]);
  });

  test("who presents or is credited is named every evening", () => {
    const own = evening(["Tamsin Hathersay: I am Tamsin Hathersay, and my knee is sore.", "My knee, my knee."]);
    expect(placesOf(matterIn(own), other(["Tamsin Hathersay: The sore and the knee."]))).toEqual([]);
  });

  test("a name that is in no register counts from two words on", () => {
    const own = evening(["Orla Venneck has a sore knee. A very sore knee."]);
    expect(placesOf(matterIn(own), other(["They saw Orla Venneck, with her knee."])).map(rowOf)).toEqual([
      "person Orla Venneck: knee",
    ]);
  });

  test("what the evenings around say every time tells nothing", () => {
    const [own, again] = [evening(["Kit Saverell scored a goal."]), other(["Kit Saverell scored a goal again."])];
    const usual = (stems: readonly string[]) =>
      new Map(Array.from({ length: 20 }, (_, n) => [`2026-09-${n + 1}`, new Set(stems)] as const));
    expect(placesOf(matterIn(own, usual([])), again)).toHaveLength(1);
    expect(placesOf(matterIn(own, usual(["goal", "scor", "score"].map(LANGUAGE.stems))), again)).toEqual([]);
  });

  test("what the withdrawn words are about is found though it runs for weeks", () => {
    const usual = new Map(Array.from({ length: 20 }, (_, n) => [`2026-09-${n + 1}`, new Set(["knee"])] as const));
    expect(placesOf(matterIn(evening(KNEE), usual), other(["Saverell rests the knee."])).map(rowOf)).toEqual([
      "person Kit Saverell: knee?",
    ]);
  });

  test("the episode that is looked at is none of the evenings around it", () => {
    const usual = new Map([["2026-10-07", new Set(["knee"])]]);
    expect(placesOf(matterIn(evening(KNEE), usual), other(["Kit Saverell and the knee."]))).toHaveLength(1);
  });

  test("is found in titles, summaries, notes and corrections", () => {
    const [first] = other(["Nothing."]).segments;
    if (first === undefined) throw new Error("no segment");
    const correction: Correction = {
      ...withdrawal("a"),
      kind: "update",
      said: null,
      every: false,
      note: "Saverell's knee is better.",
      id: "2026-10-08-1",
    };
    const told = other(["Nothing."], {
      title: "Kit Saverell's knee",
      notes: "Thanks to all.\n\nKit Saverell and the knee.",
      segments: [{ ...first, summary: "Kit Saverell rests a knee." }],
      corrections: [correction],
    });
    const places = placesOf(matterIn(evening(KNEE)), told);
    expect(places.map(({ text, segment, episode }) => [text?.kind, text?.correction, segment, episode]).sort()).toEqual(
      [
        ["note", "2026-10-08-1", "a", "2026-10-07"],
        ["notes", null, null, "2026-10-07"],
        ["summary", null, "a", "2026-10-07"],
        ["title", null, null, "2026-10-07"],
      ].sort(),
    );
  });

  test("is found in the headlines of the same evening, though they name nobody", () => {
    const headlines = "Headlines follow. A skipper admits that he damaged the cable. And then the weather.";
    const own = episodeOf(
      [
        ...turnsOf([headlines], "headlines"),
        ...turnsOf(["The trawler's skipper admitted damaging the power cable."]),
        ...turnsOf(["A light wind, and the cable car is closed."], "weather"),
      ],
      { corrections: [withdrawal("a")] },
    );
    const places = placesOf(matterIn(own), own);
    expect(places.map(({ segment, reason }) => [segment, reason.by])).toEqual([["headlines", "announced"]]);
    expect(placesOf(matterIn(own), other([headlines])).map(({ reason }) => reason.by)).not.toContain("announced");
  });

  test("what may not be given is no place: it is withdrawn itself, or withheld", () => {
    const told = other(["Kit Saverell and the sore knee."]);
    const [first] = told.segments;
    if (first === undefined) throw new Error("no segment");
    const rights = { withheld: true, until: null, holder: null, show: "nothing" } as const;
    expect(placesOf(matterIn(evening(KNEE)), told)).toHaveLength(1);
    expect(placesOf(matterIn(evening(KNEE)), { ...told, corrections: [withdrawal("a")] })).toEqual([]);
    expect(placesOf(matterIn(evening(KNEE)), { ...told, segments: [{ ...first, rights }] })).toEqual([]);
  });
});

describe("what was withdrawn", () => {
  const replaced: Correction = {
    ...withdrawal("a"),
    kind: "transcript",
    id: "2026-10-06-1",
    dated: "2026-10-06T09:00:00.000+01:00",
    said: "sore knee",
    now: "broken wrist",
    every: true,
  };

  test.each([
    ["as it stood", "They say Saverell has a broken wrist."],
    ["as first published", "They say Saverell has a sore knee."],
  ])("is known %s", (_why, text) => {
    expect(placesOf(matterIn(evening(KNEE, { corrections: [replaced] })), other([text]))).toHaveLength(1);
  });

  test("where its words were cut out, is known by its title and summary", () => {
    const own = evening(["A sore knee."]);
    const bare = {
      ...own,
      cues: own.cues.filter(({ start }) => start >= (own.segments[1]?.in ?? 0)),
      segments: own.segments.map((one) => (one.slug === "a" ? { ...one, title: "Kit Saverell's sore knee" } : one)),
    };
    expect(placesOf(matterIn(bare), other(["Kit Saverell rests the knee."]))).toHaveLength(1);
  });

  test("where those are gone too, is known by the withdrawal's note", () => {
    const own = episodeOf(turnsOf(["That is all."], "z"), {
      corrections: [withdrawal(null, "About Kit Saverell's knee.")],
    });
    const bare = { ...own, cues: [], segments: [], title: "Withdrawn" };
    expect(placesOf(matterIn(bare), other(["Kit Saverell rests the knee."]))).toHaveLength(1);
  });

  test("withheld is not withdrawn", () => {
    expect(withdrawnTextsOf(other(KNEE), AT_LAST, { reissued: new Set(), withdrawn: [] }, [])).toEqual([]);
  });
});

test.each<[string, readonly number[], boolean]>([
  ["five with one that tells much", [0, 0, 1, 0, 0], true],
  ["five that tell little each", [0.3, 0.3, 0.3, 0.3, 0.3], false],
  ["three that tell", [0.9, 0.9, 0], true],
  ["three with one", [1, 0, 0], false],
  ["two", [1, 1], false],
])("words in a row: %s", (_why, telling, is) => {
  expect(isRun(telling)).toBe(is);
});

describe("a file in which a place would be found is never passed over", () => {
  const whole = matterIn(evening(KNEE));
  const words = [
    ..."kit Kit saverell Saverell’s sore knee knees the a has always and he will start board met, doors.".split(" "),
    ...["always has a sore knee", "has a sore", "the harbour board met"],
  ];

  test.each<[string, Matter, readonly string[]]>([
    ["for a name", whole, ["Kit Saverell", "Some Speaker"]],
    ["for words in a row", { ...whole, persons: [] }, ["Some Speaker", "Ilse Marrane"]],
  ])("%s", (_why, matter, voices) => {
    const hints = hintsOf([matter], LANGUAGE.stems);
    const turn = fc.tuple(
      fc.constantFrom(...voices),
      fc.array(fc.constantFrom(...words), { minLength: 1, maxLength: 9 }),
    );
    let found = 0;
    fc.assert(
      fc.property(fc.array(turn, { minLength: 1, maxLength: 12 }), (turns) => {
        const told = other(turns.map(([voice, own]) => `${voice}: ${own.join(" ")}`));
        if (placesOf(matter, told).length === 0) return;
        found += 1;
        const cues = told.cues.map(({ start, end, pieces }) => ({ start, end, pieces }));
        expect(mayStandIn(composeCaptions({ cues }), hints)).toBe(true);
      }),
      { numRuns: 400 },
    );
    expect(found).toBeGreaterThan(10);
    expect(mayStandIn("WEBVTT\n\n00:00.000 --> 00:04.000\nNothing of the kind.\n", hints)).toBe(false);
  });

  test.each([
    [
      "over two cues with names, settings and a comment",
      "1\n00:00.000 --> 00:04.000 align:start\n<v Some Speaker>always has a\n\nNOTE a word\n\n2\n00:04.000 --> 00:09.000 line:84%\n<v Ilse Marrane>sore knee</v>",
    ],
    ["in capitals", "00:00.000 --> 00:04.000\nALWAYS HAS A SORE KNEE"],
    ["with other line ends", "00:00.000 --> 00:04.000\nalways has\r\n\r\n00:04.000 --> 00:09.000\r\na sore knee"],
    ["with a letter as a reference", "00:00.000 --> 00:04.000\nalways has a sore kn&#101;e"],
  ])("words in a row %s", (_why, text) => {
    expect(mayStandIn(`WEBVTT\n\n${text}\n`, hintsOf([{ ...whole, persons: [] }], LANGUAGE.stems))).toBe(true);
  });
});

describe("what can be done", () => {
  const whose = {
    clock: "aired",
    cuts: [],
    published: true,
    url: "https://tide.example.org/",
    file: "content/a.vtt:3",
    flags: "",
  } as const;
  const placeIn = (more: Partial<Episode>, texts = ["Kit Saverell and the sore knee."]): SamePlace => {
    const [place] = placesOf(matterIn(evening(KNEE)), other(texts, more));
    if (place === undefined) throw new Error("no place");
    return place;
  };

  test("of words in a segment: the page at its moment, and the withdrawal", () => {
    expect(stepsFor(placeIn({}), whose)).toEqual({
      steps: [
        { verb: "look", what: "https://tide.example.org/2026-10-07/a/#t=1" },
        { verb: "take away", what: "npx afterair correct 2026-10-07 --kind withdrawal --segment a" },
      ],
      caution: expect.stringContaining("Words can't be withdrawn by themselves"),
    });
  });

  test("of a title: the change, and what it leaves", () => {
    const { steps, caution } = stepsFor(placeIn({ title: "Kit Saverell's sore knee" }, ["Nothing."]), whose);
    expect(steps.map(({ what }) => what)).toEqual([
      "https://tide.example.org/2026-10-07/",
      "npx afterair correct 2026-10-07 --kind page --field title",
      "npx afterair correct 2026-10-07 --kind withdrawal",
    ]);
    expect(caution).toContain("stays readable");
  });

  test("of an unpublished episode: the file and its line", () => {
    const { steps } = stepsFor(placeIn({}), { ...whose, published: false });
    expect(steps).toEqual([{ verb: "edit", what: "content/a.vtt:3" }]);
  });

  test("of notes: no correction reaches them", () => {
    const { steps } = stepsFor(placeIn({ notes: "Kit Saverell's sore knee" }, ["Nothing."]), whose);
    expect(steps.map(({ verb }) => verb)).toEqual(["look", "edit", "publish", "take away"]);
  });
});
