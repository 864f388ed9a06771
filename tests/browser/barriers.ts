import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { AxeResults, RunOptions } from "axe-core";
import type { Page } from "playwright-core";

const AXE = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What the site holds to beyond the rules that axe asks by itself. */
const MORE = { "target-size": { enabled: true }, "color-contrast-enhanced": { enabled: true } };

/**
 * The barriers that axe finds in a page as it is, each as rule, place and reason. What passes is neither described nor
 * handed over: that took longer than to look at it.
 * @param within a selector: only what is in the first that it meets. @param rules left out: all, `MORE` too.
 */
export async function barriers(
  page: Page,
  { within = "html", rules = MORE }: { readonly within?: string; readonly rules?: RunOptions["rules"] } = {},
): Promise<readonly string[]> {
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(AXE);
  return page.evaluate(
    async ([selector, own]) => {
      const { axe } = window as unknown as { axe: { run(root: Node, options: RunOptions): Promise<AxeResults> } };
      const root = document.querySelector(selector);
      if (root === null) throw new Error(`The page has no ${selector}.`);
      const { violations } = await axe.run(root, { rules: own, resultTypes: ["violations"] });
      return violations.flatMap(({ id, nodes }) =>
        nodes.map(({ target, failureSummary }) => `${id}: ${target} ${failureSummary}`),
      );
    },
    [within, rules ?? {}] as const,
  );
}
