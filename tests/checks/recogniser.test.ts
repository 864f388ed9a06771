import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkEpisode } from "../../src/checks/index.ts";
import type { Episode, TranscriptCue } from "../../src/model/episode.ts";
import { clockMs } from "../../src/model/units.ts";
import { cue, cutsOf, segment } from "../support/episodes.ts";
import { SOMEWHERE } from "./measure/archive.ts";
import { subjectWith, toldBy, turnsOf } from "./support.ts";

const again = (phrase: string, times: number) => Array.from({ length: times }, () => phrase).join(" ");
const told = (rule: string, text: string) => toldBy(rule, turnsOf([text]));

describe("phrase-loops", () => {
  test.each([
    [
      "a sentence three times",
      "So we begin. Stay with us awhile. Stay with us awhile. Stay with us awhile. And on.",
      1,
    ],
    ["capitals and stops make no difference", "Thank you. thank you thank YOU, thank you", 1],
    ["a long phrase three times", again("it was the end of the day when the boats came home", 3), 1],
    ["a word six times", again("dance", 6), 1],
    ["people say a word three times", "No, no, no, it is not so.", 0],
    ["and a pair twice", "I know, I know what you mean.", 0],
    ["a sentence twice is for another rule", "Stay with us awhile. Stay with us awhile. And on.", 0],
    ["two loops", `${again("on and on", 5)} but then ${again("up we went", 4)}`, 2],
    ["nothing", "", 0],
  ])("%s", async (_why, text, times) => {
    expect(await told("phrase-loops", text)).toHaveLength(times);
  });

  test("says what, how often and until when", async () => {
    expect(await told("phrase-loops", `${again("Stay with us awhile.", 11)} And on.`)).toEqual([
      "“Stay with us awhile” comes 11 times without a word between, until 0:16.",
    ]);
  });

  // What grows faster than in proportion is found by the bench, not by a clock here.
  test("a line of 40,000 equal words is one loop", async () => {
    expect(await told("phrase-loops", again("word", 40_000))).toHaveLength(1);
  });
});

describe("sentence-said-twice", () => {
  const begins = "It expects to save nearly four hundred and forty thousand crowns";
  test.each([
    ["another ending", [`${begins} by the end of March. ${begins} before the winter is over.`], 1],
    ["the same ending", ["We looked at every boat there is. We looked at every boat there is."], 1],
    ["one sentence later", [`${begins} by the spring. Yes. ${begins} by the spring.`], 1],
    ["three sentences later", [`${begins} by the spring. Yes. No. Perhaps. ${begins} by the spring.`], 0],
    ["another speaker asks back", [`Ilse Marrane: ${begins} by March.`, `Jonty Brask: ${begins} by March?`], 0],
    ["a short answer", ["Thank you. Thank you."], 0],
    ["a figure of speech", ["We will not rest until it is done. We will not stop until they are home."], 0],
    ["a loop is told of once, as a loop", [again("We looked at every boat there is.", 5)], 0],
  ])("%s", async (_why, texts, times) => {
    expect(await toldBy("sentence-said-twice", turnsOf(texts))).toHaveLength(times);
  });
});

describe("stock-line", () => {
  test.each([
    ["a credit", "Subtitles by the Northern Caption Union.", 1],
    ["a credit with a colon", "Transcript: Northern Caption Union, volunteer team 4.", 1],
    ["thanks", "Thank you for watching.", 1],
    ["of no known wording", "Captioning services provided by the Northern Caption Union.", 1],
    ["by courtesy", "Subtitles and translation courtesy of Ostwick Words.", 1],
    ["with its tool", "Closed captions and transcript from Team 4.", 1],
    ["surtitles", "English surtitles kindly made possible by Ostwick Opera.", 1],
    ["a report about them", "The subtitles by Ostwick Words were late.", 0],
    ["a transcript of a court", "The transcript from Sollen shows that he lied.", 0],
    ["by nobody with a name", "Captions for the photographs by noon.", 0],
    ["a long one", `Translations of it by Ilse Marrane${" and others".repeat(8)}.`, 0],
    ["in the middle of a sentence", "The film has subtitles by volunteers.", 0],
    ["the word as another", "Transcript pages were lost.", 0],
    ["thanks of a radio programme", "Thank you for listening.", 0],
  ])("%s", async (_why, text, times) => {
    expect(await told("stock-line", text)).toHaveLength(times);
  });

  test("the programme changes the list", async () => {
    const watch = { stock: { add: ["Thank you for listening"], drop: ["subtitles by"] } };
    const own = (text: string) => toldBy("stock-line", turnsOf([text]), { programme: { watch } });
    expect(await own("Thank you for listening.")).toHaveLength(1);
    expect(await own("Subtitles by the Northern Caption Union.")).toHaveLength(0);
  });
});

