import { describe, expect, test } from "vitest";
import { findRuns, isBinary } from "../../src/scan/find.ts";
import { textsIn } from "../../src/scan/texts.ts";
import { digestOfRun, runsIn, wordsIn } from "../../src/scan/words.ts";

/** The runs of three words in a file. */
const runs = (path: string, text: string) => findRuns(path, text, () => true);

describe("words", () => {
  test.each([
    ["case and punctuation", "Sore KNEE, – first!", ["sore", "knee", "first"]],
    ["either apostrophe, or none", "that’s that's thats", ["thats", "thats", "thats"]],
    ["a soft hyphen and a joiner that nobody sees", "so\u00adre kn\u200dee", ["sore", "knee"]],
    ["letters in compatibility forms", "ﬁrst ＳＯＲＥ", ["first", "sore"]],
    ["an accent apart", "re\u0301sume\u0301", ["résumé"]],
    ["nothing", " – … ", []],
    ["a lone surrogate", "a\ud800b", ["a", "b"]],
  ])("%s", (_why, text, words) => {
    expect(wordsIn(text)).toEqual(words);
  });

  test("runs of three; fewer words have none", () => {
    expect(runsIn(["a", "b", "c", "d"])).toEqual(["a b c", "b c d"]);
    expect(runsIn(["a", "b"])).toEqual([]);
  });

  test("digests differ with a word's place and fit into a number", () => {
    const digests = ["a b c", "a c b", "ab c", "b c d"].map(digestOfRun);
    expect(new Set(digests).size).toBe(4);
    expect(digests.every(Number.isSafeInteger)).toBe(true);
  });
});

describe("a run is found", () => {
  test.each([
    ["text", "a.html", "<p>so sore knee first</p>"],
    ["over tags inside a line", "a.html", '<p>sore <a href="#x"><b>knee</b></a> first</p>'],
    ["over the end of a line", "a.html", "<p>sore\n   knee\r\n first</p>"],
    ["with references", "a.html", "<p>s&#111;re&nbsp;knee&#x20;first</p>"],
    ["in an attribute", "a.html", `<a title='x "sore knee first"'>y</a>`],
    ["in an attribute without quotes, encoded as an address", "a.html", "<a href=/search/?q=sore%20knee+first>y</a>"],
    ["in a comment", "a.html", "<!-- x --><p>y</p><!-- sore knee first -->"],
    [
      "in data for machines",
      "a.html",
      '<script type="application/ld+json">{"a":["x","\\u0073ore\\nknee first"]}</script>',
    ],
    ["in a script", "a.html", "<script>const x = 'sore knee first';</script>"],
    ["after a script", "a.html", "<script>const x = 1;</script><p>sore <i>knee</i> first</p>"],
    ["in a style", "a.html", "<style>p::after { content: 'sore knee first' }</style>"],
    ["after a tag that nobody closed", "a.html", "<p>x <b>sore knee first"],
    [
      "in a feed's page in references",
      "a.xml",
      "<content>&lt;p&gt;sore &lt;b&gt;knee&lt;/b&gt; first&lt;/p&gt;</content>",
    ],
    ["in a feed's verbatim text", "a.xml", '<x><![CDATA[<p a="b">sore knee first</p> a = b]]></x>'],
    ["in JSON", "a.json", '{"a":{"b":"sore knee\\tfirst"}}'],
    ["as a name in JSON", "a.json", '{"sore knee first":1}'],
    ["in JSON in JSON", "a.json", JSON.stringify({ a: JSON.stringify({ b: "sore knee first" }) })],
    [
      "in markup in JSON",
      "a.json",
      JSON.stringify({ html: '<span id="{&quot;a&quot;:&quot;sore\\u0020knee first&quot;}">' }),
    ],
    ["in a fragment of the index", "a.pf_fragment", 'pagefind_dcd{"content":"so sore knee first"}'],
    ["in a caption of two lines", "a.vtt", "WEBVTT\n\n1\n00:01.000 --> 00:02.000\n<v Ann>sore knee\n<v Ann>first"],
    ["as a caption's voice", "a.vtt", "WEBVTT\n\n00:01.000 --> 00:02.000\n<v sore knee first>x"],
    ["in plain text after a time", "a.txt", "[0:01] ANN: sore knee\nfirst"],
    ["in a file of no known kind", "a.x", "sore knee first"],
  ])("%s", (_why, path, text) => {
    expect(runs(path, text)).toContain("sore knee first");
  });
});

describe("words that are not read one after the other make no run", () => {
  test.each([
    ["paragraphs", "a.html", "<p>sore</p><p>knee first</p>"],
    ["an attribute and its element", "a.html", '<p title="sore knee">first</p>'],
    ["strings of JSON", "a.json", '["sore knee","first"]'],
    ["captions", "a.vtt", "WEBVTT\n\n00:01.000 --> 00:02.000\nsore knee\n\n00:02.000 --> 00:03.000\nfirst"],
    ["paragraphs of plain text", "a.txt", "sore knee\n\nfirst"],
  ])("%s", (_why, path, text) => {
    expect(runs(path, text)).not.toContain("sore knee first");
  });
});

describe("whatever comes is read", () => {
  test.each([
    ["nothing", ""],
    ["angles", "<<<>>><a <b"],
    ["an open quote", '<a title="x><p>y'],
    ["open JSON", '{"a":"x'],
    ["references to nothing", "&&amp;&#xFFFFFFF;&nope;"],
    ["percent signs", "100%zz %E0%A4%A"],
    ["markup in markup in markup", "&lt;p&amp;gt;".repeat(50)],
  ])("%s", (_why, text) => {
    for (const path of ["a.html", "a.json", "a.vtt", "a.txt"]) expect(() => textsIn(path, text)).not.toThrow();
  });

  test.each(["<", '<a x="', "&lt;", '"\\', "<!--", "<script>", "a-->"])(
    "400,000 characters of %s, in no long time",
    (piece) => {
      const text = piece.repeat(400_000 / piece.length);
      for (const path of ["a.html", "a.json", "a.txt"]) expect(textsIn(path, text)).toBeDefined();
    },
  );
});

test("files with zero bytes have no words", () => {
  expect(isBinary(Buffer.from("sore\0knee"))).toBe(true);
  expect(isBinary(Buffer.from("sore knee"))).toBe(false);
});
