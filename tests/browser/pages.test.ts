import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { AxeResults } from "axe-core";
import { HtmlValidate } from "html-validate";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { FRAMED_KINDS } from "../../src/station/folder.ts";
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
/** Every width in one of the two: what changes with the width is laid out alike in both. */
const LOOKS = [
  ["light", [1440, 390]],
  ["dark", [820, 320]],
] as const;

const axeSource = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

describe.skipIf(BROWSER === null)(`every page${UNLESS_BROWSER}`, () => {
  const here = opening();

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

  test.each(Object.entries(KINDS))(
    "%s: no barrier that axe knows, in light and dark, at any width",
    async (_kind, path) => {
      for (const [colorScheme, widths] of LOOKS) {
        const seen = await visit(here.browser, { colorScheme });
        await goTo(seen.page, here.demo.url + path);
        await seen.page.evaluate(axeSource);
        for (const width of widths) {
          await seen.page.setViewportSize({ width, height: 900 });
          expect(await barriers(seen.page), `${colorScheme}, ${width} px`).toEqual([]);
        }
        await seen.close();
      }
    },
  );

  test.each(Object.entries(KINDS))("%s: no sideways scroll at 320 px", async (_kind, path) => {
    const seen = await visit(here.browser, { viewport: { width: 320, height: 640 } });
    await goTo(seen.page, here.demo.url + path);
    const [wide, window] = await seen.page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    expect(wide).toBeLessThanOrEqual(window ?? 0);
    await seen.close();
  });

  test("no sentence stands in a column of a few letters, at any width", async () => {
    const seen = await visit(here.browser);
    for (const path of Object.values(KINDS)) {
      await goTo(seen.page, here.demo.url + path);
      for (const width of [1440, 1100, 820, 390]) {
        await seen.page.setViewportSize({ width, height: 900 });
        const narrow = await seen.page.evaluate(() =>
          [...document.querySelectorAll("p, dd, li, blockquote, figcaption, h1, h2")]
            .filter((own) => (own.textContent ?? "").trim().length > 40 && own.checkVisibility())
            .filter((own) => own.closest(".vh, table") === null && own.getBoundingClientRect().width < 100)
            .map((own) => own.outerHTML.slice(0, 120)),
        );
        expect(narrow, `/${path}, ${width} px`).toEqual([]);
      }
    }
    await seen.close();
  });

  async function barriers(page: import("playwright-core").Page): Promise<readonly string[]> {
    const { violations } = await page.evaluate(async () => {
      const { axe } = window as unknown as { axe: { run(root: Document, options: object): Promise<AxeResults> } };
      return axe.run(document, {
        rules: { "target-size": { enabled: true }, "color-contrast-enhanced": { enabled: true } },
      });
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target, failureSummary }) => `${id}: ${target} ${failureSummary}`),
    );
  }
});

describe("every page as it is written", () => {
  let demo: Demo;
  beforeAll(async () => {
    demo = await openDemo();
  });
  afterAll(() => demo?.close());

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
