import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Eleventy from "@11ty/eleventy";
import { planEpisode } from "../../src/build/episodePlan.ts";
import { dayTextOf } from "../../src/build/readEpisode.ts";
import { keepHeapSmall } from "../../src/cli/heap.ts";
import type { ArchivedEpisode } from "../../src/model/programme.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import { type ShownEpisode, showEpisode } from "../../src/record/shown.ts";
import { indexPages } from "../../src/search/indexPage.tsx";
import { writeIndex } from "../../src/write/pagefind.ts";
import { readArchive } from "../support/readArchive.ts";

/**
 * One measured step in a process of its own: `node --import tsx step.ts index|write CONTENT OUT [MORE]`. Prints the
 * seconds of what was to be measured, without what was got ready before.
 */

const [what, content = "", out = "", more] = process.argv.slice(2);

const DAY = { date: "2026-10-12", until: "2026-10-12T23:59:59Z" };

/** All records of an archive, ready. */
async function searchRecords() {
  const { archive } = readArchive(content);
  if (archive === null) throw new Error(`${content} can't be read`);
  const shown = archive.episodes.flatMap((own) => shownOn(own)).filter(({ draft }) => !draft);
  const setting = pageContextOf(archive.programme, NO_ASSETS);
  return shown.flatMap((own) => [...indexPages(planEpisode(own, { earlier: null, later: null }, setting).search)]);
}

function shownOn(own: ArchivedEpisode): readonly ShownEpisode[] {
  const then = dayTextOf(own, DAY);
  return then === null ? [] : [showEpisode(then, DAY.date)];
}

/** The site engine alone: so many pages of so many bytes, as `1000x20000`, from a string that is ready. */
async function writePages(): Promise<void> {
  const [count = 0, bytes = 0] = (more ?? "").split("x").map(Number);
  const input = join(out, "templates");
  mkdirSync(input, { recursive: true });
  const template = {
    data: `{ pagination: { data: "pages", size: 1, alias: "n" }, permalink: ({ n }) => \`\${n}/index.html\`, eleventyExcludeFromCollections: true }`,
    render: "({ text }) => text",
  };
  writeFileSync(
    join(input, "page.11ty.mjs"),
    `export const data = ${template.data};\nexport const render = ${template.render};\n`,
  );
  const eleventy = new Eleventy(input, join(out, "site"), {
    quietMode: true,
    config(config) {
      config.setUseGitIgnore(false);
      config.addGlobalData(
        "pages",
        Array.from({ length: count }, (_, n) => n),
      );
      config.addGlobalData("text", "x".repeat(bytes));
    },
  });
  eleventy.disableLogger();
  await eleventy.write();
}

keepHeapSmall();
const records = what === "index" ? await searchRecords() : [];
const start = performance.now();
if (what === "index") await writeIndex(records, out, "en-GB");
else await writePages();
console.log(JSON.stringify({ seconds: (performance.now() - start) / 1000 }));