const withCues = async (rule: string, cues: readonly TranscriptCue[], more: Partial<Episode> = {}) => {
  const end = cues.at(-1)?.end ?? 0;
  const segments = [{ ...segment("a", "0:00", "9:00"), out: end as TranscriptCue["end"] }];
  const subject = await subjectWith([], { episode: { cues, segments, ...more } });
  return checkEpisode(subject).filter((finding) => finding.rule === rule);
};
const words = (count: number) => again("word and", count / 2).trim();

/** Captions that begin and end at one moment. */
const stalledAt = (from: string, to: string, captions: number, count: number, voices = ["A Speaker"]) =>
  Array.from({ length: captions }, (_, n) => cue(from, to, voices[n % voices.length] ?? null, words(count)));
const TWO = ["Ilse Marrane", "Jonty Brask"];

describe("times-stalled", () => {
  test.each<[string, readonly TranscriptCue[], number]>([
    ["72 words in two seconds", [cue("0:00", "0:02", null, words(72))], 1],
    [
      "as captions of half a second",
      [cue("0:00", "0:00.5", null, words(18)), cue("0:00.5", "0:01", null, words(18))],
      1,
    ],
    [
      "short captions, a tenth of a second each",
      [0, 1, 2].map((n) => cue(`0:01.${n}`, `0:01.${n + 1}`, null, words(4))),
      1,
    ],
    ["four captions at one moment", stalledAt("0:10", "0:11", 4, 4), 1],
    ["of several people", stalledAt("0:10", "0:11", 4, 4, TWO), 1],
    ["a lump's time twice", stalledAt("0:10", "0:40", 2, 60), 1],
    [
      "two stalls",
      [...stalledAt("0:10", "0:40", 2, 60), cue("0:40", "0:44", null, words(8)), ...stalledAt("0:50", "0:59", 2, 20)],
      2,
    ],
    ["two people at once", stalledAt("0:10", "0:14", 2, 10, TWO), 0],
    ["one after the other", [cue("0:10", "0:14", null, words(10)), cue("0:14", "0:18", null, words(10))], 0],
    [
      "the next begins a little before the end",
      [cue("0:10", "0:14", null, words(10)), cue("0:13.5", "0:18", null, words(10))],
      0,
    ],
    ["one short word in no time", [cue("0:10", "0:10.1", null, "No."), cue("0:10.1", "0:14", null, words(10))], 0],
    [
      "two at two places of the picture",
      stalledAt("0:10", "0:14", 2, 10).map((own, n) => ({ ...own, settings: `line:${n}` })),
      0,
    ],
    [
      "sounds at one moment",
      ["[Waves]", "[Bells ring over the whole harbour]", "[Gulls]"].map((text) => cue("0:10", "0:11", null, text)),
      0,
    ],
    ["nothing", [], 0],
  ])("%s", async (_why, cues, times) => {
    expect(await withCues("times-stalled", cues)).toHaveLength(times);
  });

  test("says where, which words, and how to mend it", async () => {
    const late = cue("0:40", "0:44", null, words(12));
    const [stall] = await withCues("times-stalled", [
      cue("0:00", "0:10", null, words(24)),
      cue("0:10", "0:12", null, `Off ${words(50)}`),
      late,
    ]);
    expect(stall?.says).toBe(
      "51 words stand from 0:10 to 0:12, more than anybody can say, and nothing from 0:12 to 0:40: the times stand still. " +
        "The words: “Off word and word” to “word and word and”.",
    );
    expect(stall?.mend).toContain("retime 2026-10-05");
    const [moment] = await withCues("times-stalled", stalledAt("0:10", "0:11", 4, 4));
    expect(moment?.says).toMatch(/^4 captions with 16 words begin at one moment, 0:10: /);
  });

  test("what is published is not to be retimed", async () => {
    const subject = await subjectWith([], { episode: { cues: stalledAt("0:10", "0:11", 4, 4) } });
    const findings = checkEpisode({ ...subject, published: true }).filter(({ rule }) => rule === "times-stalled");
    expect(findings.map(({ mend }) => mend).join()).toMatch(/--reissue/);
  });

  test("a correction of the words leaves their times as they are", async () => {
    const subject = await subjectWith([], { episode: { cues: stalledAt("0:10", "0:11", 4, 4) } });
    const noted = new Map(
      [...subject.spoken.inCue].map(([own, all]) => [own, all.map((word) => ({ ...word, noted: true }))]),
    );
    const findings = checkEpisode({ ...subject, spoken: { ...subject.spoken, inCue: noted } });
    expect(findings.filter(({ rule }) => rule === "times-stalled")).toHaveLength(1);
  });

  /** Words at 150 a minute, captions of 2 to 6 seconds, by two people in turns. */
  const usual = fc
    .array(fc.tuple(fc.integer({ min: 2000, max: 6000 }), fc.boolean()), { minLength: 12, maxLength: 40 })
    .map((captions) => {
      let at = 0;
      return captions.map(([long, isFirst]) => {
        const own = cue("0:00", "0:01", isFirst ? "Ilse Marrane" : "Jonty Brask", words(2 * Math.floor(long / 800)));
        at += long;
        return { ...own, start: clockMs(at - long), end: clockMs(at) };
      });
    });

  test("captions at a usual pace never stall, and any four of them put at one moment do", async () => {
    await fc.assert(
      fc.asyncProperty(usual, fc.nat({ max: 7 }), async (cues, from) => {
        expect(await withCues("times-stalled", cues)).toEqual([]);
        const start = cues[from]?.start ?? clockMs(0);
        const stalled = cues.map((own, n) => (n > from && n < from + 4 ? { ...own, start } : own));
        expect(await withCues("times-stalled", stalled)).toHaveLength(1);
      }),
      { numRuns: 40 },
    );
  });
});

