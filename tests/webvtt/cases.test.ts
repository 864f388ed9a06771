import { describe, expect, test } from "vitest";
import { cueTexts, parseCueText, parseVtt } from "../../src/webvtt/index.ts";
import { C, D, faults, H, settingsOf, showTree, textFaults } from "./show.ts";

/** A cue as `id|text`. */
const cuesOf = (text: string): readonly string[] => parseVtt(text).cues.map((cue) => `${cue.id}|${cue.text}`);

describe("files and blocks (WebVTT §4.1, §6.1)", () => {
  test.each([
    ["V01 nothing but the signature", "WEBVTT", []],
    ["V02 one byte order mark", `\uFEFF${H}${C}\nx`, ["|x"]],
    ["V05 words after the signature", `WEBVTT - late\n\n${C}\nx`, ["|x"]],
    ["V06 a line in the header", `WEBVTT\nKind: captions\n\n${C}\nx`, ["|x"]],
    ["V07 a cue right under the signature", `WEBVTT\n${C}\nx`, ["|x"]],
    ["V08 timings on line 1", `WEBVTT ${C}\nx`, []],
    ["V09 CR alone", `WEBVTT\r\r${C}\ra\rb`, ["|a\nb"]],
    ["V10 a line of one space is not blank", `${H}${C}\na\n \nb`, ["|a\n \nb"]],
    ["V11 U+2028 ends no line", `${H}${C}\na\u2028b`, ["|a\u2028b"]],
    ["V12 no blank line between cues", `${H}${C}\na\n${D}\nb`, ["|a", "|b"]],
    ["V13 a number joins the words above", `${H}1\n${C}\na\n2\n${D}\nb`, ["1|a\n2", "|b"]],
    ["V14 two lines before timings", `${H}one\ntwo\n${C}\nx`, ["|x"]],
    ["V15 NOTE above timings is an id", `${H}NOTE\n${C}\nx`, ["NOTE|x"]],
    ["V16 NOTE before timings", `${H}NOTE ${C}\nx`, []],
    ["V17 an arrow in the words", `${H}${C}\na --> b\nc`, ["|"]],
    ["V18 words after a blank line", `${H}${C}\n\nlate\n\n${D}\nb`, ["|", "|b"]],
    ["V19 file order is kept", `${H}00:05.000 --> 00:06.000\nlate\n\n${C}\nearly`, ["|late", "|early"]],
    ["V21 STYLE and something", `${H}STYLE x\n::cue{}\n\n${C}\nx`, ["|x"]],
    ["V22 an arrow on the first line of CSS", `${H}STYLE\n/* --> */\n::cue{}\n\n${C}\nx`, ["|x"]],
  ])("%s", (_case, text, cues) => {
    expect(parseVtt(text).accepted).toBe(true);
    expect(cuesOf(text)).toEqual(cues);
  });

  test.each([
    ["V03 two byte order marks", `\uFEFF\uFEFF${H}${C}\nx`],
    ["V04 lower case", `webvtt\n\n${C}\nx`],
    ["V04 no space after it", `WEBVTTx\n\n${C}\nx`],
    ["V04 a space before it", ` WEBVTT\n\n${C}\nx`],
    ["V04 a line before it", `\nWEBVTT\n\n${C}\nx`],
  ])("%s: no WebVTT file", (_case, text) => {
    expect(parseVtt(text)).toMatchObject({ accepted: false, cues: [], blocks: [] });
    expect(faults(text)[0]).toMatch(/ signature$/);
  });

  test.each([
    ["V20 a style after a cue", `${H}STYLE\na{}\n\n${C}\nx\n\nSTYLE\nb{}\n`, ["a{}"]],
    ["V21 STYLE and something", `${H}STYLE x\n::cue{}\n\n${C}\nx`, []],
    ["V22 an arrow on the first line of CSS", `${H}STYLE\n/* --> */\n::cue{}\n\n${C}\nx`, []],
    ["V23 only a good cue ends the styles", `${H}bad --> cue\n\nSTYLE\n::cue{}\n\n${C}\nx`, ["::cue{}"]],
  ])("%s", (_case, text, styles) => {
    expect(parseVtt(text).styles.map((style) => style.css)).toEqual(styles);
  });

  test.each([
    ["V01 no blank line", "WEBVTT", ["1:7 header-blank-line"]],
    ["V06 a line in the header", `WEBVTT\nKind: captions\n\n${C}\nx\n`, ["2:1 header-blank-line"]],
    ["V07 a cue right under the signature", `WEBVTT\n${C}\nx\n`, ["2:1 header-blank-line"]],
    ["V08 timings on line 1", `WEBVTT ${C}\nx\n`, ["1:8 header-content", "2:1 header-blank-line"]],
    ["V12 no blank line between cues", `${H}${C}\na\n${D}\nb\n`, ["5:1 block-blank-line"]],
    ["V13 a number joins the words above", `${H}1\n${C}\na\n2\n${D}\nb\n`, ["7:1 block-blank-line"]],
    ["V14 two lines before timings", `${H}one\ntwo\n${C}\nx\n`, ["3:1 words-outside-cue", "5:1 block-blank-line"]],
    ["V15 NOTE above timings", `${H}NOTE\n${C}\nx\n`, ["3:1 note-arrow"]],
    ["V16 NOTE before timings", `${H}NOTE ${C}\nx\n`, ["3:16 note-arrow"]],
    ["V17 an arrow in the words", `${H}${C}\na --> b\nc\n`, ["4:3 arrow-in-words"]],
    ["V18 words after a blank line", `${H}${C}\n\nlate\n\n${D}\nb\n`, ["5:1 words-outside-cue"]],
    ["V19 out of order", `${H}00:05.000 --> 00:06.000\nlate\n\n${C}\nearly\n`, ["6:1 time-order"]],
    ["V20 a style after a cue", `${H}${C}\nx\n\nSTYLE\nb{}\n`, ["6:1 block-late"]],
    ["V21 STYLE and something", `${H}STYLE x\n::cue{}\n\n${C}\nx\n`, ["3:1 block-heading"]],
    ["V22 an arrow in CSS", `${H}STYLE\n/* --> */\n::cue{}\n\n${C}\nx\n`, ["4:4 block-arrow"]],
    ["V24 a region after a cue", `${H}${C}\nx\n\nREGION\nid:r\n`, ["6:1 block-late"]],
  ])("%s is a fault", (_case, text, expected) => {
    expect(faults(text)).toEqual(expected);
  });
});

