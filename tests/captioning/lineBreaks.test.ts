import { expect, test } from "vitest";
import { intoLines } from "../../src/derive/captioning/lineBreaks.ts";
import { CAPTION_FIGURES } from "../../src/model/captions.ts";

// 37 characters a line, two lines: BBC Subtitle Guidelines v1.2.5 §3.1, §3.3.
test.each([
  ["short enough for one", "Not tomorrow, I am afraid.", 1],
  ["two lines, at a clause", "and fresh, at about 25 knots around the Skerrow Bank.", 2],
  ["lines that were there before are forgotten", "at about\n25 knots", 1],
])("%s", (_why, words, lines) => {
  const laid = intoLines(words, CAPTION_FIGURES).split("\n");
  expect(laid).toHaveLength(lines);
  expect(laid.join(" ")).toBe(words.replace(/\s+/g, " "));
  for (const line of laid) expect(line.length).toBeLessThanOrEqual(37);
});
