import { mkdir, readdir, rename, rm, stat, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { ownerHere, ownerText } from "../../src/write/owner.ts";
import { openSite, type SiteFolder } from "../../src/write/siteFolder.ts";
import { newFolder, readTree, removeFolder, SITE_LIST, writeList } from "../support/site.ts";

let top: string;
let out: string;
beforeEach(async () => {
  top = await newFolder();
  out = join(top, "site");
});
afterEach(() => removeFolder(top));

const open = () => openSite(out, () => undefined);

/** A build of some files; `null` takes one away. */
async function build(files: Readonly<Record<string, string | null>>, over = false): Promise<void> {
  const folder = await open();
  if (over) folder.startOver();
  else folder.catchUp();
  await write(folder, files);
  await folder.swapIn();
  folder.catchUp();
  await folder.close();
}

async function write(folder: SiteFolder, files: Readonly<Record<string, string | null>>): Promise<void> {
  await folder.renew(Object.keys(files));
  for (const [path, text] of Object.entries(files)) if (text !== null) folder.write(path, text);
  await writeList(folder);
}

const texts = async (): Promise<Readonly<Record<string, string>>> =>
  Object.fromEntries(
    [...(await readTree(out))].filter(([path]) => path !== SITE_LIST).map(([path, bytes]) => [path, bytes.toString()]),
  );

const FIRST = { "index.html": "home", "a/index.html": "a", "a/b/index.html": "b" };

describe("two trees that share what did not change", () => {
  test("a file that changed is another one; the rest are the very same", async () => {
    await build(FIRST, true);
    const before = await stat(join(out, "a/index.html"));
    await build({ "index.html": "home 2" });
    expect(await texts()).toEqual({ ...FIRST, "index.html": "home 2" });
    expect((await stat(join(out, "a/index.html"))).ino).toBe(before.ino);
    await build({ "a/b/index.html": "b 3" });
    expect(await texts()).toEqual({ ...FIRST, "index.html": "home 2", "a/b/index.html": "b 3" });
  });

  test("what is written never shows in the site that serves before the swap", async () => {
    await build(FIRST, true);
    const folder = await open();
    folder.catchUp();
    await write(folder, { "index.html": "not yet", "a/index.html": null });
    expect(await texts()).toEqual(FIRST);
    await folder.close();
    await build({ "new.html": "new" });
    expect(await texts()).toEqual({ ...FIRST, "new.html": "new" });
  });

  test("what the new site has no more is kept nowhere", async () => {
    await build(FIRST, true);
    await build({ "index.html": "home 2", a: null });
    const kept = [...(await readTree(join(top, ".site.cache"))).values()].map(String);
    expect(kept).toContain("home 2");
    expect(kept).not.toContain("home");
    expect(kept).not.toContain("a");
  });

  test("a folder taken away goes whole, and leaves no empty folder", async () => {
    await build(FIRST, true);
    await build({ a: null });
    expect((await readdir(out)).sort()).toEqual(["index.html", "record"]);
    await build({ "a/index.html": "again" });
    expect(await texts()).toEqual({ "index.html": "home", "a/index.html": "again" });
  });

  test("starting over keeps nothing", async () => {
    await build(FIRST, true);
    await build({ "only.html": "x" }, true);
    expect(await texts()).toEqual({ "only.html": "x" });
  });

  test("without what is kept, the standby is made from the site", async () => {
    await build(FIRST, true);
    await rm(join(top, ".site.cache"), { recursive: true });
    await build({ "index.html": "home 2" });
    expect(await texts()).toEqual({ ...FIRST, "index.html": "home 2" });
  });

  test("a note that was cut short counts as none", async () => {
    await build(FIRST, true);
    await writeFile(join(top, ".site.cache/behind"), '"index.ht');
    await build({ "a/index.html": "a 2" });
    expect(await texts()).toEqual({ ...FIRST, "a/index.html": "a 2" });
  });

  test.each(["../outside.html", "/etc/outside", "a/../../outside"])("%s is not written", async (path) => {
    const folder = await open();
    folder.startOver();
    expect(() => folder.write(path, "x")).toThrow("outside the site");
    await expect(folder.renew([path])).rejects.toThrow("outside the site");
    await folder.close();
  });
});

describe("killed in the middle of a swap", () => {
  test("the old site stepped aside: it is put back", async () => {
    await build(FIRST, true);
    await rename(out, join(top, ".site.cache/aside"));
    await (await open()).close();
    expect(await texts()).toEqual(FIRST);
  });

  test("the new one is in its place, the old one still aside: it becomes the standby", async () => {
    await build(FIRST, true);
    const folder = await open();
    folder.catchUp();
    await write(folder, { "index.html": "home 2" });
    await rename(out, join(top, ".site.cache/aside"));
    await rename(folder.path, out);
    await folder.close();
    await build({ "a/index.html": "a 3" });
    expect(await texts()).toEqual({ ...FIRST, "index.html": "home 2", "a/index.html": "a 3" });
    expect((await readdir(top)).sort()).toEqual([".site.cache", "site"]);
  });

  test("what a process of the killed build still writes goes where nobody looks", async () => {
    await build(FIRST, true);
    const orphan = await open();
    await orphan.close();
    const folder = await open();
    folder.catchUp();
    orphan.write("index.html", "from the dead");
    await folder.swapIn();
    await folder.close();
    expect(await texts()).toEqual(FIRST);
    await build({ "a/index.html": "a 2" });
    expect(await texts()).toEqual({ ...FIRST, "a/index.html": "a 2" });
  });
});

describe("one build at a time", () => {
  test("the lock of a process that is gone is broken", async () => {
    await (await open()).close();
    const lock = join(top, ".site.cache/lock");
    await mkdir(lock);
    await writeFile(join(lock, "one"), ownerText({ ...(await ownerHere()), pid: 2 ** 22 + 1 }));
    await (await open()).close();
    expect(await readdir(join(top, ".site.cache"))).not.toContain("lock");
  });

  test("a second build waits, and is told for whom", async () => {
    const first = await open();
    const waiting = vi.fn();
    const second = openSite(out, waiting);
    await vi.waitFor(() =>
      expect(waiting).toHaveBeenCalledWith(
        expect.stringMatching(`^process ${process.pid} on .`),
        join(top, ".site.cache/lock"),
      ),
    );
    await first.close();
    await (await second).close();
    expect(waiting).toHaveBeenCalledOnce();
  });
});

test("a link in the site that serves is not followed out of it when it is taken away", async () => {
  await build(FIRST, true);
  await mkdir(join(top, "elsewhere"));
  await writeFile(join(top, "elsewhere/kept.txt"), "kept");
  await symlink(join(top, "elsewhere"), join(out, "linked"));
  await rm(join(top, ".site.cache"), { recursive: true });
  await build({ linked: null });
  expect(await readdir(join(top, "elsewhere"))).toEqual(["kept.txt"]);
});
