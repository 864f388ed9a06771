import { describe, expect, test } from "vitest";
import { parseCue, parseVtt, settingsOf as placesOf, settingsText } from "../../src/webvtt/index.ts";
import { C, D, H, settingsOf, showTree } from "./show.ts";

describe("collecting blocks (WebVTT §6.1)", () => {
  test.each([
    ["CRLF", `WEBVTT\r\n\r\n${C}\r\na\r\nb\r\n\r\n${D}\r\nc`, ["a\nb", "c"]],
    ["all line ends mixed", `WEBVTT\r\n\n${C}\ra\nb\r\rNOTE\n\r${D}\nc`, ["a\nb", "c"]],
    ["LF CR are two line ends", `WEBVTT\n\r${C}\na\n\rlate`, ["a"]],
    ["vertical tab, form feed, U+0085 end no line", `${H}${C}\na\vb\fc\u0085d`, ["a\vb\fc\u0085d"]],
    ["NUL becomes U+FFFD", `${H}${C}\na\0b`, ["a\uFFFDb"]],
    ["an id line and then no timings", `${H}1\nx\n\n${C}\ny`, ["y"]],
    ["a bad timing line takes its words along", `${H}a --> b\nx\n\n${C}\ny`, ["y"]],
    ["a good timing line right after a bad one", `${H}a --> b\n${C}\ny`, ["y"]],
    ["timings right after an id and bad timings", `${H}1\na --> b\n${C}\ny`, ["y"]],
    ["timings in the third line of a block", `${H}1\n2\n${C}\ny`, ["y"]],
    ["no words and no line end", `${H}${C}`, [""]],
    ["many blank lines", `WEBVTT\n\n\n\n\n${C}\nx\n\n\n\n${D}\ny\n\n\n`, ["x", "y"]],
    ["an arrow in the header ends it", `WEBVTT\nnot --> timings\n\n${C}\nx`, ["x"]],
  ])("%s", (_why, text, words) => expect(parseVtt(text).cues.map((cue) => cue.text)).toEqual(words));

  test.each([
    ["spaces are kept", " a  b ", " a  b "],
    ["STYLE is an id above timings", "STYLE", "STYLE"],
    ["REGION is an id above timings", "REGION", "REGION"],
    ["NUL becomes U+FFFD", "a\0", "a\uFFFD"],
    ["anything short of an arrow", "-- >->", "-- >->"],
  ])("identifiers: %s", (_why, line, id) => {
    expect(parseVtt(`${H}${line}\n${C}\nx`).cues).toMatchObject([{ id, text: "x" }]);
  });

  test("a cue counts as seen though nothing was above it", () => {
    const { styles, regions } = parseVtt(`${H}${C}\n\nSTYLE\na{}\n\nREGION\nid:r\n`);
    expect([styles, regions]).toEqual([[], []]);
  });

  test.each([
    ["space and tab after STYLE", "STYLE \t\na{}", ["a{}"]],
    ["form feed is ASCII whitespace", "STYLE\f\na{}", ["a{}"]],
    ["U+00A0 is not", "STYLE\u00A0\na{}", []],
    ["without a line of CSS there is no style", "STYLE", []],
    ["CSS ends at an arrow in a later line", "STYLE\na{}\n/* --> */\nb{}", ["a{}"]],
    ["lines of CSS are joined with LF", "STYLE\r\na{}\r\nb{}", ["a{}\nb{}"]],
    ["one line of it", "STYLEa{}\nb{}", []],
  ])("style blocks: %s", (_why, block, css) => {
    expect(parseVtt(`WEBVTT\n\n${block}\n\n${C}\nx`).styles.map((style) => style.css)).toEqual(css);
  });

  test.each([
    ["settings over several lines", "REGION\nid:r\nwidth:40%\tlines:2", { id: "r", width: 40, lines: 2 }],
    [
      "both anchors",
      "REGION\nid:r regionanchor:1%,2% viewportanchor:3%,4.5%",
      { regionAnchorX: 1, viewportAnchorY: 4.5 },
    ],
    [
      "a third percentage spoils an anchor",
      "REGION\nid:r regionanchor:1%,2%,3%",
      { regionAnchorX: 0, regionAnchorY: 100 },
    ],
    ["the later of two counts", "REGION\nid:r id:s scroll:up", { id: "s", scroll: "up" }],
    ["a value may hold colons", "REGION\nid:a:b", { id: "a:b" }],
    ["CRLF parts settings", "REGION\r\nid:r\r\nlines:9\r", { id: "r", lines: 9 }],
    ["no id", "REGION\nlines:1", { id: "", lines: 1 }],
  ])("regions (WebVTT §6.2): %s", (_why, block, region) => {
    expect(parseVtt(`${H}${block}\n\n`).regions).toMatchObject([region]);
  });
});

