import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdir, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openSite } from "../../src/write/siteFolder.ts";
import { nodeSwap, type SwapCalls } from "../../src/write/swapCalls.ts";
import { newFolder, readTree, removeFolder, SITE_LIST, writeList } from "../support/site.ts";

let top: string;
let out: string;
beforeEach(async () => {
  top = await newFolder();
  out = join(top, "site");
});
afterEach(() => removeFolder(top));

const OLD = { "index.html": "old", "a/index.html": "old a", "gone.html": "old" };
const NEW = { "index.html": "new", "a/index.html": "old a", "b/index.html": "new b" };

async function build(files: Readonly<Record<string, string>>, calls: SwapCalls, over: boolean): Promise<void> {
  const folder = await openSite(out, () => undefined, calls);
  try {
    if (over) folder.startOver();
    else folder.catchUp();
    const there = Object.keys(OLD).filter((path) => !(path in files));
    await folder.renew([...there, ...Object.keys(files)]);
    for (const [path, text] of Object.entries(files)) folder.write(path, text);
    await writeList(folder);
    await folder.swapIn();
    folder.catchUp();
  } finally {
    await folder.close();
  }
}

const texts = async (): Promise<Readonly<Record<string, string>> | null> =>
  existsSync(out)
    ? Object.fromEntries(
        [...(await readTree(out))]
          .filter(([path]) => path !== SITE_LIST)
          .map(([path, bytes]) => [path, bytes.toString()]),
      )
    : null;

/** A system that can't exchange folders: what Node itself has. */
const RENAMES: SwapCalls = { exchange: async () => false, rename };

/** Counts the calls, and stops before or after the one with a number, as a kill would. */
function stopAt(calls: SwapCalls, call: number, after: boolean): SwapCalls & { count(): number } {
  let count = 0;
  const counted =
    <A extends readonly unknown[], T>(make: (...given: A) => Promise<T>) =>
    async (...given: A): Promise<T> => {
      count++;
      if (count === call && !after) throw new Error("stopped");
      const made = await make(...given);
      if (count === call) throw new Error("stopped");
      return made;
    };
  return { exchange: counted(calls.exchange), rename: counted(calls.rename), count: () => count };
}

const canExchange = spawnSync("perl", ["-v"]).status === 0 && process.platform === "linux";

test.runIf(canExchange)("this system exchanges two folders in one step", async () => {
  for (const name of ["one", "other"]) {
    await mkdir(join(top, name));
    await writeFile(join(top, name, name), name);
  }
  expect(await nodeSwap.exchange(join(top, "one"), join(top, "other"))).toBe(true);
  expect([...(await readTree(join(top, "one"))).keys()]).toEqual(["other"]);
  expect(await nodeSwap.exchange(join(top, "one"), join(top, "nowhere"))).toBe(false);
});

describe.each([
  ["by exchange", nodeSwap, 1],
  ["by renames", RENAMES, 4],
] as const)("stopped at each call of a swap %s", (how, calls, steps) => {
  const isHere = how === "by renames" || canExchange;
  const cases = Array.from({ length: steps }, (_, n) => n + 1).flatMap((call) =>
    [false, true].flatMap((made) => [false, true].map((anew) => [call, made, anew] as const)),
  );

  test.runIf(isHere)("a swap makes just these calls", async () => {
    await build(OLD, nodeSwap, true);
    const counted = stopAt(calls, -1, false);
    await build(NEW, counted, false);
    expect(counted.count()).toBe(steps);
    expect(await texts()).toEqual(NEW);
  });

  test.runIf(isHere).each(cases)("call %d, made: %s, all anew: %s", async (call, made, anew) => {
    await build(OLD, nodeSwap, true);
    await expect(build(NEW, stopAt(calls, call, made), anew)).rejects.toThrow("stopped");
    const left = await texts();
    // Between two renames the name is without a folder: that is why the exchange is there.
    if (how === "by exchange") expect(left).not.toBeNull();
    await (await openSite(out, () => undefined)).close();
    expect([OLD, NEW]).toContainEqual(await texts());
    if (left !== null) expect(await texts()).toEqual(left);
    await build(NEW, nodeSwap, false);
    expect(await texts()).toEqual(NEW);
    await build({ ...NEW, "index.html": "newer" }, nodeSwap, false);
    expect(await texts()).toEqual({ ...NEW, "index.html": "newer" });
  });
});
