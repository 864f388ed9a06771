import { describe, expect, test } from "vitest";
import { parseCueText, voicePieces } from "../../src/webvtt/index.ts";
import { showTree } from "./show.ts";

describe("tokens and trees (WebVTT §6.4)", () => {
  test.each([
    ["nothing", "", ""],
    ["a greater-than sign", "a > b", '"a > b"'],
    ["a class alone", "<c>x</c>", 'c("x")'],
    ["classes and an annotation", "<v.a.b Ilse>x", 'v.a.b "Ilse"("x")'],
    ["a class of odd characters", "<c.a/b&amp;>x", 'c.a/b&amp;("x")'],
    ["a newline ends the name", "<v\nIlse\n\nM>x", 'v "Ilse M"("x")'],
    ["a newline ends a class", "<v.a\nIlse>x", 'v.a "Ilse"("x")'],
    ["a form feed ends the name", "<v\fIlse>x", 'v "Ilse"("x")'],
    ["a tag that begins with space", "< v Ilse>x", '"x"'],
    ["a tag that begins with a full stop", "<.a>x", '"x"'],
    ["an empty tag", "<>x", '"x"'],
    ["an empty end tag", "x</>y", '"x" "y"'],
    ["an annotation may hold <", "<v a<b>x", 'v "a<b"("x")'],
    ["references in an annotation are trimmed too", "<v &#32;Ilse&#9;&#10;M&nbsp;>x", 'v "Ilse M\u00A0"("x")'],
    ["a reference may not reach out of an annotation", "<v a&lt>x", 'v "a<"("x")'],
    ["a bare ampersand in an annotation", "<v A & B>x", 'v "A & B"("x")'],
    ["an end tag with classes closes nothing", "<b>x</b.a>y", 'b("x" "y")'],
    ["ruby closes rt", "<ruby>a<rt>b</ruby>c", 'ruby("a" rt("b")) "c"'],
    ["ruby does not close a span in rt", "<ruby>a<rt><b>b</ruby>c", 'ruby("a" rt(b("b" "c")))'],
    ["rt in rt is ignored", "<ruby>a<rt>b<rt>c", 'ruby("a" rt("b" "c"))'],
    ["a closed tag at the end", "x</b", '"x"'],
    ["an annotation to the end", "<v Ilse", 'v "Ilse"()'],
    ["hours in a time", "<1:00:01.000>", "<3601>"],
    ["a time at the end without >", "a<00:01.000", '"a" <1>'],
    ["a time with a newline", "a<00:01.000\n>", '"a"'],
    ["numeric references without semicolon", "&#65B&#x41G", '"ABAG"'],
    ["digits missing", "&#;&#x;&#xg", '"&#;&#x;&#xg"'],
    ["a carriage return by reference stays one", "a&#13;b", '"a\\rb"'],
    ["two code points of one name", "&NotEqualTilde;", '"\u2242\u0338"'],
    ["the longest name counts", "&notin;&notinx", '"∉¬inx"'],
    ["names know capitals", "&AMP;&aMp;", '"&&aMp;"'],
    ["a reference ends before a tag", "&am<b>p;", '"&am" b("p;")'],
  ])("%s", (_why, text, tree) => expect(showTree(parseCueText(text))).toBe(tree));

  test("nodes know the language they stand in", () => {
    const [lang] = parseCueText("<lang cy><b>x</b></lang>");
    expect(lang).toMatchObject({ language: "cy", children: [{ language: "cy" }] });
  });

  test("a hundred thousand open tags are no trouble", () => {
    const pieces = voicePieces(parseCueText(`${"<b>".repeat(100_000)}x`));
    expect(pieces).toEqual([{ voice: null, language: null, words: "x" }]);
  });
});

describe("pieces of one voice and one language", () => {
  const piece = (voice: string | null, words: string, language: string | null = null) => ({ voice, language, words });
  test.each([
    ["no voice", "a <b>b</b> c", [piece(null, "a b c")]],
    ["no words", "", []],
    ["one voice", "<v Ilse>a <i>b</i>", [piece("Ilse", "a b")]],
    [
      "two voices, the line end with the first",
      "<v Ilse>a</v>\n<v Tom>b</v>",
      [piece("Ilse", "a\n"), piece("Tom", "b")],
    ],
    ["the innermost voice", "<v Ilse>a<v Tom>b</v>c", [piece("Ilse", "a"), piece("Tom", "b"), piece("Ilse", "c")]],
    ["words after a voice", "<v Ilse>Hi</v> there", [piece("Ilse", "Hi"), piece(null, " there")]],
    ["space before a voice", " <v Ilse>a", [piece("Ilse", " a")]],
    ["one voice twice", "<v Ilse>a</v> <v Ilse>b</v>", [piece("Ilse", "a b")]],
    ["a language inside a voice", "<v A>x <lang cy>y</lang>", [piece("A", "x "), piece("A", "y", "cy")]],
    ["no reading", "<ruby>漢<rt><v A>kan</v></rt></ruby>", [piece(null, "漢")]],
    ["a voice without a name", "<v Ilse><v>x", [piece(null, "x")]],
    ["references", "<v Ilse>R&amp;D", [piece("Ilse", "R&D")]],
    ["times fall away", "a<00:01.000>b", [piece(null, "ab")]],
  ])("%s", (_why, text, pieces) => expect(voicePieces(parseCueText(text))).toEqual(pieces));
});
