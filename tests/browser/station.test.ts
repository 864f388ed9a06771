import { describe, expect, test } from "vitest";
import { STATION } from "../support/station.ts";
import { barriers } from "./barriers.ts";
import { BROWSER, goTo, UNLESS_BROWSER, visit } from "./chromium.ts";
import { CONTENT, openDemo } from "./demo.ts";
import { opening } from "./visiting.ts";

const KINDS = {
  home: "",
  episode: "2026-10-05/",
  segment: "2026-10-05/hallan-light/",
  "not found": "nowhere/",
  "a page with pagination": "evenings/2026-10-05/",
  "a page of all lists": "everything/",
  "a page in Markdown": "newest/",
  "a page in TypeScript": "topics-and-places/",
} as const;

describe.skipIf(BROWSER === null)(`pages in a station's own templates${UNLESS_BROWSER}`, () => {
  const here = opening(() => openDemo(CONTENT, `${STATION}/own`));

  test.each(Object.entries(KINDS))("%s: no barrier that axe knows, in light and dark", async (_kind, path) => {
    const { page, close } = await visit(here.browser);
    await goTo(page, here.demo.url + path);
    expect(await page.textContent("aside.line")).toContain("You hear Verrin Islands Broadcasting");
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await barriers(page), colorScheme).toEqual([]);
    }
    await close();
  });

  test("no page asks anything of anybody else or meets a refusal", async () => {
    const seen = await visit(here.browser);
    for (const path of here.demo.pages) await goTo(seen.page, here.demo.url + path);
    expect(seen.requests.filter((address) => !address.startsWith(here.demo.url))).toEqual([]);
    expect(seen.problems).toEqual([]);
    await seen.close();
  });
});
