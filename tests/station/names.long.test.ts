import { existsSync } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { newFolder, removeFolder } from "../support/site.ts";

const SMALL = resolve(import.meta.dirname, "../fixtures/small/content");

let top = "";
beforeAll(async () => {
  top = await newFolder();
});
afterAll(() => removeFolder(top));

// One build for each: a fault ends it before anything is written.
test.each([
  ["around a kind of page, in Nunjucks", "_includes/year.njk", "{{ content }}{{ programme.titel }}", "programme"],
  ["around a kind of page, in Liquid", "_includes/segment.liquid", "{{ content }}{{ segment.titel }}", "segment"],
  ["around a segment, of its episode", "_includes/segment.liquid", "{{ content }}{{ episode.titel }}", "episode"],
  ["on a page of the station's own", "latest.njk", "{{ programme.titel }}", "programme"],
])("a name that does not exist is a fault %s", async (_where, file, text, name) => {
  const own = join(top, `${name}-${file.replace(/\W/g, "-")}`);
  await mkdir(dirname(join(own, file)), { recursive: true });
  await writeFile(join(own, file), text);
  const options = { content: SMALL, out: join(top, "site"), own, on: null, drafts: false };
  const { site, findings } = await buildSite({ ...options, now: new Date("2026-12-01T12:00:00Z") });
  expect(site).toBeNull();
  const [finding] = findings.filter(({ rule }) => rule === "station-template");
  expect(finding?.says).toBe(`\`${name}\` has no \`titel\`.`);
  expect(finding?.mend).toBe("Did you mean `title`?");
  expect(finding?.at.file).toBe(join(own, file));
});

test("a site is not built into the station's own folder", async () => {
  const own = join(top, "own");
  await mkdir(own);
  await writeFile(join(own, "latest.md"), "# The latest");
  const options = { content: SMALL, out: join(own, "site"), own, on: null, drafts: false };
  await expect(buildSite({ ...options, now: new Date("2026-12-01T12:00:00Z") })).rejects.toThrow(/Name another folder/);
  expect(existsSync(join(own, "site"))).toBe(false);
});
