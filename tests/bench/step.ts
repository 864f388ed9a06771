import { buildSite, showArchive } from "../../src/cli/build.ts";
import { planEpisode } from "../../src/cli/episodePlan.ts";
import { settingOf } from "../../src/pages/site.ts";
import { readArchive } from "../../src/read/archive.ts";
import { indexPages } from "../../src/search/indexPage.tsx";
import { writeIndex } from "../../src/write/pagefind.ts";

/** One measured step in a process of its own: `node --import tsx step.ts build|index CONTENT OUT`. Prints JSON. */

const [what, content = "", out = ""] = process.argv.slice(2);
const now = new Date("2026-10-12T20:00:00Z");
const NO_ASSETS = { style: "", mark: "", fonts: [], player: "", search: "", poster: "assets/poster" };

async function searchRecords() {
  const { archive } = await readArchive(content);
  if (archive === null) throw new Error(`${content} can't be read`);
  const shown = showArchive(archive, { date: "2026-10-12", until: "2026-10-12T23:59:59Z" }, true);
  const setting = settingOf(archive.programme, NO_ASSETS);
  return shown.flatMap((own) => planEpisode(own, { earlier: null, later: null }, setting).search);
}

const prepared = what === "index" ? await searchRecords() : [];
const start = performance.now();
if (what === "build") await buildSite({ content, out, on: null, now, drafts: true });
else await writeIndex(indexPages(prepared), out, "en-GB");
const seconds = (performance.now() - start) / 1000;
console.log(JSON.stringify({ seconds, peakMb: Math.round(process.resourceUsage().maxRSS / 1024) }));
