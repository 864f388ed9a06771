import { describe, expect, test } from "vitest";
import { checkEpisode } from "../../src/checks/index.ts";
import { subjectOf, summaryOf, surroundingsOf } from "../../src/checks/subject.ts";
import type { Episode, Segment } from "../../src/model/episode.ts";
import type { Programme } from "../../src/model/programme.ts";
import { mediaMs } from "../../src/model/units.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { cue, segment } from "../support/episodes.ts";
import { episodeOf, programmeOf } from "./measure/archive.ts";
import { lexicon, REGISTER } from "./support.ts";

interface Given {
  readonly segments: readonly Segment[];
  readonly cues?: Episode["cues"];
  readonly episode?: Partial<Episode>;
  readonly programme?: Partial<Programme>;
  readonly others?: readonly { readonly id: string; readonly segments: readonly Segment[] }[];
  readonly day?: string;
}

function told(
  rule: string,
  { segments, cues = [], episode = {}, programme = {}, others = [], day = "2026-10-12" }: Given,
) {
  const own = episodeOf([], { segments, cues, duration: mediaMs(480_000), ...episode });
  const around = surroundingsOf({
    programme: programmeOf(REGISTER, programme),
    day,
    lexicon,
    archive: summaryOf([...others, own].map(outlineOf)),
    placeOf: ({ at }) => at,
  });
  const laid = layCorrections(own, `${day}T23:59:59Z`);
  return checkEpisode(subjectOf(laid, around))
    .filter((finding) => finding.rule === rule)
    .map(({ says }) => says);
}

const outlineOf = ({ id, segments }: { readonly id: string; readonly segments: readonly Segment[] }) => ({
  id,
  topics: segments.flatMap(({ topics, at }) => topics.map((topic) => ({ topic, at }))),
});

const speech = (from: string, to: string, voice: string | null, words: string) => cue(from, to, voice, words);

