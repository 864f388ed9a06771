import { describe, expect, test } from "vitest";
import { decodeVtt, encodingFindings, parseVtt, validateVtt, WEBVTT_RULES } from "../../src/webvtt/index.ts";
import { C, D, faults, H, textFaults } from "./show.ts";

describe("a conforming file has no faults", () => {
  test("all that may be written (WebVTT §4.1 to §4.4)", () => {
    const text = [
      "\uFEFFWEBVTT\tanything",
      "",
      "NOTE a comment",
      "",
      "STYLE ",
      "::cue {}",
      "",
      "REGION",
      "id:r width:40% lines:3",
      "regionanchor:0%,100% viewportanchor:10%,90% scroll:up",
      "",
      "NOTE",
      "",
      "1",
      `${C} region:r align:start`,
      "<v Ilse>Words, <i.loud>loud</i> &amp; clear",
      "",
      "two words",
      "00:00:01.000\t-->  100:00:02.500 line:-1,end position:5%,line-left size:50% vertical:lr align:end",
      "<c.red.bg_blue>a</c> <lang pt-BR>b</lang> <u>c</u><00:00:01.500><b>d</b> > e",
      "<ruby>漢<rt>kan</rt>字<rt>ji</ruby><v Tom>f</v>",
      "",
      `${D} \t`,
      "",
      "",
    ].join("\r\n");
    expect(faults(text)).toEqual([]);
  });
  test("nothing but the signature and a blank line", () => expect(faults(H)).toEqual([]));
  test("an empty style block", () => expect(faults(`${H}STYLE\n\n${C}\nx\n`)).toEqual([]));
});

describe("each rule has its place", () => {
  const region = "REGION\nid:r\n\n";
  test.each([
    ["§4.1 a line end after the last line", `${H}${C}\nx`, ["4:2 last-line-end"]],
    ["§4.1 REGION in the header", "WEBVTT\nREGION\nid:r\n\n", ["2:1 header-blank-line", "2:1 header-content"]],
    ["§6.1 U+0000, once a line", `${H}${C}\na\0\0\n\0\n`, ["4:2 null-character", "5:1 null-character"]],
    ["a line of spaces is no block", `${H} \n\n${C}\nx\n`, ["3:1 spaces-outside-cue"]],
    ["§4.1 an identifier alone", `${H}1\n\n${C}\nx\n`, ["3:1 words-outside-cue"]],
    ["§4.1 a comment with an arrow", `${H}NOTE a\nb --> c\n\n${C}\nx\n`, ["4:3 note-arrow"]],
    ["§4.1 a comment that a cue cuts short", `${H}NOTE a\nb\n${C}\nx\n`, ["5:1 note-arrow"]],
    ["§4.1 identifiers differ", `${H}1\n${C}\nx\n\n1\n${D}\ny\n`, ["7:1 id-twice"]],
    ["§4.1 space before the times", `${H} ${C}\nx\n`, ["3:1 time-spacing"]],
    ["§4.1 a form feed beside the arrow", `${H}00:01.000\f--> 00:02.000\nx\n`, ["3:10 time-spacing"]],
    ["§4.1 a start before an earlier one", `${H}${D}\nx\n\n${D}\ny\n\n${C}\nz\n`, ["9:1 time-order"]],
    ["§4.1 a form feed between settings", `${H}${C} align:end\fline:1\nx\n`, ["3:34 setting-spacing"]],
    ["§4.4 an unknown setting", `${H}${C} colour:red\nx\n`, ["3:25 setting-unknown"]],
    ["§4.4 no setting", `${H}${C} align: :end x\nx\n`, ["3:25", "3:32", "3:37"].map((at) => `${at} setting-unknown`)],
    ["§4.4 a line number is whole", `${H}${C} line:1.5\nx\n`, ["3:25 setting-value"]],
    ["§4.4 an align of the old kind", `${H}${C} align:middle\nx\n`, ["3:25 setting-value"]],
    ["§4.4 a region without a definition", `${H}${C} region:r\nx\n`, ["3:25 setting-region"]],
    ["§3.3 start and a size, but no position", `${H}${C} size:50% align:start\nx\n`, ["3:24 setting-position"]],
    ["§4.3 a region has an id", `${H}REGION\nlines:2\n`, ["3:1 region-id"]],
    ["§4.3 a region without settings", `${H}REGION\n\n${C}\nx\n`, ["3:1 region-id"]],
    ["§4.3 a region setting", `${H}REGION\nid:r\n lines:2.5 a:b\n`, ["5:2 setting-value", "5:12 setting-unknown"]],
    ["§4.3 a region setting twice", `${H}REGION\nid:r lines:1\nlines:2\n`, ["5:1 setting-twice"]],
    ["§4.3 region ids differ", `${H}${region}${region}`, ["6:1 region-twice"]],
    ["§4.1 REGION and something", `${H}REGION x\nid:r\n`, ["3:1 block-heading"]],
    ["§4.1 an arrow in a region", `${H}REGION\nid:r\nx --> y\n`, ["5:3 block-arrow"]],
  ])("%s", (_why, text, expected) => expect(faults(text)).toEqual(expected));

  test.each([
    ["§4.2.2 words in the tag of an i", "<i never>x</i>", ["1:1 tag-annotation"]],
    ["§4.2.2 space in the tag of a b", "<b >x</b>", ["1:1 annotation-shape"]],
    ["§4.2.2 a name over two lines", "a\n<v Ilse\nM>x</v>", ["2:1 annotation-shape"]],
    ["§4.2.2 a bare & in a name", "<v A & B>x</v>", ["1:6 reference-bare"]],
    ["§4.2.2 a bare & after a tag", "<b>x</b> & y\n& z", ["1:10 reference-bare", "2:1 reference-bare"]],
    ["§4.2.2 a & in a class", "<c.a&b>x</c>", ["1:1 tag-class"]],
    ["§4.2.2 BCP 47", "<lang not_a_tag>x</lang>", ["1:1 language-tag"]],
    ["§4.2.2 a lang without a language", "<lang>x</lang>", ["1:1 annotation-missing"]],
    ["§4.2.2 a ruby without an rt", "<ruby>x</ruby>", ["1:1 ruby-shape"]],
    ["§4.2.2 words after the last rt", "<ruby>x<rt>y</rt> z</ruby>", ["1:18 ruby-shape"]],
    ["§4.2.2 an rt outside a ruby", "<rt>x", ["1:1 rt-outside-ruby"]],
    ["§4.2.2 one-digit hours", "a<0:00:01.500>b", ["1:2 timestamp-shape"]],
    ["§4.2.2 times rise", "<00:01.600>a<00:01.600>b", ["1:13 timestamp-order"]],
    ["§4.2.2 a time at the start", "<00:01.000>a", ["1:1 timestamp-order"]],
    ["§4.2.2 a time at the end", "a<00:02.000>", ["1:2 timestamp-order"]],
    ["§4.2.2 a v that is not the whole cue", "x<v Ilse>y", ["1:2 tag-unclosed"]],
    ["HTML a noncharacter", "&#xFFFE;", ["1:1 reference-value"]],
    ["HTML a carriage return", "&#13;", ["1:1 reference-value"]],
    ["HTML a number without its semicolon", "&#65", ["1:1 reference-open"]],
    ["HTML an unknown name", "a\n&unknown;", ["2:1 reference-bare"]],
  ])("%s", (_why, text, expected) => expect(textFaults(text)).toEqual(expected));

  test("§4.1 bytes that are not UTF-8, once a line", () => {
    const bytes = Uint8Array.from([...new TextEncoder().encode("WEBVTT\r\na😀"), 0xff, 0xfe, 0x0a, 0xe2, 0x82, 0x0a]);
    const found = encodingFindings(decodeVtt(bytes), "a.vtt");
    expect(found.map(({ rule, at }) => [rule, at.line, at.column])).toEqual([
      ["encoding", 2, 4],
      ["encoding", 3, 1],
    ]);
    expect(encodingFindings(decodeVtt(new TextEncoder().encode(`${H}\uFFFD`)), "a.vtt")).toEqual([]);
  });
});

