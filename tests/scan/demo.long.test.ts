import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { build, DEMO, newFolder, removeFolder } from "../support/site.ts";

let folder = "";
beforeAll(async () => {
  folder = await newFolder();
});
afterAll(() => removeFolder(folder));

test.each([["2026-10-12"], ["2026-10-05"], ["2026-10-08"]])("the demo on %s is built without a hit", async (day) => {
  const { findings, site } = await build(DEMO, join(folder, day), day);
  expect(findings.filter(({ level }) => level === "blocks")).toEqual([]);
  expect(site).not.toBeNull();
});