describe("regions (WebVTT §4.3, §6.2)", () => {
  test("V24 a region after the first cue is none", () => {
    expect(parseVtt(`${H}${C}\nx\n\nREGION\nid:r\n`).regions).toEqual([]);
  });
  test("V25 settings that can't be taken leave the defaults", () => {
    const { regions } = parseVtt(`${H}REGION\nid:r width:101% lines:2.5 regionanchor:50% scroll:down\n`);
    const anchors = { regionAnchorX: 0, regionAnchorY: 100, viewportAnchorX: 0, viewportAnchorY: 100 };
    expect(regions).toMatchObject([{ id: "r", width: 100, lines: 3, ...anchors, scroll: "" }]);
  });
  test("V26 of two regions with one id the last is meant", () => {
    const text = `${H}REGION\nid:r lines:1\n\nREGION\nid:r lines:2\n\n${C} region:r\nx\n`;
    const { regions, cues } = parseVtt(text);
    expect(regions.findLast((region) => region.id === cues[0]?.settings.region)?.lines).toBe(2);
    expect(faults(text)).toEqual(["6:1 region-twice"]);
  });
  test.each([
    ["V27 an unknown region", "region:none", {}],
    ["V28 a line after the region", "region:r line:0", { line: 0 }],
    ["V28 a region after the line", "line:0 region:r", { line: 0, region: "r" }],
  ])("%s", (_case, written, settings) => expect(settingsOf(written)).toEqual(settings));
});

