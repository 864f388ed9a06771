import { spawn } from "node:child_process";
import { cp, mkdir, readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { openSite } from "../../src/write/siteFolder.ts";
import { addEpisode, generateArchive } from "../bench/generate.ts";
import { AFTERAIR } from "../support/program.ts";
import { randomOfRun } from "../support/seed.ts";
import { digestOf, newFolder, readTree, removeFolder } from "../support/site.ts";
import { STATION } from "../support/station.ts";

/** How often a build is killed; more by KILLS=200. */
const KILLS = Number(process.env.KILLS ?? 4);
const ON = "2026-02-10";

vi.setConfig({ testTimeout: 120_000 + KILLS * 30_000 });

let top: string;
beforeAll(async () => {
  top = await newFolder();
  await generateArchive(join(top, "old"), 6, "2026-01-03");
  await cp(join(top, "old"), join(top, "new"), { recursive: true });
  await addEpisode(join(top, "new"), "2026-01-04");
}, 60_000);
afterAll(() => removeFolder(top));

const build = (content: string, out: string, own: string | null = null) =>
  buildSite({ content, out, own, on: ON, now: new Date("2026-02-10T12:00:00Z"), drafts: false });

const treeOf = async (folder: string): Promise<string> =>
  JSON.stringify([...(await readTree(folder))].map(([path, bytes]) => [path, digestOf(bytes)]));

/** Begins a build in a process of its own, and kills it after some milliseconds, where it has not ended. */
async function killed(content: string, out: string, after: number, own: string | null): Promise<void> {
  const options = ["--content", content, "--out", out, "--on", ON, ...(own === null ? [] : ["--own", own])];
  const child = spawn(process.execPath, [AFTERAIR, "build", ...options], { stdio: "ignore" });
  const ended = new Promise<void>((done) => child.on("exit", () => done()));
  await Promise.race([ended, pause(after)]);
  child.kill("SIGKILL");
  await ended;
}

test.each([
  ["", null],
  ["in a station's own templates, ", join(STATION, "own")],
])(
  `%skilled ${KILLS} times at random, a site is the old one or the new one, and the next build ends it`,
  async (_in, own) => {
    const random = randomOfRun();
    for (const name of ["old", "new"]) {
      await rm(join(top, `of-${name}`), { recursive: true, force: true });
      await build(join(top, name), join(top, `of-${name}/site`), own);
    }
    const [before, after] = [await treeOf(join(top, "of-old/site")), await treeOf(join(top, "of-new/site"))];
    const begun = performance.now();
    await killed(join(top, "new"), join(top, "timed/site"), 60_000, own);
    const whole = performance.now() - begun;
    await rm(join(top, "timed"), { recursive: true });
    for (let n = 0; n < KILLS; n++) {
      const place = join(top, `kill-${n}`);
      await mkdir(place);
      await cp(join(top, "of-old"), place, { recursive: true });
      const out = join(place, "site");
      // Nothing is known every other time: then the whole site is under way when it happens.
      if (n % 2 === 1) await rm(join(place, ".site.cache"), { recursive: true });
      await killed(join(top, "new"), out, whole * (0.2 + 0.8 * ((n + 1) / KILLS)) * (0.9 + random.next() * 0.2), own);
      // Between two renames, the old site stands aside for a moment: whoever opens the folder next puts it back first.
      await (await openSite(out, () => undefined)).close();
      expect([before, after], `kill ${n}`).toContain(await treeOf(out));
      await build(join(top, "new"), out, own);
      expect(await treeOf(out), `kill ${n}`).toBe(after);
      expect((await readdir(place)).sort(), `kill ${n}`).toEqual([".site.cache", "site"]);
      await rm(place, { recursive: true });
    }
  },
);

test("of two builds at once, the second waits for the first and says so", async () => {
  const out = join(top, "twice/site");
  const waited: string[] = [];
  const progress = { waiting: (owner: string) => waited.push(owner), begin() {}, done() {}, made() {}, end() {} };
  const first = await openSite(out, () => undefined);
  const second = buildSite({
    content: join(top, "new"),
    out,
    on: ON,
    now: new Date("2026-02-10T12:00:00Z"),
    drafts: false,
    progress,
  });
  await vi.waitFor(() => expect(waited).toEqual([expect.stringMatching(`^process ${process.pid} on `)]), {
    timeout: 10_000,
  });
  await first.close();
  expect((await second).site?.episodes).toBe(7);
});
