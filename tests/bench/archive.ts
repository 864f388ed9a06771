import { readdir, stat } from "node:fs/promises";
import { cpus, totalmem } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { listEpisodes } from "../../src/read/folder.ts";
import { AFTERAIR, withAnotherStyle } from "../support/program.ts";
import { newFolder, removeFolder } from "../support/site.ts";
import { addEpisode, correctEpisode, generateArchive, LAST } from "./generate.ts";
import { type Measured, measure } from "./measure.ts";

const SIZES = [100, 1000];
/**
 * What is measured is an archive at rest: a file that was written less than two seconds ago is not relied on, and a disk
 * that still writes answers late. Milliseconds.
 */
const SETTLED_MS = 2500;
const ON = ["--on", "2026-10-12"];
/** The evening after that of `addEpisode`. */
const THE_NEXT = "2026-10-07";
/** A frame around all pages, and a page that lists segments of all years. */
const OWN = ["--own", join(import.meta.dirname, "../../templates/own")];
/** The search engine alone keeps all records of an archive in one process, some 2 MB an episode; checks take 0.1 s each. */
const MOST_ALONE = 1500;

/**
 * Builds generated archives, cold and after changes, and what nothing can beat in the same run: copying the output, the
 * search engine alone on the same records, the site engine alone writing as many pages.
 */
export async function benchArchive(sizes: readonly number[] = SIZES): Promise<void> {
  const { length: cores } = cpus();
  console.log(`Archives on ${cores} cores, ${Math.round(totalmem() / 2 ** 30)} GiB, Node ${process.version}.`);
  console.log("| episodes | step | seconds | largest process, MB | together, MB |");
  console.log("|---|---|---|---|---|");
  for (const size of sizes) {
    const folder = await newFolder();
    try {
      await benchSize(size, folder);
    } finally {
      await removeFolder(folder);
    }
  }
}

async function benchSize(size: number, folder: string): Promise<void> {
  const [content, site] = [join(folder, "content"), join(folder, "site")];
  await generateArchive(content, size);
  const row = (step: string, { seconds, largestMb, togetherMb }: Measured): void => {
    const figure = (mb: number | null) => (mb === null ? "" : mb.toFixed(0));
    console.log(`| ${size} | ${step} | ${seconds.toFixed(2)} | ${figure(largestMb)} | ${figure(togetherMb)} |`);
  };
  const build = async (step: string, afterair = AFTERAIR, more: readonly string[] = []): Promise<Measured> => {
    await measure("sync", []);
    await pause(SETTLED_MS);
    const asked = ["build", "--content", content, "--out", site, ...ON, ...more];
    const measured = await measure(process.execPath, [afterair, ...asked]);
    row(step, measured);
    return measured;
  };
  const cold = await build("cold build");
  const { files, bytes, pages } = await sizeOf(site);
  await build("nothing changed");
  const check = (...episodes: readonly string[]) =>
    measure(process.execPath, [AFTERAIR, "check", ...episodes, "--content", content, ...ON]);
  row("check of last night's", await check(LAST));
  if (size <= MOST_ALONE) row("check of all", await check());
  await addEpisode(content);
  await build("one episode added");
  await correctEpisode(content, LAST);
  await build("one correction added, to last night's");
  // Of more than 600 episodes, the middle stands in a year that is over, among two whole months.
  await correctEpisode(content, await middleEpisode(content), 2);
  await build("one correction added, in the middle");
  const another = await withAnotherStyle(join(folder, "program"));
  await measure(process.execPath, [another, "--version"]); // makes the copy ready
  await build("a template changed", another);
  await build("a station's own templates, around all pages", AFTERAIR, OWN);
  await build("nothing changed, with them", AFTERAIR, OWN);
  await addEpisode(content, THE_NEXT);
  await build("one episode added, with them", AFTERAIR, OWN);
  const copying = await measure("cp", ["-r", site, join(folder, "copy")]);
  row("floor: cp -r of the site", copying);
  await removeFolder(join(folder, "copy"));
  const writing = await run("write", "-", join(folder, "written"), `${pages}x${Math.round(bytes / files)}`);
  row("floor: the site engine alone, as many pages", writing);
  await removeFolder(join(folder, "written"));
  const indexing = size <= MOST_ALONE ? await run("index", content, join(folder, "index")) : null;
  const alone = indexing === null ? null : secondsIn(indexing);
  if (indexing !== null)
    row(`floor: the search engine alone, in one process (${alone?.toFixed(2)} s without reading)`, indexing);
  if (alone !== null) {
    const both = await Promise.all(["a", "b"].map((name) => run("index", content, join(folder, `index-${name}`))));
    const longer = Math.max(...both.map(secondsIn));
    console.log(
      `Two of these at once: ${longer.toFixed(2)} s. Two cores did ${((2 * alone) / longer).toFixed(2)} times the work of one.`,
    );
  }
  const times = (floor: number | null) => (floor === null ? "?" : (cold.seconds / floor).toFixed(2));
  console.log(
    `${size}: ${files} files, ${pages} pages, ${Math.round(bytes / 1e6)} MB; the cold build took ${times(copying.seconds)} times cp -r, ` +
      `${times(writing.seconds)} times the site engine alone, ${times(alone)} times the search engine alone.`,
  );
}

const run = (...args: readonly string[]): Promise<Measured> =>
  measure(process.execPath, ["--import", "tsx", join(import.meta.dirname, "step.ts"), ...args]);

/** What a step of ours said that it took, without what was got ready before. */
const secondsIn = ({ printed }: Measured): number => (JSON.parse(printed) as { readonly seconds: number }).seconds;

async function middleEpisode(content: string): Promise<string> {
  const ids = listEpisodes(content).episodes.map(({ id }) => id);
  return ids[Math.floor(ids.length / 2)] ?? "";
}

async function sizeOf(folder: string): Promise<{ files: number; bytes: number; pages: number }> {
  let [files, bytes, pages] = [0, 0, 0];
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    files++;
    if (entry.name.endsWith(".html")) pages++;
    bytes += (await stat(join(entry.parentPath, entry.name))).size;
  }
  return { files, bytes, pages };
}