describe("kinds (WebVTT §4.6)", () => {
  test("a chapter title has no tags, but references", () => {
    expect(textFaults("<b>a</b> &amp; <x", "chapters")).toEqual([
      "1:1 chapter-tag",
      "1:5 chapter-tag",
      "1:16 tag-open",
    ]);
  });
  test("metadata may be anything", () => expect(textFaults('{"a<":"&"}', "metadata")).toEqual([]));
  const chapters = (...times: readonly string[]): readonly string[] =>
    faults(`${H}${times.map((time) => `${time}\nx\n`).join("\n")}`, "chapters");
  test("chapters follow one another or lie within one another: the example of §4.5.1", () => {
    expect(
      chapters(
        "00:00.000 --> 01:24.000",
        "00:00.000 --> 00:44.000",
        "00:44.000 --> 01:19.000",
        "01:24.000 --> 05:00.000",
        "01:35.000 --> 03:00.000",
        "03:00.000 --> 05:00.000",
      ),
    ).toEqual([]);
  });
  test("chapters must not cross: the counter-example of §4.5.1", () => {
    expect(chapters("00:00.000 --> 01:00.000", "00:30.000 --> 01:30.000")).toEqual(["6:1 chapter-overlap"]);
    expect(faults(`${H}00:00.000 --> 01:00.000\nx\n\n00:30.000 --> 01:30.000\ny\n`)).toEqual([]);
  });
});

test("a finding says where, when, what and how to mend it", () => {
  const text = `${H}1\n${C}\nx\n\n1\n${D}\n5 < 6\n`;
  expect(validateVtt(parseVtt(text), "captions", "a/b.vtt")).toEqual([
    {
      rule: "id-twice",
      level: WEBVTT_RULES["id-twice"],
      at: { file: "a/b.vtt", line: 7, column: 1 },
      seconds: 2,
      says: 'Two cues are called "1".',
      mend: "Give each cue its own identifier.",
      see: [{ file: "a/b.vtt", line: 3, column: 1 }],
    },
    {
      rule: "tag-open",
      level: "blocks",
      at: { file: "a/b.vtt", line: 9, column: 3 },
      seconds: 2,
      says: 'This < opens a tag that never ends: "< 6" is lost.',
      mend: "Write &lt; for <, or close the tag with >.",
    },
  ]);
});

test("the mend of a comma names the full stop", () => {
  const [found] = validateVtt(parseVtt(`${H}00:00:01,000 --> 00:00:02,000\nx\n`), "captions", "a.vtt");
  expect(found?.mend).toBe("Write a full stop before the milliseconds: 00:00:01.000.");
});