describe("timestamps (WebVTT §4.1, §6.3)", () => {
  test.each([
    ["V30 one-digit hours", "1:00:01.000 --> 01:00:02.000", 3601, 3602, ["3:1 time-hours"]],
    ["V31 three-digit hours", "100:00:00.000 --> 100:00:01.000", 360_000, 360_001, []],
    ["V36 no spaces", "00:01.000-->00:02.000", 1, 2, ["3:10 time-spacing", "3:13 time-spacing"]],
    ["V37 no space before a setting", `${C}align:end`, 1, 2, ["3:24 setting-spacing"]],
    ["V38 the end before the start", "00:02.000 --> 00:01.000", 2, 1, ["3:15 time-empty"]],
    ["V38 equal times", "00:01.000 --> 00:01.000", 1, 1, ["3:15 time-empty"]],
    ["V39 another arrow", `${C} -->`, 1, 2, ["3:25 setting-unknown"]],
  ])("%s", (_case, line, startTime, endTime, expected) => {
    const text = `${H}${line}\nx\n`;
    expect(parseVtt(text).cues).toMatchObject([{ startTime, endTime, text: "x" }]);
    expect(faults(text)).toEqual(expected);
  });

  test.each([
    ["V29 one-digit minutes", "0:01.000 --> 0:02.000", 5],
    ["V32 61 is taken as hours", "61:00.000 --> 62:00.000", 6],
    ["V33 60 seconds", "00:60.000 --> 01:01.000", 1],
    ["V33 60 minutes", "00:60:00.000 --> 01:01:00.000", 1],
    ["V34 a comma", "00:00:01,000 --> 00:00:02,000", 9],
    ["V35 two decimals", "00:01.00 --> 00:02.00", 7],
    ["V35 four decimals", "00:01.0000 --> 00:02.0000", 7],
    ["V35 no decimals", "00:01 --> 00:02", 6],
    ["V40 digits that are not ASCII", "٠٠:٠١.٠٠٠ --> ٠٠:٠٢.٠٠٠", 1],
  ])("%s: no cue", (_case, line, column) => {
    expect(parseVtt(`${H}${line}\nx\n`).cues).toEqual([]);
    expect(faults(`${H}${line}\nx\n`)).toEqual([`3:${column} time-unreadable`]);
  });
});

describe("cue settings (WebVTT §4.4, §6.3)", () => {
  test.each([
    ["V37 right after the end time", `x`, {}],
    ["V41 the later of two", "align:left align:right", { align: "right" }],
    ["V42 an empty value is skipped alone", "align: size:50%", { size: 50 }],
    ["V43 a space before the colon", "align :end", {}],
    ["V43 an equals sign", "align=end", {}],
    ["V43 a capital", "Align:end", {}],
    ["V44 above 100%", "line:100.1%", {}],
    ["V44 an exponent", "position:1e1%", {}],
    ["V44 no whole part", "position:.5%", {}],
    ["V44 no decimals", "position:5.%", {}],
    ["V45 a leading zero", "size:035.50%", { size: 35.5 }],
  ])("%s", (_case, written, settings) => expect(settingsOf(written)).toEqual(settings));

  test("V37 align:end right after the end time", () => {
    expect(parseVtt(`${H}${C}align:end\nx`).cues[0]?.settings.align).toBe("end");
  });
  test("V41 twice is a fault", () => {
    expect(faults(`${H}${C} align:left align:right\nx\n`)).toEqual(["3:36 setting-twice"]);
  });
});