describe("times-even", () => {
  const even = (count: number, step: number, sizes: readonly number[], long = step) =>
    Array.from({ length: count }, (_, n) => {
      const own = cue("0:00", "0:01", null, words(sizes[n % sizes.length] ?? 2));
      return { ...own, start: clockMs(n * step), end: clockMs(n * step + long) };
    });
  const SIZES = [4, 16, 8, 12];
  test.each<[string, readonly TranscriptCue[], number]>([
    ["twelve of five seconds", even(12, 5000, SIZES), 1],
    ["with a pause after each", even(12, 5000, SIZES, 4000), 1],
    [
      "rounded to frames",
      even(12, 5000, SIZES).map((own, n) => ({ ...own, start: clockMs(own.start + (n % 2) * 20) })),
      1,
    ],
    [
      "then again, at another step",
      [
        ...even(12, 5000, SIZES),
        ...even(12, 3000, SIZES).map((own) => ({
          ...own,
          start: clockMs(own.start + 60_000),
          end: clockMs(own.end + 60_000),
        })),
      ],
      2,
    ],
    ["nine", even(9, 5000, SIZES), 0],
    ["counted aloud", even(12, 1000, [2]), 0],
    [
      "of equal length, but at times of their own",
      even(12, 5000, SIZES, 4000).map((own, n) => ({
        ...own,
        start: clockMs(own.start + (n % 3) * 400),
        end: clockMs(own.end + (n % 3) * 400),
      })),
      0,
    ],
    [
      "in even steps, each as long as its words",
      even(12, 7000, SIZES).map((own, n) => ({ ...own, end: clockMs(own.start + 400 * (SIZES[n % 4] ?? 0)) })),
      0,
    ],
    [
      "sounds",
      even(12, 5000, SIZES).map((own, n) => ({
        ...own,
        pieces: [{ voice: null, language: null, words: n % 2 ? "[Waves]" : "[Bells ring over the whole harbour]" }],
      })),
      0,
    ],
  ])("%s", async (_why, cues, times) => {
    expect(await withCues("times-even", cues)).toHaveLength(times);
  });

  test("says where and of how many words", async () => {
    const [row] = await withCues("times-even", even(12, 5000, SIZES));
    expect(row?.says).toBe(
      "12 captions from 0:00 to 1:00 begin every 5 s, whether they have 4 words or 16: a clock's times, and no speaker's.",
    );
    expect(row?.mend).toContain("retime");
  });
});

