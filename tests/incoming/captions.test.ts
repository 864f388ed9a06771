import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { hasOddParity } from "../../src/read/incoming/line21.ts";
import type { RawFormat } from "../../src/read/incoming/reading.ts";
import { rawFrom, rulesOf } from "./raw.ts";

const seen = (text: string) => {
  const raw = rawFrom(text);
  return {
    format: raw.format,
    blocks: raw.rawBlocks.map(({ start, end, voice, text: words }) => [start, end, voice, words]),
  };
};

describe("captions as stations have them", () => {
  test.each<[string, RawFormat, string, (number | string | null)[][]]>([
    [
      "SubRip without milliseconds",
      "SubRip",
      '1\n00:00:01 --> 00:00:03\n<font color="#fff">Good</font> evening\n',
      [[1000, 3000, null, "Good evening"]],
    ],
    ["SBV", "SBV", "0:00:01.000,0:00:03.000\nGood\nevening\n", [[1000, 3000, null, "Good evening"]]],
    [
      "ASS: its own order of fields, overrides, commas, drawings",
      "ASS",
      "[Script Info]\n\n[Events]\nFormat: Start, End, Name, Text\nDialogue: 0:00:01.00,0:00:03.50,ILSE MARRANE,{\\i1}Good{\\i0} evening,\\Nand welcome\nDialogue: 0:00:04.00,0:00:05.00,,{\\p1}m 0 0{\\p0}\n",
      [[1000, 3500, "Ilse Marrane", "Good evening, and welcome"]],
    ],
    [
      "a table with names, in seconds",
      "table",
      "start\tend\ttext\n0.5\t1.5\tGood evening\n2\t3\tThe ferry\n",
      [
        [500, 1500, null, "Good evening"],
        [2000, 3000, null, "The ferry"],
      ],
    ],
    [
      "milliseconds by name, a comma in quotation marks",
      "table",
      'Start (ms),Speaker,Text\n500,Speaker 1,"Good evening, all"\n',
      [[500, null, "Speaker 1", "Good evening, all"]],
    ],
    [
      "no names, clock times",
      "table",
      "00:00:01,00:00:02,Good evening\n00:00:03,00:00:04,The ferry, today\n",
      [
        [1000, 2000, null, "Good evening"],
        [3000, 4000, null, "The ferry, today"],
      ],
    ],
    [
      "names and times above paragraphs",
      "timed text",
      "Speaker 1 (0:01)\nGood evening\n\nSpeaker 2 (0:04)\nAfter the break: football\n",
      [
        [1000, null, "Speaker 1", "Good evening"],
        [4000, null, "Speaker 2", "After the break: football"],
      ],
    ],
    [
      "times without brackets",
      "timed text",
      "0:01 Good evening\n0:04 - The ferry\n",
      [
        [1000, null, null, "Good evening"],
        [4000, null, null, "The ferry"],
      ],
    ],
    [
      "prose with commas and a time",
      "plain text",
      "At 18:30 the ferry, as ever, left.\nNobody saw it.\n",
      [[null, null, null, "At 18:30 the ferry, as ever, left. Nobody saw it."]],
    ],
  ])("%s", (_why, format, text, blocks) => {
    expect(seen(text)).toEqual({ format, blocks });
  });
});

