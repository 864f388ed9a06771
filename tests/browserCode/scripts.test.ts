import { gzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { buildScripts } from "../../src/write/scripts.ts";

describe("the scripts of the pages", () => {
  test("come out byte for byte the same, and small", async () => {
    const [one, two] = [await buildScripts(), await buildScripts()];
    for (const [name, most] of [
      ["player", 9.5],
      ["search", 14.5],
      ["quote", 7],
      ["counts", 3],
      ["suggest", 1.5],
    ] as const) {
      expect(Buffer.from(two[name]).equals(one[name]), name).toBe(true);
      expect(gzipSync(one[name], { level: 9 }).length, name).toBeLessThan(most * 1024);
    }
  });

  test("write no markup and run no text", async () => {
    const { player, search, quote, counts, suggest } = await buildScripts();
    const text = Buffer.concat([player, search, quote, counts, suggest]).toString();
    expect(text).not.toMatch(/innerHTML|outerHTML\s*\+?=|insertAdjacentHTML|document\.write|\beval\b|new Function/);
  });
});