describe("pace", () => {
  test.each([
    ["half a minute at 240", "pace-too-fast", [cue("0:00", "0:31", null, words(124))], 1],
    ["half a minute at 220", "pace-too-fast", [cue("0:00", "0:31", null, words(112))], 0],
    ["a quick caption", "pace-too-fast", [cue("0:00", "0:03", null, words(14))], 0],
    ["a stall is another rule's", "pace-too-fast", [cue("0:00", "0:02", null, words(72))], 0],
    ["stalled captions have no pace", "pace-too-fast", stalledAt("0:10", "0:40", 4, 60), 0],
    ["six words in twenty seconds", "pace-too-slow", [cue("0:00", "0:20", null, words(6))], 1],
    ["at news pace", "pace-too-slow", [cue("0:00", "0:20", null, words(50))], 0],
    ["a short slow caption", "pace-too-slow", [cue("0:00", "0:05", null, words(2))], 0],
    ["a sound may stand long", "pace-too-slow", [cue("0:00", "0:20", null, "[Waves]")], 0],
  ])("%s", async (_why, rule, cues, times) => {
    expect(await withCues(rule, cues)).toHaveLength(times);
  });
});

describe("stretch-missing", () => {
  const before = cue("0:00", "0:10", null, words(26));
  const after = cue("0:34", "0:40", null, words(16));
  test.each([
    ["24 seconds without a cue", [before, after], {}, 1],
    ["a sound stands there", [before, cue("0:10", "0:34", null, "[Waves]"), after], {}, 0],
    ["it was cut from the recording", [before, after], { cuts: cutsOf([[10_000, 34_000]]) }, 0],
    [
      "it is the break",
      [before, after],
      {
        segments: [
          segment("a", "0:00", "0:10"),
          segment("b", "0:10", "0:34", { kind: "break" }),
          segment("c", "0:34", "0:40"),
        ],
      },
      0,
    ],
    ["before the first cue", [after], {}, 1],
    ["no cues at all are another's fault", [], {}, 0],
    ["the words of it stalled just before", [before, cue("0:10", "0:12", null, words(50)), after], {}, 0],
    ["or just after", [before, cue("0:32", "0:34", null, words(50)), after], {}, 0],
    ["too few words stalled to fill it", [before, cue("0:10", "0:10.4", null, words(8)), after], {}, 1],
  ])("%s", async (_why, cues, more, times) => {
    expect(await withCues("stretch-missing", cues, more as Partial<Episode>)).toHaveLength(times);
  });
});

