import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { HtmlValidate } from "html-validate";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { FRAMED_KINDS } from "../../src/station/folder.ts";
import { barriers } from "./barriers.ts";
import { BROWSER, goTo, UNLESS_BROWSER, visit } from "./chromium.ts";
import { type Demo, openDemo } from "./demo.ts";
import { opening } from "./visiting.ts";

/** One of each kind. */
const ONE_OF_EACH: Readonly<Record<(typeof FRAMED_KINDS)[number], string>> = {
  home: "",
  episode: "2026-10-05/",
  segment: "2026-10-05/hallan-light/",
  corrections: "corrections/",
  correction: "corrections/2026-10-06-1/",
  search: "search/",
  year: "2026/",
  walk: "2026/10/",
  names: "topics/",
  text: "corrections-policy/",
  record: "record/",
  missing: "nowhere/",
  own: "islands/",
};
const KINDS = {
  ...ONE_OF_EACH,
  "a name": "topics/transport/",
  "episode with something withheld": "2026-10-07/",
  "search with results": "search/?q=sailings",
};

let demo: Demo;
beforeAll(async () => {
  demo = await openDemo();
});
afterAll(() => demo?.close());

describe.skipIf(BROWSER === null)(`every page${UNLESS_BROWSER}`, () => {
  const here = opening(async () => ({ ...demo, close: async () => undefined }));

  test.each([true, false])(
    "asks nothing of anybody else and meets no refusal; script: %s",
    async (javaScriptEnabled) => {
      const seen = await visit(here.browser, { javaScriptEnabled });
      for (const path of here.demo.pages) await goTo(seen.page, here.demo.url + path);
      expect(here.demo.pages.length).toBeGreaterThan(20);
      expect(seen.requests.filter((address) => !address.startsWith(here.demo.url))).toEqual([]);
      expect(seen.problems).toEqual([]);
      await seen.close();
    },
  );

  // Every width in one of the two: what changes with the width is laid out alike in both.
  test.each(Object.entries(KINDS))(
    "%s: in light, no barrier that axe knows, and no sentence in a column of a few letters, at any width",
    async (_kind, path) => {
      const { page, close } = await visit(here.browser, { colorScheme: "light" });
      await goTo(page, here.demo.url + path);
      for (const width of [1440, 1100, 820, 390]) {
        await page.setViewportSize({ width, height: 900 });
        expect(await narrowColumns(page), `${width} px`).toEqual([]);
        if (width === 1440 || width === 390) expect(await barriers(page), `${width} px`).toEqual([]);
      }
      await close();
    },
  );

  test.each(Object.entries(KINDS))(
    "%s: in dark, no barrier that axe knows, and no sideways scroll at 320 px",
    async (_kind, path) => {
      const { page, close } = await visit(here.browser, { colorScheme: "dark", viewport: { width: 320, height: 640 } });
      await goTo(page, here.demo.url + path);
      const [wide, window] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
      expect(wide).toBeLessThanOrEqual(window ?? 0);
      for (const width of [320, 820]) {
        await page.setViewportSize({ width, height: 900 });
        expect(await barriers(page), `${width} px`).toEqual([]);
      }
      await close();
    },
  );
});

/** Sentences that stand in a column of a few letters. */
const narrowColumns = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll("p, dd, li, blockquote, figcaption, h1, h2")]
      .filter((own) => (own.textContent ?? "").trim().length > 40 && own.checkVisibility())
      .filter((own) => own.closest(".vh, table") === null && own.getBoundingClientRect().width < 100)
      .map((own) => own.outerHTML.slice(0, 120)),
  );

describe("every page as it is written", () => {
  test("is valid HTML", async () => {
    const validator = new HtmlValidate({
      extends: ["html-validate:recommended", "html-validate:document"],
      rules: {
        "void-style": "off", // the serialiser closes void elements with a slash, which HTML allows
        "long-title": "off", // a headline may be longer than a search engine shows
        "valid-id": ["error", { relaxed: true }], // `t=221` is a paragraph's id
        "require-sri": ["error", { target: "crossorigin" }],
        "form-dup-name": ["error", { shared: ["radio", "checkbox"] }],
      },
    });
    const faults: string[] = [];
    for (const path of [...demo.pages.map((page) => `${page}index.html`), "404.html"]) {
      const { results } = await validator.validateString(await readFile(join(demo.folder, path), "utf8"), path);
      for (const { messages } of results)
        faults.push(...messages.map(({ ruleId, message }) => `${path}: ${ruleId}: ${message}`));
    }
    expect(faults).toEqual([]);
  });
});