describe("structure", () => {
  const [one, next] = [segment("a", "0:00", "0:10"), segment("b", "0:10", "0:20")];
  const two = [one, next];
  const spoken = [speech("0:00", "0:05", "Ilse Marrane", "Good evening.")];

  test.each<[string, string, Given, number]>([
    ["segment-without-speech", "words in one of two", { segments: two, cues: spoken }, 1],
    [
      "segment-without-speech",
      "the break has none",
      { segments: [one, segment("b", "0:10", "0:20", { kind: "break" })], cues: spoken },
      0,
    ],
    ["segment-without-speech", "no words at all are told elsewhere", { segments: two }, 0],
    [
      "speech-outside-segments",
      "after the last",
      { segments: [one], cues: [...spoken, speech("0:12", "0:14", null, "Good night.")] },
      1,
    ],
    ["speech-outside-segments", "all inside", { segments: two, cues: spoken }, 0],
    ["segment-gap", "two seconds", { segments: [segment("a", "0:00", "0:08"), segment("b", "0:10", "0:20")] }, 1],
    ["segment-gap", "half a second", { segments: [segment("a", "0:00", "0:09.500"), segment("b", "0:10", "0:20")] }, 0],
    ["segment-overlap", "two seconds", { segments: [segment("a", "0:00", "0:12"), segment("b", "0:10", "0:20")] }, 1],
    [
      "segment-over-under",
      "95 s for 40",
      { segments: [segment("a", "0:00", "1:35", { planned: segment("x", "0:40", "0:41").in })] },
      1,
    ],
    [
      "segment-over-under",
      "52 s for 40",
      { segments: [segment("a", "0:00", "0:52", { planned: segment("x", "0:40", "0:41").in })] },
      0,
    ],
    ["slot-over-under", "in its slot", { segments: two }, 0],
    ["slot-over-under", "eleven seconds over", { segments: two, episode: { duration: mediaMs(491_000) } }, 1],
    ["slot-over-under", "a minute and more under", { segments: two, episode: { duration: mediaMs(419_000) } }, 1],
    [
      "two-way-one-voice",
      "one voice",
      { segments: [segment("a", "0:00", "0:10", { kind: "two-way" })], cues: spoken },
      1,
    ],
    [
      "two-way-one-voice",
      "two voices",
      {
        segments: [segment("a", "0:00", "0:10", { kind: "two-way" })],
        cues: [...spoken, speech("0:05", "0:08", "Jonty Brask", "Yes.")],
      },
      0,
    ],
    [
      "two-way-one-voice",
      "nobody is named",
      {
        segments: [segment("a", "0:00", "0:10", { kind: "two-way" })],
        cues: [speech("0:00", "0:05", null, "Good evening.")],
      },
      0,
    ],
    [
      "two-way-one-voice",
      "a reader has one",
      { segments: [segment("a", "0:00", "0:10", { kind: "reader" })], cues: spoken },
      0,
    ],
    [
      "speaker-not-in-register",
      "told once",
      {
        segments: two,
        cues: [speech("0:00", "0:05", "A Passenger", "Yes."), speech("0:05", "0:08", "A Passenger", "No.")],
      },
      1,
    ],
    [
      "speaker-not-named",
      "one turn between others, and one at the end",
      {
        segments: [segment("a", "0:00", "0:20")],
        cues: [
          ...spoken,
          speech("0:05", "0:08", null, "No."),
          speech("0:08", "0:09", null, "Never."),
          speech("0:10", "0:12", "Ilse Marrane", "So he says."),
          speech("0:12", "0:14", null, "Yes."),
        ],
      },
      2,
    ],
    [
      "speaker-not-named",
      "a transcript that names nobody",
      { segments: [segment("a", "0:00", "0:10")], cues: [speech("0:00", "0:05", null, "Good evening.")] },
      0,
    ],
    [
      "speaker-not-named",
      "a whole segment, where another one names somebody",
      {
        segments: [segment("a", "0:00", "0:10"), segment("b", "0:10", "0:20")],
        cues: [...spoken, speech("0:10", "0:15", null, "Good evening."), speech("0:15", "0:18", null, "And welcome.")],
      },
      1,
    ],
    [
      "speaker-not-named",
      "what was heard in a break",
      {
        segments: [segment("a", "0:00", "0:10"), segment("b", "0:10", "0:20", { kind: "break" })],
        cues: [...spoken, speech("0:10", "0:15", null, "Time to time.")],
      },
      0,
    ],
    ["speaker-not-named", "all are named", { segments: two, cues: spoken }, 0],
    ["speaker-not-in-register", "registered", { segments: two, cues: spoken }, 0],
    [
      "credit-without-sign-off",
      "never named",
      { segments: [segment("a", "0:00", "0:10", { by: ["Osmund Tarrick"] })], cues: spoken },
      1,
    ],
    [
      "credit-without-sign-off",
      "signed off",
      {
        segments: [segment("a", "0:00", "0:10", { by: ["Osmund Tarrick"] })],
        cues: [speech("0:00", "0:09", "Osmund Tarrick", "It rains. Osmund Tarrick, in Sollen.")],
      },
      0,
    ],
    [
      "credit-without-sign-off",
      "thanked afterwards",
      {
        segments: [segment("a", "0:00", "0:10", { by: ["Osmund Tarrick"] }), next],
        cues: [
          speech("0:00", "0:09", "Osmund Tarrick", "It rains."),
          speech("0:10", "0:12", "Ilse Marrane", "Osmund Tarrick there."),
        ],
      },
      0,
    ],
    [
      "credit-without-sign-off",
      "a raw transcript",
      {
        segments: [segment("a", "0:00", "0:10", { by: ["Osmund Tarrick"] })],
        cues: [speech("0:00", "0:09", null, "it rains")],
      },
      0,
    ],
  ])("%s: %s", (rule, _why, given, times) => {
    expect(told(rule, given)).toHaveLength(times);
  });

  test.each<[string, readonly string[], string, number]>([
    ["a plural", ["ferry", "ferry"], "Ferries", 1],
    ["capitals and hyphens", ["inter-island transport", "inter-island transport"], "Inter island transport", 1],
    ["a letter", ["lighthouses", "lighthouses"], "lighthuses", 1],
    ["the usual one is not told of", ["Ferries", "ferry", "ferry"], "ferry", 0],
    ["short topics differ by a letter", ["sea", "sea"], "tea", 0],
    ["another topic", ["transport", "transport"], "tourism", 0],
  ])("topic-two-spellings: %s", (_why, topics, topic, times) => {
    const others = topics.map((own, n) => ({
      id: `2026-09-0${n + 1}`,
      segments: [segment("x", "0:00", "0:10", { topics: [own] })],
    }));
    expect(
      told("topic-two-spellings", { segments: [segment("a", "0:00", "0:10", { topics: [topic] })], others }),
    ).toHaveLength(times);
  });
});

