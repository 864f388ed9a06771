import { describe, expect, test } from "vitest";
import { markdownWords, renderMarkdown } from "../../src/derive/markdown.ts";

describe("what people wrote is rendered without markup of their own, and leads nowhere it may not", () => {
  test.each([
    ["a place on this site", "[Sollen](/sollen/)", '<p><a href="/tide/sollen/">Sollen</a></p>'],
    ["another site", "[Sollen](https://sollen.example/a)", '<p><a href="https://sollen.example/a">Sollen</a></p>'],
    ["another host without a scheme", "[Sollen](//sollen.example/)", '<p><a href="//sollen.example/">Sollen</a></p>'],
    ["a reference", "[Sollen][s]\n\n[s]: /s/ 'Title'", '<p><a href="/tide/s/" title="Title">Sollen</a></p>'],
    ["a link in emphasis", "*[Sollen](/s/)*", '<p><em><a href="/tide/s/">Sollen</a></em></p>'],
    ["mail", "<desk@tide.example>", '<p><a href="mailto:desk@tide.example">desk@tide.example</a></p>'],
    ["a place on the page", "[Up](#top)", '<p><a href="#top">Up</a></p>'],
    ["letters that are not ASCII", "[Ø](/ø/)", '<p><a href="/tide/ø/">Ø</a></p>'],
    ["a script", "[Go](javascript:go)", "<p>[Go](javascript:go)</p>"],
    ["markup", "<b>bold</b>", "<p>&lt;b&gt;bold&lt;/b&gt;</p>"],
    ["a picture", "![Light](/light.jpg)", '<p>!<a href="/tide/light.jpg">Light</a></p>'],
  ])("%s", (_why, text, html) => expect(renderMarkdown(text, "/tide/")).toBe(html));

  test("each text takes its own base", () => {
    const links = ["/tide/", "https://tide.example/", "/"].map((base) => renderMarkdown("[a](/b)", base));
    expect(links.map((html) => /href="([^"]+)"/.exec(html)?.[1])).toEqual(["/tide/b", "https://tide.example/b", "/b"]);
  });

  test("as plain words", () => expect(markdownWords("# Two\n*words*  \nand `code`")).toBe("Two words and code"));
});