describe("words-in-break", () => {
  const segments = [
    segment("a", "0:00", "0:10"),
    segment("b", "0:10", "0:34", { kind: "break" }),
    segment("c", "0:34", "1:00"),
  ];
  const cut = (from: number, to: number, why: string) => ({ from: clockMs(from), to: clockMs(to), why, at: SOMEWHERE });
  test.each<[string, readonly TranscriptCue[], Partial<Episode>, readonly string[]]>([
    [
      "words in the break, told as one",
      [cue("0:11", "0:14", null, "And now the news."), cue("0:15", "0:16", null, "Stay.")],
      {},
      ["5 words stand in the break “About b”, from “And now the news. Stay”."],
    ],
    ["one word", [cue("0:11", "0:14", null, "Stay.")], {}, ["“Stay” stands in the break “About b”."]],
    ["the end of what was said before", [cue("0:08", "0:11", null, "And now the news.")], {}, []],
    [
      "mostly in it",
      [cue("0:09", "0:14", null, "And now.")],
      {},
      ["2 words stand in the break “About b”, from “And now”."],
    ],
    ["a sound", [cue("0:11", "0:20", null, "[Music]")], {}, []],
    [
      "a cut that is called a break, and no segment is one",
      [cue("0:41", "0:44", null, "And now the news.")],
      { cuts: [cut(40_000, 50_000, "break")] },
      ["4 words stand in the break that was cut from 0:40 to 0:50, from “And now the news”."],
    ],
    [
      "a segment that was cut out whole keeps its words",
      [cue("0:41", "0:44", null, "And now the news.")],
      { cuts: [cut(34_000, 60_000, "rights")] },
      [],
    ],
    [
      "over a cut: the words that fall into it",
      [cue("0:38", "0:42", null, "And now comes the news.")],
      { cuts: [cut(40_000, 50_000, "rights")] },
      ["2 words stand in a caption that lies over the cut at 0:40, and fall into it, from “the news”."],
    ],
    [
      "over a cut by less than a word",
      [cue("0:38", "0:40.080", null, "And now comes the news.")],
      { cuts: [cut(40_000, 50_000, "rights")] },
      [],
    ],
    [
      "the recording's own clock has no cuts",
      [cue("0:38", "0:42", null, "And now comes the news.")],
      { clock: "media", cuts: [cut(40_000, 50_000, "rights")] },
      [],
    ],
  ])("%s", async (_why, cues, more, says) => {
    const found = await withCues("words-in-break", cues, { segments, ...more });
    expect(found.map((finding) => finding.says)).toEqual(says);
    expect(found.every(({ level, at }) => level === "blocks" && at.line > 1)).toBe(true);
  });

  test("published, it warns, and its mend can be done", async () => {
    const cues = [cue("0:11", "0:14", null, "And now the news.")];
    const subject = await subjectWith([], { episode: { cues, segments } });
    const [own] = checkEpisode({ ...subject, published: true }).filter(({ rule }) => rule === "words-in-break");
    expect(own?.level).toBe("warns");
    expect(own?.mend).toContain("afterair correct");
    expect(own?.mend).not.toContain("Delete");
  });
});

test.each([
  ["of nobody", [cue("0:00", "0:09", null, "[Music]"), cue("0:01", "0:03", null, "Stay with us.")], 1],
  ["of somebody", [cue("0:00", "0:09", null, "[Music]"), cue("0:01", "0:03", "Ilse Marrane", "Stay with us.")], 0],
  ["under waves", [cue("0:00", "0:09", null, "[Waves]"), cue("0:01", "0:03", null, "Stay with us.")], 0],
])("words-under-music: %s", async (_why, cues, times) => {
  expect(await withCues("words-under-music", cues, {})).toHaveLength(times);
});

test("words-under-music: of somebody who is only proposed", async () => {
  const own = cue("0:01", "0:03", "Ilse Marrane", "Stay with us.");
  const proposed = { ...own, pieces: own.pieces.map((piece) => ({ ...piece, proposed: true as const })) };
  const found = await withCues("words-under-music", [cue("0:00", "0:09", null, "[Music]"), proposed]);
  expect(found.map(({ says }) => says)).toEqual([
    "“Stay with us” stands under [Music], and nobody is known to say it.",
  ]);
});

test("speech-outside-segments: before the first in point it may be music's", async () => {
  const segments = [{ ...segment("a", "0:08", "9:00"), out: clockMs(20_000) }];
  const cues = [cue("0:01", "0:03", null, "Stay with us."), cue("0:08", "0:20", null, "Good evening.")];
  const [found, ...more] = await withCues("speech-outside-segments", cues, { segments });
  expect(more).toEqual([]);
  expect(found?.says).toBe("3 words stand before the first in point, from “Stay with us”.");
  expect(found?.mend).toContain("music");
});