describe("cautions", () => {
  const rules = ["caution-court", "caution-self-harm", "caution-minors", "caution-graphic", "allegation-named"];
  const said = (text: string, more: Partial<Segment> = {}, programme: Partial<Programme> = {}) => {
    const given = {
      segments: [segment("a", "0:00", "0:10", more)],
      cues: [speech("0:00", "0:09", "Ilse Marrane", text)],
      programme,
    };
    return rules.filter((rule) => told(rule, given).length > 0);
  };

  test.each<[string, string, readonly string[]]>([
    ["a plea", "The skipper pleaded guilty.", ["caution-court"]],
    ["word forms", "Two prosecutors spoke.", ["caution-court"]],
    ["two weaker words", "The judge gave him bail.", ["caution-court"]],
    ["one weaker word", "They met on the tennis court.", []],
    ["self-harm", "He took his own life.", ["caution-self-harm"]],
    ["an age under 18", "A boy aged 12 was there.", ["caution-minors"]],
    ["an adult", "A swimmer aged 19 was there.", []],
    ["graphic matter", "The tortured men came home.", ["caution-graphic"]],
    ["an allegation about a registered person", "Osmund Tarrick is accused of lying.", ["allegation-named"]],
    ["about a stranger with two names", "Then Tovar Quenby was accused of it.", ["allegation-named"]],
    ["about nobody", "The company was accused of it.", []],
    ["nothing", "Fewer ferries this winter.", []],
  ])("%s", (_why, text, found) => {
    expect(said(text)).toEqual(found);
  });

  test("a label answers it", () => {
    expect(said("The skipper pleaded guilty.", { cautions: ["court"] })).toEqual([]);
    expect(said("Osmund Tarrick is accused of fraud.", { cautions: ["court"] })).toEqual([]);
  });

  test("headlines are answered by the label of the segment they announce", () => {
    const segments = [
      segment("h", "0:00", "0:10", { kind: "headlines" }),
      segment("a", "0:10", "0:20", { cautions: ["court"] }),
    ];
    const cues = [speech("0:00", "0:09", "Ilse Marrane", "A skipper pleaded guilty.")];
    expect(told("caution-court", { segments, cues })).toEqual([]);
    expect(told("caution-court", { segments: segments.slice(0, 1), cues })).toHaveLength(1);
  });

  const FRAYNE = "Aldous Frayne pleaded guilty to arson.";
  const QUENBY = "Tovar Quenby is on trial for theft.";
  type Told = readonly [kind: "headlines" | "package" | "close", text: string, cautions?: readonly ["court"]];
  const evening = (texts: readonly Told[]) => ({
    segments: texts.map(([kind, , cautions = []], n) => segment(`s${n}`, `${n}:00`, `${n + 1}:00`, { kind, cautions })),
    cues: texts.map(([, text], n) => speech(`${n}:00`, `${n}:50`, "Ilse Marrane", text)),
  });
  test.each<[string, readonly Told[], readonly (readonly number[])[]]>([
    [
      "a second case in another segment",
      [
        ["package", FRAYNE],
        ["package", QUENBY],
      ],
      [[0], [1]],
    ],
    [
      "a second case beside one with the label",
      [
        ["package", FRAYNE, ["court"]],
        ["package", QUENBY],
      ],
      [[1]],
    ],
    [
      "two cases without names",
      [
        ["package", "A skipper pleaded guilty."],
        ["package", "A clerk is on trial."],
      ],
      [[0], [1]],
    ],
    [
      "one case in two segments, told once",
      [
        ["package", FRAYNE],
        ["package", "The jury believed Frayne."],
      ],
      [[0, 1]],
    ],
    [
      "spelled in two ways",
      [
        ["package", FRAYNE],
        ["package", "Aldous Frane was in the dock."],
      ],
      [[0, 1]],
    ],
    [
      "one case, of which one segment has the label",
      [
        ["package", FRAYNE, ["court"]],
        ["package", "The jury believed Frayne."],
      ],
      [[1]],
    ],
    [
      "two cases with one lawyer",
      [
        ["package", `Perpetua Wyle, for the defence, spoke. ${FRAYNE}`],
        ["package", `Perpetua Wyle, for the defence, spoke. ${QUENBY}`],
      ],
      [[0], [1]],
    ],
    [
      "two cases with one judge",
      [
        ["package", `Judge Edric Cotterby spoke. ${FRAYNE}`],
        ["package", `Judge Edric Cotterby spoke. ${QUENBY}`],
      ],
      [[0], [1]],
    ],
    [
      "two cases with one reporter",
      [
        ["package", `Ilse Marrane reports. ${FRAYNE}`],
        ["package", `Ilse Marrane reports. ${QUENBY}`],
      ],
      [[0], [1]],
    ],
    [
      "headlines of a case that is told of",
      [
        ["headlines", FRAYNE],
        ["package", FRAYNE],
        ["close", FRAYNE],
      ],
      [[1]],
    ],
    [
      "headlines of two cases, one of which nothing else reports",
      [
        ["headlines", `${FRAYNE} ${QUENBY}`],
        ["package", FRAYNE],
      ],
      [[1], [0]],
    ],
    [
      "and which the close has too",
      [
        ["headlines", QUENBY],
        ["package", FRAYNE, ["court"]],
        ["close", QUENBY],
      ],
      [[0]],
    ],
    [
      "headlines that name nobody",
      [
        ["headlines", "A skipper is on trial."],
        ["package", FRAYNE, ["court"]],
      ],
      [],
    ],
    [
      "nothing but headlines",
      [
        ["headlines", QUENBY],
        ["package", "Fewer ferries."],
      ],
      [[0]],
    ],
    [
      "all with the label",
      [
        ["headlines", FRAYNE],
        ["package", FRAYNE, ["court"]],
        ["package", QUENBY, ["court"]],
      ],
      [],
    ],
  ])("%s", (_why, texts, cases) => {
    const said = told("caution-court", evening(texts));
    expect(said.map((says) => [...says.matchAll(/“About s(\d)”/g)].map(([, n]) => Number(n)))).toEqual(cases);
  });

  test("each person of a segment is told of once", () => {
    const text = "Aldous Frayne is accused of fraud. Frayne stole much. Tovar Quenby is accused of it too.";
    const said = told("allegation-named", evening([["package", `${text} So Aldous Frayne lied.`]]));
    expect(said.map((says) => /with ([A-Z a-z]+):/.exec(says)?.[1])).toEqual(["Frayne", "Tovar Quenby"]);
  });

  test("it reminds, points to the station's code and to advice, and the programme changes the list", () => {
    const [says = ""] = told("caution-court", {
      segments: [segment("a", "0:00", "0:10")],
      cues: [speech("0:00", "0:09", null, "He pleaded guilty.")],
    });
    expect(says).toContain("seems to touch a court case (“pleaded guilty”)");
    const watch = { court: { add: ["tribunal*"], drop: ["pleaded guilty"] } };
    expect(said("The tribunals met.", {}, { watch })).toEqual(["caution-court"]);
    expect(said("He pleaded guilty.", {}, { watch })).toEqual([]);
  });
});