describe("words in JSON, in whatever they are wrapped", () => {
  const words = [
    [0.5, 0.9, null, "Good"],
    [1, 1.4, null, "evening."],
  ].map(([start, end, ...rest]) => [Number(start) * 1000, Number(end) * 1000, ...rest]);
  test.each([
    [
      "texts with units, the first guess",
      {
        results: [
          {
            alternatives: [
              {
                transcript: "Good evening.",
                words: [
                  { word: "Good", startTime: "0.5s", endTime: "0.9s" },
                  { word: "evening.", startTime: "1.0s", endTime: "1.4s" },
                ],
              },
              { transcript: "Wood" },
            ],
          },
        ],
      },
    ],
    [
      "numbers as texts, punctuation apart",
      {
        results: {
          transcripts: [{ transcript: "Good evening." }],
          items: [
            { start_time: "0.5", end_time: "0.9", alternatives: [{ content: "Good" }] },
            { start_time: "1.0", end_time: "1.4", alternatives: [{ content: "evening" }] },
            { alternatives: [{ content: "." }] },
          ],
        },
      },
    ],
    [
      "a text, and segments with words",
      {
        text: "Good evening.",
        segments: [
          {
            start: 0.5,
            end: 1.4,
            text: " Good evening.",
            words: [
              { word: " Good", start: 0.5, end: 0.9 },
              { word: " evening.", start: 1, end: 1.4 },
            ],
          },
        ],
      },
    ],
    [
      "clock times",
      [
        { text: "Good", from: "00:00:00,500", to: "00:00:00,900" },
        { text: "evening.", from: "00:00:01,000", to: "00:00:01,400" },
      ],
    ],
    [
      "lists of three",
      [
        ["Good", 0.5, 0.9],
        ["evening.", 1.0, 1.4],
      ],
    ],
    [
      "pairs of times",
      {
        chunks: [
          { text: "Good", timestamp: [0.5, 0.9] },
          { text: "evening.", timestamp: [1, 1.4] },
        ],
      },
    ],
    [
      "milliseconds by their keys",
      {
        utterances: [
          {
            words: [
              { text: "Good", start_ms: 500, end_ms: 900 },
              { text: "evening.", start_ms: 1000, end_ms: 1400 },
            ],
          },
        ],
      },
    ],
  ])("%s", (_why, data) => {
    expect(seen(JSON.stringify(data))).toEqual({ format: "word list", blocks: words });
  });

  test("an object a line, and the place of one without a word", () => {
    const raw = rawFrom('{"word":"Good","start":0.5,"end":0.9}\n{"start":0.9,"end":1}\n');
    expect(raw.rawBlocks.map(({ text }) => text)).toEqual(["Good"]);
    expect(raw.findings.find(({ rule }) => rule === "raw-word-unreadable")?.at.line).toBe(2);
  });

  test("words beside those that are read are told, with their number", () => {
    const raw = rawFrom('{"words":[{"word":"one","start":0.1,"end":0.4}],"notes":[{"text":"quite other words"}]}');
    expect(raw.findings.find(({ rule }) => rule === "raw-words-passed-over")?.says).toContain("3 words in `notes`");
  });
});

const TTML = (attributes: string, body: string) =>
  `<?xml version="1.0" encoding="UTF-8"?>\n<tt xmlns="http://www.w3.org/ns/ttml" xmlns:ttm="http://www.w3.org/ns/ttml#metadata" xmlns:ttp="http://www.w3.org/ns/ttml#parameter" xml:lang="en" ${attributes}>${body}</tt>`;

describe("TTML", () => {
  test.each([
    // Outside check: the sample document of TTML1 (W3C), written down from memory: its page could not be reached.
    [
      "the sample of the Recommendation",
      TTML(
        "",
        `<body><div><p xml:id="subtitle1" begin="0.76s" end="3.45s">It seems a paradox, does it not,</p><p begin="5.0s" end="10.0s">that the image formed on<br/>the Retina should be inverted?</p></div></body>`,
      ),
      [
        [760, 3450, null, "It seems a paradox, does it not,"],
        [5000, 10_000, null, "that the image formed on the Retina should be inverted?"],
      ],
    ],
    [
      "times count from the parent's",
      TTML("", `<body begin="10s"><div><p begin="1s" dur="500ms">One</p></div></body>`),
      [[11_000, 11_500, null, "One"]],
    ],
    [
      "a sequence",
      TTML("", `<body><div timeContainer="seq"><p dur="2s">One</p><p dur="3s">Two</p></div></body>`),
      [
        [0, 2000, null, "One"],
        [2000, 5000, null, "Two"],
      ],
    ],
    // Outside check: the parameters and times of frame_rate.xml, test data of Android's public source: 50 frames by 1000/1001.
    [
      "offsets in frames and ticks",
      TTML(
        `ttp:frameRate="50" ttp:frameRateMultiplier="1000 1001" ttp:tickRate="100"`,
        `<body><div><p begin="100t" end="101t">One</p></div><div><p begin="50000f" end="100000f">Two</p></div></body>`,
      ),
      [
        [1000, 1010, null, "One"],
        [1_001_000, 2_002_000, null, "Two"],
      ],
    ],
    [
      "frames and ticks",
      TTML(
        `ttp:frameRate="25" ttp:tickRate="10000000"`,
        `<body><div><p begin="00:00:01:05" end="20000000t">One</p></div></body>`,
      ),
      [[1200, 2000, null, "One"]],
    ],
    // 00:01:00;02 is frame 1800 of SMPTE ST 12-1 drop-frame: 1800 · 1001 / 30 = 60060 ms.
    [
      "drop-frame labels",
      TTML(
        `ttp:timeBase="smpte" ttp:frameRate="30" ttp:frameRateMultiplier="1000 1001" ttp:dropMode="dropNTSC"`,
        `<body><div><p begin="00:01:00:02" end="00:01:02:00">One</p></div></body>`,
      ),
      [[60_060, 61_995, null, "One"]],
    ],
    [
      "speakers by their agents, a timed part",
      TTML(
        "",
        `<head><metadata><ttm:agent xml:id="a1" type="person"><ttm:name type="full">Ilse Marrane</ttm:name></ttm:agent></metadata></head><body><div><p begin="1s" end="4s" ttm:agent="a1">The <span begin="1s">ferry</span></p></div></body>`,
      ),
      [
        [1000, 2000, "Ilse Marrane", "The"],
        [2000, 4000, "Ilse Marrane", "ferry"],
      ],
    ],
  ])("%s", (_why, text, blocks) => {
    expect(seen(text)).toEqual({ format: "TTML", blocks });
  });

  test.each([
    ["not well-formed", `<?xml version="1.0"?>\n<tt><body>\n<p>One</body></tt>`, "raw-not-xml", 3],
    ["no TTML", `<?xml version="1.0"?><rss></rss>`, "raw-xml-unknown", 1],
  ])("%s blocks, with its line", (_why, text, rule, line) => {
    expect(rawFrom(text).findings.map((finding) => [finding.rule, finding.level, finding.at.line])).toEqual([
      [rule, "blocks", line],
    ]);
  });
});

