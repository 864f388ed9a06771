import { link, mkdir, readFile, readlink, rm, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { checksumList } from "../../src/model/checksums.ts";
import { openSite } from "../../src/write/siteFolder.ts";
import { newFolder, readTree, removeFolder } from "../support/site.ts";

let top: string;
let out: string;
beforeEach(async () => {
  top = await newFolder();
  out = join(top, "site");
});
afterEach(() => removeFolder(top));

const LIST = "record/site.sha256";

/** A build of some files that all years share, with their list, and of an evening. @returns what stood in its way. */
async function build(files: Readonly<Record<string, string>>, over = false): Promise<readonly string[]> {
  const folder = await openSite(out, () => undefined);
  if (over) folder.startOver();
  else folder.catchUp();
  await folder.renew([...Object.keys(files), LIST, "2026-10-05", "index.html", "about"]);
  const sums = Object.entries(files).map(([path, text]) => folder.write(path, text));
  folder.write(LIST, checksumList(sums));
  folder.write("2026-10-05/index.html", "an evening");
  const { inTheWay } = await folder.swapIn();
  if (inTheWay.length === 0) folder.catchUp();
  await folder.close();
  return inTheWay;
}

const paths = async (): Promise<readonly string[]> =>
  [...(await readTree(out)).keys()].filter((path) => path !== LIST && path !== "2026-10-05/index.html");

test("what no build made stays, build after build, whole or in part", async () => {
  await build({ "index.html": "1" }, true);
  await writeFile(join(out, "CNAME"), "tide.example");
  await mkdir(join(out, ".git/refs"), { recursive: true });
  await writeFile(join(out, ".git/refs/main"), "0");
  await symlink("CNAME", join(out, "linked"));
  for (const [n, over] of [
    [2, false],
    [3, true],
    [4, false],
    [5, false],
  ] as const) {
    expect(await build({ "index.html": String(n) }, over)).toEqual([]);
    expect(await paths()).toEqual([".git/refs/main", "CNAME", "index.html"]);
    expect(await readlink(join(out, "linked"))).toBe("CNAME");
  }
});

test("a guest that somebody takes away or changes does not come back", async () => {
  await build({ "index.html": "1" }, true);
  await writeFile(join(out, "CNAME"), "tide.example");
  await writeFile(join(out, "robots.txt"), "one");
  await build({ "index.html": "2" });
  await build({ "index.html": "3" });
  await rm(join(out, "CNAME"));
  await rm(join(out, "robots.txt"));
  await writeFile(join(out, "robots.txt"), "two");
  for (const n of [4, 5]) {
    await build({ "index.html": String(n) });
    expect(await paths()).toEqual(["index.html", "robots.txt"]);
    expect(await readFile(join(out, "robots.txt"), "utf8")).toBe("two");
  }
});

test("what was the site's own is no guest: a page that is no more goes, and so do an evening's and a year's", async () => {
  await build({ "index.html": "1", "about/index.html": "about" }, true);
  await mkdir(join(out, "2026-10-04"));
  await writeFile(join(out, "2026-10-04/index.html"), "of a build whose list is gone");
  await mkdir(join(out, "2025"));
  await writeFile(join(out, "2025/index.html"), "a year");
  await writeFile(join(out, "2026-10-04.pdf"), "somebody's");
  await build({ "index.html": "2" }, true);
  expect(await paths()).toEqual(["2026-10-04.pdf", "index.html"]);
});

test("a guest whose name the new site wants is named, and nothing is put in place", async () => {
  await build({ "index.html": "1" }, true);
  await mkdir(join(out, "about"));
  await writeFile(join(out, "about/mine.txt"), "mine");
  expect(await build({ "index.html": "2", "about/index.html": "about" })).toEqual(["about"]);
  expect(await readFile(join(out, "index.html"), "utf8")).toBe("1");
  expect(await readFile(join(out, "about/mine.txt"), "utf8")).toBe("mine");
});

test("without the site's list nobody knows whose a file is: the new site's own comes in its place, the rest stays", async () => {
  await build({ "index.html": "1" }, true);
  await writeFile(join(out, "CNAME"), "tide.example");
  await rm(join(out, LIST));
  expect(await build({ "index.html": "2" }, true)).toEqual([]);
  expect(await paths()).toEqual(["CNAME", "index.html"]);
  expect(await readFile(join(out, "index.html"), "utf8")).toBe("2");
});

test("in a tree without a list, which is a share of a site, nothing is taken away", async () => {
  const folder = await openSite(out, () => undefined);
  folder.startOver();
  folder.write("loose.html", "of a share");
  expect(await folder.swapIn()).toEqual({ carried: [], inTheWay: [] });
  await folder.close();
  expect(await paths()).toEqual(["loose.html"]);
});

test("a guest is never written over in place", async () => {
  await mkdir(out);
  await writeFile(join(out, ".gitignore"), "*\n");
  await link(join(out, ".gitignore"), join(top, "witness"));
  for (const text of ["1", "2", "3"]) await build({ "index.html": text }, text === "1");
  expect(await readFile(join(out, ".gitignore"), "utf8")).toBe("*\n");
  expect(await readFile(join(top, "witness"), "utf8")).toBe("*\n");
});
