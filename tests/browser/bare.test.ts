import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { HtmlValidate } from "html-validate";
import { describe, expect, test } from "vitest";
import { beginStation } from "../../src/actions/begin.ts";
import { barriers } from "./barriers.ts";
import { BROWSER, goTo, UNLESS_BROWSER, visit } from "./chromium.ts";
import { type Demo, openDemo } from "./demo.ts";
import { opening } from "./visiting.ts";

/**
 * A station of four keys: no poster, presenters, slot, station or address for reports. One episode without a recording;
 * on the next day one that is not divided, and a second edition with sound alone.
 */
async function openBare(): Promise<Demo> {
  const around = await mkdtemp(join(tmpdir(), "bare-"));
  const content = join(around, "content");
  const [title, url] = ["The Evening Tide", "https://tide.example.org/"];
  await beginStation(content, { title, timezone: "Europe/London", language: "en-GB", url });
  const year = join(content, "episodes/2026");
  const undivided = (at: string, media: string) =>
    `---\ntitle: As it came at ${at}\naired: 2026-10-06T${at}:00\nduration: 0:30\n${media}clock: aired\n---\n`;
  for (const [id, at, media] of [
    ["2026-10-06", "18:30", ""],
    ["2026-10-06-late", "22:30", "media: [{ src: web.mp3, type: audio/mpeg }]\n"],
  ] as const) {
    await cp(join(year, "2026-10-05"), join(year, id), { recursive: true });
    await writeFile(join(year, id, "episode.md"), undivided(at, media));
  }
  await cp("content/episodes/2026/2026-10-05/web.mp3", join(year, "2026-10-06-late/web.mp3"));
  const demo = await openDemo(content);
  return {
    ...demo,
    async close() {
      await demo.close();
      await rm(around, { recursive: true, force: true });
    },
  };
}

describe.skipIf(BROWSER === null)(`a station that has said no more than it must${UNLESS_BROWSER}`, () => {
  const here = opening(openBare);

  test("has pages without a barrier that axe knows, or a sideways scroll, and nothing that fails", async () => {
    for (const width of [1440, 390]) {
      const seen = await visit(here.browser, { viewport: { width, height: 900 } });
      for (const path of here.demo.pages) {
        await goTo(seen.page, here.demo.url + path);
        expect(await barriers(seen.page), `${path}, ${width} px`).toEqual([]);
        const over = await seen.page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect(over, `${path}, ${width} px`).toBeLessThanOrEqual(0);
      }
      expect(seen.problems).toEqual([]);
      await seen.close();
    }
  });

  test("has pages of valid HTML, with nothing made up for what is missing", async () => {
    const validator = new HtmlValidate({
      extends: ["html-validate:recommended", "html-validate:document"],
      rules: {
        "void-style": "off",
        "long-title": "off",
        "valid-id": ["error", { relaxed: true }],
        "require-sri": ["error", { target: "crossorigin" }],
        "form-dup-name": ["error", { shared: ["radio", "checkbox"] }],
      },
    });
    for (const path of here.demo.pages) {
      const html = await readFile(join(here.demo.folder, path, "index.html"), "utf8");
      const { results } = await validator.validateString(html, path);
      expect(results.flatMap(({ messages }) => messages.map(({ ruleId }) => `${path}: ${ruleId}`))).toEqual([]);
      expect(html, path).not.toMatch(/undefined|null[",.<]|Report an error|poster=|class="poster"/);
    }
  });

  test("plays where there is a recording, with every word under it, and else says that there is none", async () => {
    const seen = await visit(here.browser);
    await goTo(seen.page, `${here.demo.url}2026-10-06-late/`);
    expect(await seen.page.locator("video").count()).toBe(1);
    expect(await seen.page.locator("#page\\.words").textContent()).toContain("first to the outer skerries");
    for (const path of ["2026-10-05/", "2026-10-05/weather/", "2026-10-06/", "2026-10-06/programme/"]) {
      await goTo(seen.page, here.demo.url + path);
      expect(await seen.page.locator("video").count(), path).toBe(0);
      expect(await seen.page.locator("main").textContent(), path).toContain("There is no recording of this edition");
      expect(await seen.page.locator("#page\\.words").textContent()).toContain("first to the outer skerries");
    }
    await seen.close();
  });
});
