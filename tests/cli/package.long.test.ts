import { execFileSync, spawn } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { z } from "zod";

const REPOSITORY = resolve(import.meta.dirname, "../..");

/** A folder outside the repository, in which the package is installed. */
let home: string;
let packed: readonly string[];

/**
 * Installs without a network: the package from its tarball, and of the others those that the lock file has it need, which
 * lie in the repository. What is only for developing is not there.
 */
beforeAll(() => {
  home = mkdtempSync(join(tmpdir(), "package-"));
  const told = execFileSync("npm", ["pack", "--json", "--ignore-scripts", "--pack-destination", home], {
    cwd: REPOSITORY,
    encoding: "utf8",
    stdio: ["ignore", "pipe", "ignore"],
  });
  const Tarball = z.object({ filename: z.string(), files: z.array(z.object({ path: z.string() })) });
  // npm 11 gives a list, later ones a map by name.
  const parsed: unknown = JSON.parse(told);
  const [tarball] = z
    .array(Tarball)
    .parse(Array.isArray(parsed) ? parsed : Object.values(z.object({}).loose().parse(parsed)));
  packed = tarball?.files.map(({ path }) => path) ?? [];
  const own = join(home, "node_modules/afterair");
  mkdirSync(own, { recursive: true });
  execFileSync("tar", ["xzf", join(home, tarball?.filename ?? ""), "-C", own, "--strip-components=1"]);
  for (const path of needed()) {
    mkdirSync(dirname(join(home, path)), { recursive: true });
    symlinkSync(join(REPOSITORY, path), join(home, path));
  }
  mkdirSync(join(home, "node_modules/.bin"));
  symlinkSync("../afterair/src/cli/afterair.mjs", join(home, "node_modules/.bin/afterair"));
}, 120_000);
afterAll(() => rmSync(home, { recursive: true, force: true }));

/** The packages at the top of node_modules that are not for developing alone. */
function needed(): readonly string[] {
  const Lock = z.object({ packages: z.record(z.string(), z.object({ dev: z.boolean().optional() }).loose()) });
  const { packages } = Lock.parse(JSON.parse(readFileSync(join(REPOSITORY, "package-lock.json"), "utf8")));
  return Object.entries(packages).flatMap(([path, { dev = false }]) =>
    path.lastIndexOf("node_modules/") === 0 && !dev && existsSync(join(REPOSITORY, path)) ? [path] : [],
  );
}

function afterair(...args: readonly string[]): string {
  const env = { ...process.env, XDG_CACHE_HOME: join(home, "cache") };
  return execFileSync("npx", ["--no-install", "afterair", ...args], { cwd: home, encoding: "utf8", env });
}

test("what is packed is the program and its templates alone", () => {
  expect(packed).toContain("src/cli/afterair.mjs");
  expect(packed).toContain("templates/documents.tsx");
  expect(packed.filter((path) => /^(?:tests|content|site|templates\/own)\//.test(path))).toEqual([]);
});

test("installed in an empty folder, it begins a station, builds, checks and begins an episode", () => {
  const said = afterair(
    "begin",
    "--title",
    "The Evening Tide",
    "--url",
    "https://tide.example.org/",
    "--timezone",
    "Europe/London",
    "--language",
    "en-GB",
  );
  expect(said).toContain("content: The Evening Tide");
  expect(afterair("check")).toContain("0 faults, 0 warnings");
  afterair("build");
  expect(readFileSync(join(home, "site/index.html"), "utf8")).toContain("The Evening Tide");
  writeFileSync(join(home, "raw.txt"), "[0:00] Good evening. The lamp at Sollen burns again.\n");
  afterair("new", "2026-10-06", "--transcript", "raw.txt", "--at", "18:30");
  afterair("build", "--drafts", "--out", "drafts");
  expect(readdirSync(join(home, "drafts"))).toEqual(expect.arrayContaining(["2026-10-05", "2026-10-06"]));
  expect(readFileSync(join(home, "drafts/2026-10-05/index.html"), "utf8")).toContain("There is no recording");
}, 120_000);

test("and opens the desk, whose page has its script and its look", async () => {
  const env = { ...process.env, XDG_CACHE_HOME: join(home, "cache") };
  const program = join(home, "node_modules/afterair/src/cli/afterair.mjs");
  const desk = spawn(process.execPath, [program, "desk"], { cwd: home, env });
  try {
    const url = await new Promise<string>((done, fail) => {
      desk.stdout.on("data", (text: Buffer) => {
        const found = /http:\S+/.exec(String(text))?.[0];
        if (found !== undefined) done(found);
      });
      desk.stderr.on("data", (text: Buffer) => fail(new Error(String(text))));
    });
    for (const path of ["", "desk.js", "desk.css", "fonts/petrona-latin-wght-normal.woff2", "api/tonight"])
      expect((await fetch(url + path)).status, path).toBe(200);
  } finally {
    desk.kill();
  }
}, 60_000);