describe("timings (WebVTT §6.3)", () => {
  test.each([
    ["spaces, tabs, form feeds", ` \t${C.replace(" --> ", "\f-->\t")}`, 1, 2],
    ["hours of one digit, zero", "0:00:01.000 --> 0:00:02.000", 1, 2],
    ["milliseconds", "00:00.001 --> 59:59.999", 0.001, 3599.999],
    ["hours above 99", "123456:59:59.999 --> 200000:00:00.000", 123456 * 3600 + 3599.999, 720_000_000],
    ["hours of twenty digits", "00000000000000000001:00:00.000 --> 00:00.000", 3600, 0],
    ["hours past all counting", `${"9".repeat(400)}:00:00.000 --> 00:00.000`, Number.MAX_VALUE, 0],
    ["thousandths, to the last digit of a double", "00:10.694 --> 00:23.673", 10.694, 23.673],
    ["60 with colons after it is hours", "60:00:00.000 --> 61:00:00.000", 216_000, 219_600],
  ])("%s", (_why, line, startTime, endTime) => {
    expect(parseVtt(`${H}${line}\nx`).cues).toMatchObject([{ startTime, endTime }]);
  });

  test.each([
    ["no digits", ":01.000 --> 00:02.000"],
    ["one-digit seconds", "00:1.000 --> 00:02.000"],
    ["three-digit minutes with hours", "00:001:00.000 --> 00:02:00.000"],
    ["two arrows", "00:01.000 -->--> 00:02.000"],
    ["a longer arrow", "00:01.000 ---> 00:02.000"],
    ["something between", "00:01.000 x --> 00:02.000"],
    ["no end time", "00:01.000 -->"],
    ["U+00A0 beside the arrow", "00:01.000\u00A0--> 00:02.000"],
    ["a sign", "+00:01.000 --> 00:02.000"],
  ])("%s: no cue", (_why, line) => expect(parseVtt(`${H}${line}\nx`).cues).toEqual([]));
});

describe("settings (WebVTT §6.3)", () => {
  test.each([
    ["vertical", "vertical:rl", { vertical: "rl" }],
    ["a bad vertical keeps the good one", "vertical:lr vertical:tb", { vertical: "lr" }],
    ["a vertical takes out of the region", "region:r vertical:lr", { vertical: "lr" }],
    ["so does a bad one after a good one", "vertical:rl region:r vertical:x", { vertical: "rl" }],
    ["a bad one alone does not", "region:r vertical:x", { region: "r" }],
    ["a line number", "line:-1", { line: -1 }],
    ["a line number with decimals", "line:1.5", { line: 1.5 }],
    ["a line above 100", "line:101", { line: 101 }],
    ["a line in percent", "line:50%,end", { line: 50, lineAlign: "end", snapToLines: false }],
    ["a bad alignment spoils the line", "line:50%,middle", {}],
    ["an empty alignment spoils the line", "line:50%,", {}],
    ["a line without digits", "line:-", {}],
    ["a sign in the middle", "line:1-1", {}],
    ["a leading plus", "line:+1", {}],
    ["a bare full stop", "line:.5", {}],
    ["a last full stop", "line:5.", {}],
    ["two full stops", "line:1.2.3", {}],
    ["a negative percentage", "line:-5%", {}],
    ["the word auto", "line:auto", {}],
    ["a line too great to be a number", `line:${"9".repeat(400)}`, {}],
    ["a number after a percentage snaps again", "line:50% line:1", { line: 1 }],
    ["a line keeps the alignment set before", "line:1,end line:2", { line: 2, lineAlign: "end" }],
    ["a bad line keeps the region", "region:r line:x", { region: "r" }],
    ["a position", "position:10%,line-left", { position: 10, positionAlign: "line-left" }],
    ["a position without a percent sign", "position:50", {}],
    ["a bad position alignment", "position:50%,left", {}],
    ["position alignment center", "position:100%,center", { position: 100, positionAlign: "center" }],
    ["size 100% keeps the region", "region:r size:100%", { region: "r" }],
    ["another size takes it out", "region:r size:99%", { size: 99 }],
    ["a bad size keeps it", "size:50% region:r size:x", { size: 50, region: "r" }],
    ["a size above 100", "size:100.001%", {}],
    ["zero", "size:0%", { size: 0 }],
    ["left", "align:left", { align: "left" }],
    ["middle", "align:middle", {}],
    ["an unknown region takes out of the region", "region:r region:x", {}],
    ["the first colon parts", "align:end:end", {}],
    ["a colon first", ":end align:end", { align: "end" }],
    ["form feeds part settings", "align:end\fsize:5%", { align: "end", size: 5 }],
    ["U+00A0 does not", "align:end\u00A0size:5%", {}],
  ])("%s", (_why, written, settings) => expect(settingsOf(written)).toEqual(settings));
});

describe("places", () => {
  const text = `\uFEFFWEBVTT x\r\n\r\nNOTE a\r\nb\r\n\r\nlost\r\n\r\nid\r\n${C} align:end  line:0\r\n<b>x\r\ny</b>&amp;<v A>z\r\n`;
  const file = parseVtt(text);
  const [cue] = file.cues;
  if (cue === undefined) throw new Error("no cue");

  test("blocks have their lines and spans", () => {
    const spans = file.blocks.map(({ kind, line, from, to }) => [kind, line, text.slice(from, to).slice(0, 6)]);
    expect(spans).toEqual([
      ["note", 3, "NOTE a"],
      ["lost", 6, "lost"],
      ["cue", 9, "id\r\n00"],
    ]);
    expect(file.header.title).toBe("x");
    expect(file.blocks[0]).toMatchObject({ words: "a\nb" });
    expect(text.slice(cue.timings, cue.timings + 9)).toBe("00:01.000");
    expect(text.slice(cue.payload, cue.to)).toBe("<b>x\r\ny</b>&amp;<v A>z");
  });
  test("settings have theirs", () => {
    const places = placesOf(file, cue).map(({ name, from, to }) => [
      name,
      from - cue.timings + 1,
      text.slice(from, to),
    ]);
    expect(places).toEqual([
      ["align", 25, "align:end"],
      ["line", 36, "line:0"],
    ]);
    expect(settingsText(file, cue)).toBe("align:end line:0");
  });
  test("nodes of the cue text have theirs", () => {
    const nodes = parseCue(file, cue);
    expect(showTree(nodes)).toBe('b("x\\ny") "&" v "A"("z")');
    expect(nodes.map((node) => [node.line, node.column, text.slice(node.from, node.to)])).toEqual([
      [10, 1, "<b>x\r\ny</b>"],
      [11, 6, "&amp;"],
      [11, 11, "<v A>z"],
    ]);
  });
});