describe("rights", () => {
  const rights = { withheld: true, until: "2026-10-20", holder: "An Agency", show: "nothing" } as const;
  const withheld = segment("talks", "0:00", "0:10", { kind: "agency", by: ["Lucan Threave"], rights });
  const cues = [
    speech("0:00", "0:09", "Lucan Threave", "One official told us that the gap between the fleets was closing."),
  ];

  test.each<[string, Given, number]>([
    [
      "in the episode's summary",
      { segments: [withheld], cues, episode: { summary: "The gap between the fleets was closing." } },
      1,
    ],
    [
      "in the notes",
      { segments: [withheld], cues, episode: { notes: "He said:\n\nthe gap *between* the fleets was small." } },
      1,
    ],
    [
      "in another segment's title",
      { segments: [withheld, segment("b", "0:10", "0:20", { title: "Gap between the fleets was closing" })], cues },
      1,
    ],
    ["in other words", { segments: [withheld], cues, episode: { summary: "The two sides came nearer." } }, 0],
    [
      "common words alone",
      {
        segments: [segment("talks", "0:00", "0:10", { rights })],
        cues: [speech("0:00", "0:09", null, "and that is what it was")],
        episode: { summary: "And that is what it was." },
      },
      0,
    ],
    [
      "after the day",
      {
        segments: [withheld],
        cues,
        episode: { summary: "The gap between the fleets was closing." },
        day: "2026-10-20",
      },
      0,
    ],
    [
      "its words may be shown",
      {
        segments: [{ ...withheld, rights: { ...rights, show: "transcript" } }],
        cues,
        episode: { summary: "The gap between the fleets was closing." },
      },
      0,
    ],
  ])("withheld-leaks: %s", (_why, given, times) => {
    expect(told("withheld-leaks", given)).toHaveLength(times);
  });

  test.each<[string, string, readonly string[]]>([
    [
      "eight days before",
      "2026-10-12",
      ["“About talks” is withheld until 2026-10-20: in 8 days it will be shown whole."],
    ],
    ["31 days before", "2026-09-19", []],
    ["the day itself", "2026-10-20", []],
  ])("rights-lapse: %s", (_why, day, says) => {
    expect(told("rights-lapse", { segments: [withheld], cues, day })).toEqual(says);
  });

  test.each<[string, Partial<Segment>, string, number]>([
    ["nobody", {}, "It rains.", 1],
    ["a reporter of no agency", { by: ["Lucan Threave"] }, "It rains.", 1],
    ["an agency that is spoken", { by: ["Lucan Threave"] }, "Lucan Threave, Farwater News Agency, Sollen.", 0],
    ["a holder", { by: ["Lucan Threave"], rights: { ...rights, until: null } }, "It rains.", 0],
    ["a package needs none", { kind: "package" }, "It rains.", 0],
  ])("agency-credit-missing: %s", (_why, more, words, times) => {
    const segments = [segment("a", "0:00", "0:10", { kind: "agency", ...more })];
    expect(told("agency-credit-missing", { segments, cues: [speech("0:00", "0:09", null, words)] })).toHaveLength(
      times,
    );
  });
});
