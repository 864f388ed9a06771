import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CuePiece } from "../../src/model/episode.ts";
import {
  type CaptionCue,
  composeCaptions,
  cuePieces,
  cueText,
  decodeVtt,
  encodingFindings,
  parseCueText,
  parseVtt,
  type VttFile,
  validateVtt,
  voicePieces,
} from "../../src/webvtt/index.ts";
import { drawFile, drawsFrom, mutate } from "./generate.ts";

const KINDS = ["captions", "chapters", "metadata"] as const;

/** Any text of characters, and texts that are nearly WebVTT files. */
const anyText = fc.oneof(
  fc.string({ unit: "binary", maxLength: 60 }),
  fc
    .array(
      fc.constantFrom(
        "WEBVTT",
        "\n",
        "\r",
        "\n\n",
        "-->",
        "00:01.000",
        " ",
        "<v A>",
        "<",
        ">",
        "&",
        "\0",
        "STYLE",
        "REGION",
        "\uD800",
      ),
      { maxLength: 60 },
    )
    .map((pieces) => pieces.join("")),
  fc.nat().map((seed) => mutate(drawFile(drawsFrom(seed)), drawsFrom(seed + 1))),
);

const anyBytes = fc.oneof(
  fc.uint8Array({ maxLength: 200 }),
  fc.tuple(anyText, fc.array(fc.tuple(fc.nat(200), fc.nat(255)), { maxLength: 4 })).map(([text, changes]) => {
    const bytes = new TextEncoder().encode(text);
    for (const [at, byte] of changes) if (at < bytes.length) bytes[at] = byte;
    return bytes;
  }),
);

/** The spans of the blocks in order, so that they can be seen not to overlap. */
const spansOf = ({ header, blocks }: VttFile): readonly number[] =>
  [header, ...blocks].flatMap(({ from, to }) => [from, to]);

describe("any text", () => {
  test("is parsed and judged without a throw", () => {
    fc.assert(
      fc.property(anyText, fc.constantFrom(...KINDS), (text, kind) => {
        const file = parseVtt(text);
        const found = validateVtt(file, kind, "a.vtt");
        for (const { at } of found) expect(Math.min(at.line, at.column)).toBeGreaterThanOrEqual(1);
        for (const cue of file.cues) {
          const words = cuePieces(file, cue).map((piece) => piece.words);
          expect(words.every((word) => word !== "")).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });
  test("has its blocks in order, inside it, and their words where they say", () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const file = parseVtt(text);
        const spans = spansOf(file);
        expect(spans.toSorted((a, b) => a - b)).toEqual(spans);
        expect(Math.max(...spans)).toBeLessThanOrEqual(text.length);
        for (const cue of file.cues) {
          const payload = text.slice(cue.payload, cue.to);
          expect(payload.replace(/\r\n?/g, "\n").replaceAll("\0", "\uFFFD")).toBe(cue.text);
          expect(text.slice(0, cue.timings).split(/\r\n|\r|\n/).length).toBe(cue.line);
        }
      }),
      { numRuns: 500 },
    );
  });
  test("is read the same whatever ends its lines (WebVTT §6.1, step 1)", () => {
    fc.assert(
      fc.property(anyText, fc.constantFrom("\r", "\r\n"), (text, lineEnd) => {
        const plain = text.replace(/\r\n?/g, "\n");
        const seen = (file: VttFile): unknown => [
          file.accepted,
          file.cues.map(({ id, startTime, endTime, settings, text, line }) => [
            id,
            startTime,
            endTime,
            settings,
            text,
            line,
          ]),
          file.styles.map(({ css, line }) => [css, line]),
          file.blocks.map(({ kind }) => kind),
          validateVtt(file, "captions", "a.vtt").map(({ rule, at }) => [rule, at]),
        ];
        expect(seen(parseVtt(plain.replaceAll("\n", lineEnd)))).toEqual(seen(parseVtt(plain)));
      }),
      { numRuns: 300 },
    );
  });
});

describe("any bytes", () => {
  test("decode and are judged without a throw", () => {
    fc.assert(
      fc.property(anyBytes, (bytes) => {
        const decoded = decodeVtt(bytes);
        parseVtt(decoded.text);
        encodingFindings(decoded, "a.vtt");
      }),
    );
  });
});

const words = fc
  .array(
    fc.oneof(fc.string({ maxLength: 8 }), fc.constantFrom("\n", "\n\n", "&", "<b>", "-->", "--", "&amp;", "é😀", " ")),
    { minLength: 1, maxLength: 6 },
  )
  .map((pieces) => pieces.join(""))
  .filter((text) => text.trim() !== "" && !text.includes("\r"));
const names = fc.constantFrom(null, "Ilse Marrane", "Tom & Sons", "a--", "<b>", "é");
const languages = fc.constantFrom(null, null, "cy", "pt-BR");

