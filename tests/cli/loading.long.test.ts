import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { AFTERAIR } from "../support/program.ts";
import { newFolder, removeFolder } from "../support/site.ts";
import { SMALL, STATION } from "../support/station.ts";

describe("a build", () => {
  let top = "";
  beforeAll(async () => {
    top = await newFolder();
  });
  afterAll(() => removeFolder(top));

  /** What a build loaded and started, with what stands in what it loaded. */
  async function loadedIn(own: readonly string[]) {
    const loads = join(top, "loads.txt");
    await rm(loads, { force: true });
    const options = ["--content", join(SMALL, "content"), "--out", join(top, "site"), "--on", "2026-12-01", ...own];
    const hook = pathToFileURL(join(import.meta.dirname, "../support/loads.mjs")).href;
    const env = { ...process.env, LOADS: loads, NODE_OPTIONS: `--import ${hook}` };
    await promisify(execFile)(process.execPath, [AFTERAIR, "build", ...options], { env });
    const lines = (await readFile(loads, "utf8")).trimEnd().split("\n");
    const files = lines.flatMap((line) => (line.startsWith("loads file:") ? [fileURLToPath(line.slice(6))] : []));
    const texts = await Promise.all([...new Set(files)].filter(existsSync).map((file) => readFile(file, "utf8")));
    return {
      processes: lines.filter((line) => line === "process").length,
      starts: lines.filter((line) => line.startsWith("starts ")),
      // An event of Eleventy's that every part of it which sets anything must name.
      eleventy: texts.some((text) => text.includes("eleventy.extensionmap")),
    };
  }

  test.each([
    ["without a station's folder", []],
    ["with a station's folder", ["--own", join(STATION, "own")]],
  ])("in which nothing changed, %s, loads no site engine and starts no process", async (_what, own) => {
    const first = await loadedIn(own);
    expect(first).toMatchObject({ processes: 2, eleventy: true });
    expect(first.starts.length).toBeGreaterThan(0);
    expect(await loadedIn(own)).toEqual({ processes: 1, starts: [], eleventy: false });
  });
});
