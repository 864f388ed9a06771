import { join, resolve } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { newFolder, removeFolder } from "../support/site.ts";
import { expectReviewed, readForReview } from "../support/wholeSite.ts";

/** A small content folder and its whole site, to be read in review. Written anew by UPDATE_SITE=1 npm test -- wholeSite. */
const SMALL = resolve(import.meta.dirname, "../fixtures/small");

let top = "";
beforeAll(async () => {
  top = await newFolder();
});
afterAll(() => removeFolder(top));

test("a small content folder gives the very site that was read in review", async () => {
  const out = join(top, "site");
  const options = { content: join(SMALL, "content"), out, on: null, drafts: false };
  const { findings } = await buildSite({ ...options, now: new Date("2026-12-01T12:00:00Z") });
  expect(findings.filter(({ level }) => level === "blocks")).toEqual([]);
  await expectReviewed(join(SMALL, "site"), await readForReview(out));
});