/** Pieces as `voicePieces` gives them: with words, and each other than the one before. */
const pieces: fc.Arbitrary<readonly CuePiece[]> = fc
  .array(fc.record({ voice: names, language: languages, words }), { maxLength: 4 })
  .map((list) =>
    list.filter(
      ({ voice, language }, n) => n === 0 || voice !== list[n - 1]?.voice || language !== list[n - 1]?.language,
    ),
  )
  .filter((list) =>
    list.every(
      ({ voice, language }, n) => n === 0 || voice !== list[n - 1]?.voice || language !== list[n - 1]?.language,
    ),
  );

const captions: fc.Arbitrary<readonly CaptionCue[]> = fc
  .array(
    fc.record({
      gap: fc.nat(100_000_000),
      length: fc.integer({ min: 1, max: 10_000 }),
      pieces,
      settings: fc.constantFrom("", "align:start", "line:0 position:10%,center", "size:50% align:end position:0%"),
    }),
    { maxLength: 5 },
  )
  .map((list) => {
    let start = 0;
    return list.map(({ gap, length, ...cue }, n) => {
      start += gap;
      return { ...cue, id: `cue ${n}`, start, end: start + length };
    });
  });

describe("what we write", () => {
  test("pieces read back from cue text", () => {
    fc.assert(
      fc.property(pieces, (list) => {
        expect(voicePieces(parseCueText(cueText(list)))).toEqual(list);
      }),
      { numRuns: 500 },
    );
  });
  test("a new file conforms and reads back", () => {
    fc.assert(
      fc.property(
        captions,
        fc.string({ maxLength: 20 }),
        fc.string({ unit: "binary", maxLength: 20 }),
        (cues, header, note) => {
          const file = parseVtt(composeCaptions({ header, notes: [note], cues }));
          expect(validateVtt(file, "captions", "a.vtt")).toEqual([]);
          const read = file.cues.map((cue) => ({
            id: cue.id,
            start: Math.round(cue.startTime * 1000),
            end: Math.round(cue.endTime * 1000),
            pieces: cuePieces(file, cue),
          }));
          expect(read).toEqual(cues.map(({ id, start, end, pieces }) => ({ id, start, end, pieces })));
        },
      ),
      { numRuns: 300, examples: [[[], "-->", "-->"]] },
    );
  });
});

describe("work grows with the length and no faster", () => {
  /** Characters looked at while `work` runs, one by one or in searches and copies. */
  function charactersRead(work: () => void): number {
    let count = 0;
    const { charCodeAt, indexOf, slice } = String.prototype;
    const counting = {
      charCodeAt(this: string, at: number) {
        count++;
        return charCodeAt.call(this, at);
      },
      indexOf(this: string, words: string, from = 0) {
        const found = indexOf.call(this, words, from);
        count += (found < 0 ? this.length : found) - from;
        return found;
      },
      slice(this: string, from?: number, to?: number) {
        const piece = slice.call(this, from, to);
        count += piece.length;
        return piece;
      },
    };
    Object.assign(String.prototype, counting);
    try {
      work();
    } finally {
      Object.assign(String.prototype, { charCodeAt, indexOf, slice });
    }
    return count;
  }

  const C = "00:01.000 --> 00:02.000";
  test.each([
    ["cues", `${C}\n<v A>x &amp; y\n\n`],
    ["cues with CRLF", `${C}\r\nx\r\n\r\n`],
    ["cues with CR", `${C}\rx\r\r`],
    ["blank lines", "\n"],
    ["one line", "x"],
    ["arrows without times", "-->\n"],
    ["lost lines", "x\n"],
    ["settings", " align:end"],
    ["regions", "REGION\nid:r\n\n"],
    ["open tags", "<b>"],
    ["less-than signs", "<"],
    ["ampersands", "&"],
    ["long names", "&a"],
    ["full stops in a tag", "<c..."],
    ["end tags", "</b>"],
    ["hyphens", "-"],
    ["digits", "0"],
    ["spaces", " "],
    ["notes", "NOTE a --> b\n"],
    ["U+0000", "\0"],
  ])("%s", (_why, piece) => {
    const work = (times: number) => (): void => {
      for (const head of ["WEBVTT\n\n", `WEBVTT\n\n${C}\n`, `WEBVTT\n\n${C} `]) {
        const file = parseVtt(head + piece.repeat(times));
        validateVtt(file, "captions", "a.vtt");
        for (const cue of file.cues) cuePieces(file, cue);
      }
    };
    const [once, fourfold] = [charactersRead(work(300)), charactersRead(work(1200))];
    expect(once).toBeGreaterThan(300);
    expect(fourfold / once).toBeLessThan(4.5);
  });
});