/** Bytes with the parity bit that CEA-608 wants, in fours. */
const pairs = (...bytes: readonly number[]): string => {
  const even = bytes.length % 2 === 0 ? bytes : [...bytes, 0];
  const hex = even.map((byte) => (hasOddParity(byte) ? byte : byte | 0x80).toString(16).padStart(2, "0"));
  return hex.join("").match(/.{4}/g)?.join(" ") ?? "";
};
const ascii = (text: string): readonly number[] => [...text].map((letter) => letter.charCodeAt(0));
const twice = (...code: readonly number[]) => `${pairs(...code)} ${pairs(...code)}`;
const SCC = (...lines: readonly string[]) => `Scenarist_SCC V1.0\n\n${lines.join("\n\n")}\n`;

describe("SCC", () => {
  test("pop-on: shown by its end code, until it is erased; the second of two codes says nothing new", () => {
    // 9420 9420 … 942f 942f is how such files write RCL and EOC; 94ae ENM, 942c EDM.
    const text = SCC(
      `00:00:01;00\t9420 9420 94ae 94ae ${twice(0x14, 0x70)} ${pairs(...ascii("Good evening"))} 942f 942f`,
      "00:00:03;00\t942c 942c",
    );
    // Twelve pairs before the first EOC: frame 30 + 12, at 1001 / 30 ms each; 90 frames to the end.
    expect(seen(text)).toEqual({ format: "SCC", blocks: [[1401, 3003, null, "Good evening"]] });
  });

  test("roll-up: a line until the next carriage return; rows with two lines in order; non-drop", () => {
    const text = SCC(
      `00:00:01:00\t${twice(0x14, 0x25)} ${twice(0x14, 0x2d)} ${twice(0x14, 0x70)} ${pairs(...ascii("Good"))}`,
      `00:00:02:00\t${twice(0x14, 0x25)} ${twice(0x14, 0x2d)} ${twice(0x14, 0x70)} ${pairs(...ascii("evening."))}`,
      "00:00:04:00\t942c 942c",
    );
    expect(seen(text).blocks.map(([, , , words]) => words)).toEqual(["Good", "evening."]);
    expect(seen(text).blocks[1]?.[1]).toBe(4004);
  });

  test("paint-on, a tab, a correction by backspace", () => {
    const text = SCC(
      `00:00:01;00\t${twice(0x14, 0x29)} ${twice(0x14, 0x70)} ${pairs(...ascii("Goox"))} ${twice(0x14, 0x21)} ${pairs(...ascii("d."))}`,
      "00:00:02;00\t942c",
    );
    expect(seen(text).blocks.map(([, , , words]) => words)).toEqual(["Good."]);
  });

  // Outside check: 47 CFR §79.101, "Special Characters": 11h 37h is the music note, 11h 38h à, 39h a transparent space,
  // 3Ah è, 3Fh û. The extended É (12h 21h), which takes the place of the plain letter before it, is CEA-608's.
  test("characters: the basic set's own, special and extended ones", () => {
    const text = SCC(
      `00:00:01;00\t${twice(0x14, 0x29)} ${[0x37, 0x38, 0x39, 0x3a, 0x3f].map((code) => twice(0x11, code)).join(" ")} ${pairs(0x2a, 0x5c)} ${pairs(0x45, 0)} ${twice(0x12, 0x21)} ${pairs(...ascii("tude"))}`,
      "00:00:02;00\t942c",
    );
    expect(seen(text).blocks.map(([, , , words]) => words)).toEqual(["♪à èûáéÉtude"]);
  });

  test("wrong parity, a line that is none, words never shown: told and kept", () => {
    const raw = rawFrom(SCC("00:00:01;00\t9420 9420 4869 ", "nonsense"));
    expect(rulesOf(raw.findings).sort()).toEqual(
      ["raw-empty", "raw-not-shown", "raw-parity", "raw-times-unreadable"].sort(),
    );
    expect(raw.unplaced.map(({ text }) => text).sort()).toEqual(["Hi", "nonsense"]);
  });
});

