import fc from "fast-check";
import { h } from "preact";
import { renderToString } from "preact-render-to-string";
import { expect, test } from "vitest";
import { renderMarkdown } from "../../src/derive/markdown.ts";
import { textOf } from "../../src/model/ownHtml.ts";

test("what is set is read back, whatever signs are in it, and no attribute with it", () => {
  const text = fc.string({ unit: fc.constantFrom(..."ab<>&\"'; x#39"), minLength: 1 });
  fc.assert(
    fc.property(text, text, (words, attribute) => {
      const html = renderToString(h("main", { title: attribute }, h("b", {}, words)));
      expect(textOf(html)).toBe(words.replace(/\s+/g, " ").trim());
    }),
  );
});
test("so is a text written by hand", () => {
  expect(textOf(renderMarkdown('“Fish” & <chips> cost *5 < 6*; see [a "b"](https://example.org/?a&b).', "/"))).toBe(
    '“Fish” & <chips> cost 5 < 6; see a "b".',
  );
});
