import { describe, expect, test } from "vitest";
import { BROWSER, goTo, UNLESS_BROWSER, visit } from "./chromium.ts";
import { opening } from "./visiting.ts";

const PAGES = ["", "2026-10-05/", "2026-10-06/", "2026-10-05/hallan-light/", "corrections/", "record/", "2026/"];

describe.skipIf(BROWSER === null)(`on paper${UNLESS_BROWSER}`, () => {
  const here = opening();

  // Columns are broken by the rules that break pages, and can be looked at: every one is a page, of many heights in turn.
  test.each(PAGES)("no heading of /%s ends a page", async (path) => {
    const seen = await visit(here.browser, { viewport: { width: 700, height: 900 } });
    await seen.page.emulateMedia({ media: "print" });
    await goTo(seen.page, here.demo.url + path);
    const orphans = await seen.page.evaluate(() => {
      const [wide, gap] = [640, 40];
      const found = new Set<string>();
      Object.assign(document.body.style, {
        display: "block",
        inlineSize: `${wide}px`,
        columnWidth: `${wide}px`,
        columnGap: `${gap}px`,
        columnFill: "auto",
        minBlockSize: "0",
      });
      for (let high = 500; high < 1100; high += 29) {
        document.body.style.blockSize = `${high}px`;
        const lines: { of: Element; column: number }[] = [];
        const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        const range = document.createRange();
        while (texts.nextNode()) {
          const of = texts.currentNode.parentElement;
          if (of === null || texts.currentNode.textContent?.trim() === "" || !of.checkVisibility()) continue;
          range.selectNodeContents(texts.currentNode);
          for (const { left, width, height } of range.getClientRects())
            if (width > 2 && height > 4) lines.push({ of, column: Math.floor((left + gap / 2) / (wide + gap)) });
        }
        lines.forEach(({ of, column }, at) => {
          const heading = of.closest("h1, h2, h3, .speaker, .slate");
          const next = lines.slice(at + 1).find((line) => heading?.contains(line.of) === false);
          if (next === undefined || next.of.closest(".margin-note, .colophon") !== null) return;
          if (next.column > column) found.add(`${heading?.textContent} (${high} px)`);
        });
      }
      return [...found];
    });
    expect(orphans).toEqual([]);
    await seen.close();
  });
});
