import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CuePart } from "../../src/model/episode.ts";
import {
  type CaptionCue,
  composeCaptions,
  cueParts,
  cueText,
  decodeVtt,
  editBytes,
  encodingFindings,
  parseCueText,
  parseVtt,
  planEdit,
  spliceText,
  type VttChange,
  type VttFile,
  validateVtt,
  voiceParts,
  writeVtt,
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
  test("is parsed and judged without a throw, and written as it was", () => {
    fc.assert(
      fc.property(anyText, fc.constantFrom(...KINDS), (text, kind) => {
        const file = parseVtt(text);
        expect(writeVtt(file)).toBe(text);
        const found = validateVtt(file, kind, "a.vtt");
        for (const { at } of found) expect(Math.min(at.line, at.column)).toBeGreaterThanOrEqual(1);
        for (const cue of file.cues) {
          const words = cueParts(file, cue).map((part) => part.words);
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
  test("decode and are judged without a throw, and no change changes nothing", () => {
    fc.assert(
      fc.property(anyBytes, (bytes) => {
        const decoded = decodeVtt(bytes);
        parseVtt(decoded.text);
        encodingFindings(decoded, "a.vtt");
        expect(editBytes(bytes, [], "a.vtt")).toEqual({ ok: true, value: bytes, findings: [] });
      }),
    );
  });
  test("outside an edit stay as they are", () => {
    const head = new TextEncoder().encode("WEBVTT\n\n");
    const cue = new TextEncoder().encode("\n\n00:01.000 --> 00:02.000\nold\n\n");
    // The bytes at which the UTF-8 decoder changes its mind (Encoding standard §8.1.1), and any others.
    const turns = fc.constantFrom(
      0x61,
      0x80,
      0x8f,
      0x90,
      0x9f,
      0xa0,
      0xbf,
      0xc1,
      0xc2,
      0xe0,
      0xe1,
      0xed,
      0xef,
      0xf0,
      0xf4,
      0xf5,
    );
    const calm = fc
      .array(fc.oneof(turns, fc.nat(255)), { maxLength: 40 })
      .map((bytes) => bytes.filter((byte) => byte !== 0x0a && byte !== 0x0d && byte !== 0x3e));
    fc.assert(
      fc.property(calm, calm, (before, after) => {
        const whole = Uint8Array.from([...head, ...before, ...cue, ...after]);
        const made = editBytes(
          whole,
          [{ kind: "text", cue: 0, parts: [{ voice: null, language: null, words: "new!" }] }],
          "a",
        );
        const changed = new TextEncoder().encode("\n\n00:01.000 --> 00:02.000\nnew!\n\n");
        expect(made).toMatchObject({ ok: true, value: Uint8Array.from([...head, ...before, ...changed, ...after]) });
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

/** Parts as `voiceParts` gives them: with words, and each other than the one before. */
const parts: fc.Arbitrary<readonly CuePart[]> = fc
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
      parts,
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
  test("parts read back from cue text", () => {
    fc.assert(
      fc.property(parts, (list) => {
        expect(voiceParts(parseCueText(cueText(list)))).toEqual(list);
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
            parts: cueParts(file, cue),
          }));
          expect(read).toEqual(cues.map(({ id, start, end, parts }) => ({ id, start, end, parts })));
        },
      ),
      { numRuns: 300 },
    );
  });
});

const changes = (count: number): fc.Arbitrary<VttChange> => {
  const cue = fc.nat(count - 1);
  return fc.oneof(
    fc.record({ kind: fc.constant("text" as const), cue, parts }),
    fc.record({ kind: fc.constant("times" as const), cue, start: fc.nat(500_000_000), end: fc.nat(500_000_000) }),
    fc.record({
      kind: fc.constant("shift" as const),
      from: cue,
      to: fc.constant(count),
      by: fc.integer({ min: -100_000, max: 100_000_000 }),
    }),
    fc.record({ kind: fc.constant("voice" as const), cue, voice: fc.constantFrom("Ilse", "A & B", "a--") }),
  );
};

describe("an edit", () => {
  test("of a conforming file gives one, and touches nothing else", () => {
    let made = 0;
    const edits = captions
      .filter((cues) => cues.length > 0)
      .chain((cues) => fc.tuple(fc.constant(cues), changes(cues.length)));
    fc.assert(
      fc.property(edits, fc.constantFrom("\n", "\r\n", "\r"), ([cues, change], lineEnd) => {
        const text = composeCaptions({ cues }).replaceAll("\n", lineEnd);
        const file = parseVtt(text);
        const plan = planEdit(file, [change], "a.vtt");
        if (!plan.ok) return;
        made++;
        const after = parseVtt(spliceText(text, plan.value));
        expect(validateVtt(after, "captions", "a.vtt")).toEqual([]);
        expect(after.cues.length).toBe(file.cues.length);
        after.cues.forEach((cue, n) => {
          const old = file.cues[n];
          const isMeant = change.kind === "shift" ? n >= change.from : n === change.cue;
          const isNewText = isMeant && change.kind !== "times" && change.kind !== "shift";
          if (!isNewText) expect(cue.text).toBe(old?.text);
          if (!isMeant || isNewText) expect([cue.startTime, cue.endTime]).toEqual([old?.startTime, old?.endTime]);
          if (isNewText && change.kind === "text") expect(cueParts(after, cue)).toEqual(change.parts);
        });
      }),
      { numRuns: 500 },
    );
    expect(made).toBeGreaterThan(100);
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
        for (const cue of file.cues) cueParts(file, cue);
      }
    };
    const [once, fourfold] = [charactersRead(work(300)), charactersRead(work(1200))];
    expect(once).toBeGreaterThan(300);
    expect(fourfold / once).toBeLessThan(4.5);
  });
});
