import { gzipSync } from "node:zlib";
import { expect, test } from "vitest";
import { readTemplateAssets } from "../../src/write/assets.ts";

test("the style sheets come out byte for byte the same, small, and with the order of all layers first", async () => {
  const [one, two] = [await readTemplateAssets("templates"), await readTemplateAssets("templates")];
  expect(two).toEqual(one);
  const style = String(one.style.content);
  expect(gzipSync(style, { level: 9 }).length).toBeLessThan(12 * 1024);
  expect(style.startsWith("@layer reset,tokens,base,layout,parts,pages,forced,print,hidden;")).toBe(true);
  expect(style).not.toContain("/*");
  expect(style).not.toContain("@media print");
  expect(String(one.print.content)).toMatch(/^@layer print\{@media print\{/);
  for (const { path } of one.fonts) expect(style).toContain(path.replace("assets/", ""));
});