/** Each format, written the way that its files are. */
const clock = (ms: number, mark = ".") =>
  `${new Date(ms).toISOString().slice(11, 19)}${mark}${String(ms % 1000).padStart(3, "0")}`;
const WRITERS: Readonly<Record<string, (cues: readonly (readonly [number, number, string])[]) => string>> = {
  SubRip: (cues) =>
    cues.map(([from, to, words], n) => `${n + 1}\n${clock(from, ",")} --> ${clock(to, ",")}\n${words}\n`).join("\n"),
  SBV: (cues) => cues.map(([from, to, words]) => `${clock(from)},${clock(to)}\n${words}\n`).join("\n"),
  ASS: (cues) =>
    `[Events]\nFormat: Layer, Start, End, Text\n${cues.map(([from, to, words]) => `Dialogue: 0,${clock(from)},${clock(to)},${words.replace("\n", "\\N")}`).join("\n")}\n`,
  TTML: (cues) =>
    TTML(
      "",
      `<body><div>${cues.map(([from, to, words]) => `<p begin="${clock(from)}" end="${clock(to)}">${words.replaceAll("&", "&amp;").replace("\n", "<br/>")}</p>`).join("")}</div></body>`,
    ),
  table: (cues) =>
    `start,end,text\n${cues.map(([from, to, words]) => `${clock(from)},${clock(to)},"${words.replaceAll('"', '""')}"`).join("\n")}\n`,
  "word list": (cues) =>
    JSON.stringify({ segments: cues.map(([from, to, text]) => ({ start: from / 1000, end: to / 1000, text })) }),
  "timed text": (cues) => cues.map(([from, , words]) => `[${clock(from)}] ${words}`).join("\n\n"),
  SCC: (cues) =>
    SCC(
      ...cues.flatMap(([from, to, words]) => {
        const label = (ms: number) => `${new Date(ms).toISOString().slice(11, 19)}:00`;
        return [
          `${label(from)}\t${twice(0x14, 0x20)} ${twice(0x14, 0x70)} ${pairs(...ascii(words.replace("\n", " ")))} ${twice(0x14, 0x2f)}`,
          `${label(to)}\t${twice(0x14, 0x2c)}`,
        ];
      }),
    ),
};

describe("whatever words go in, the same words come out", () => {
  const word = fc.stringMatching(/^[A-Za-z][a-z']{0,7}[,.?!]?$/);
  const line = fc.array(word, { minLength: 1, maxLength: 6 }).map((words) => words.join(" "));
  const text = fc.array(line, { minLength: 1, maxLength: 2 }).map((lines) => lines.join("\n"));
  const cues = fc
    .array(text, { minLength: 2, maxLength: 12 })
    .map((texts) => texts.map((words, n): readonly [number, number, string] => [n * 10_000, n * 10_000 + 9000, words]));
  test.each(Object.keys(WRITERS))("%s", (format) => {
    fc.assert(
      fc.property(cues, (given) => {
        const raw = rawFrom(WRITERS[format]?.(given) ?? "");
        expect(raw.format).toBe(format);
        const wanted = given.map(([, , words]) => words.replace("\n", " "));
        expect(raw.rawBlocks.map(({ text: words }) => words)).toEqual(wanted);
        expect(raw.unplaced).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });
});