describe("cue text (WebVTT §4.2, §6.4)", () => {
  test.each([
    ["V46", "5 < 6 apples", '"5 "', ["1:3 tag-open"]],
    ["V47", "R&D", '"R&D"', ["1:2 reference-bare"]],
    ["V47", "a & b", '"a & b"', ["1:3 reference-bare"]],
    ["V48", "a &ampx", '"a &x"', ["1:3 reference-open"]],
    ["V49", "&nbsp;&nbsp", '"\u00A0\u00A0"', ["1:7 reference-open"]],
    ["V50", "&lrm;x &lrm x", '"\u200Ex &lrm x"', ["1:8 reference-bare"]],
    ["V51", "&#8217;&#x2019;&#x1F600;&#128;", '"’’😀€"', ["1:25 reference-value"]],
    [
      "V52",
      "&#0;&#xD800;&#x110000;",
      '"\uFFFD\uFFFD\uFFFD"',
      ["1:1", "1:5", "1:13"].map((at) => `${at} reference-value`),
    ],
    ["V53", "&notit;", '"¬it;"', ["1:1 reference-open"]],
    ["V54", "<b><i>x</b>y</i>z", 'b(i("x" "y") "z")', ["1:1 tag-unclosed", "1:8 tag-crossed"]],
    ["V55", "<v Ilse Marrane>Good evening.", 'v "Ilse Marrane"("Good evening.")', []],
    ["V56", "<v.loud Ilse  Marrane>Hi</v> there", 'v.loud "Ilse Marrane"("Hi") " there"', []],
    ["V57", "<v Ilse>a</v>\n<v Tom>b", 'v "Ilse"("a") "\\n" v "Tom"("b")', ["2:1 tag-unclosed"]],
    ["V58", "<v Ilse>a<v Tom>b", 'v "Ilse"("a" v "Tom"("b"))', ["1:10 tag-unclosed"]],
    ["V59", "<v Marks &amp; Sons>x", 'v "Marks & Sons"("x")', []],
    ["V60", "<v>x</v>", 'v ""("x")', ["1:1 annotation-missing"]],
    ["V61", "<V Ilse>x", '"x"', ["1:1 tag-unknown"]],
    ["V61", "<voice Ilse>x</voice>", '"x"', ["1:1 tag-unknown", "1:14 tag-crossed"]],
    ["V62", "<c.a..b>x</c>", 'c.a.b("x")', ["1:1 tag-class"]],
    ["V63", "<lang cy>Bore da</lang> all", 'lang "cy"("Bore da") " all"', []],
    ["V64", "<ruby>漢<rt>kan</ruby>x", 'ruby("漢" rt("kan")) "x"', []],
    [
      "V65",
      "<ruby><b>漢<rt>kan</rt></b></ruby>",
      'ruby(b("漢" "kan"))',
      ["1:1 ruby-shape", "1:11 rt-outside-ruby", "1:18 tag-crossed"],
    ],
    ["V66", "a<00:01.500>b", '"a" <1.5> "b"', []],
    ["V66", "a<00:01.500 >b", '"a" "b"', ["1:2 timestamp-unreadable"]],
    ["V66", "a<1.5>b", '"a" "b"', ["1:2 timestamp-unreadable"]],
    ["V67", "<b>x</ b>y", 'b("x" "y")', ["1:1 tag-unclosed", "1:5 tag-crossed"]],
    ["V67", "x</b >y", '"x" "y"', ["1:2 tag-crossed"]],
    ["V68", "<script>alert(1)</script>", '"alert(1)"', ["1:1 tag-unknown", "1:17 tag-crossed"]],
    ["V69", "<br>x<br/>y", '"x" "y"', ["1:1 tag-unknown", "1:6 tag-unknown"]],
    ["V69", "{b}x{/b}", '"{b}x{/b}"', []],
    ["V70", "a<b", '"a" b()', ["1:2 tag-open"]],
    ["V70", "a<c.d", '"a" c.d()', ["1:2 tag-open"]],
    ["V70", "a<", '"a"', ["1:2 tag-open"]],
  ])("%s %s", (_case, text, tree, expected) => {
    expect(showTree(parseCueText(text))).toBe(tree);
    expect(textFaults(text)).toEqual(expected);
  });

  test("V64 words leave the rt out", () => {
    const words = cueTexts(parseCueText("<ruby>漢<rt>kan</ruby>x")).map((own) => own.words);
    expect(words.join("")).toBe("漢x");
  });
});
