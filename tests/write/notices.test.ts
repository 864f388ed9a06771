import { readdirSync, readFileSync } from "node:fs";
import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";
import { afterAll, beforeAll, expect, test } from "vitest";
import { noticesText, packagesIn, readNotices } from "../../src/write/notices.ts";
import { buildScripts } from "../../src/write/scripts.ts";

const ROOT = join(import.meta.dirname, "../..");
const TEMPLATES = join(ROOT, "templates");
const MODULES = join(ROOT, "node_modules");
const licenceOf = (path: string): string => readFileSync(join(MODULES, path), "utf8").trim();
const named = async (bundled: readonly string[]) =>
  (await readNotices(TEMPLATES, bundled)).map(({ name, version }) => `${name} ${version}`);

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "afterair-notices-"));
});
afterAll(() => rm(folder, { recursive: true }));

/** What esbuild says that scripts with these entries are made of. */
async function metafileOf(entryPoints: readonly string[]) {
  const bundled = {
    bundle: true,
    format: "esm",
    target: "es2022",
    write: false,
    metafile: true,
    logLevel: "silent",
  } as const;
  const made = await build({ ...bundled, absWorkingDir: ROOT, entryPoints: [...entryPoints], outdir: folder });
  return made.metafile;
}

test("everything in the pages' scripts that is not ours has a notice", async () => {
  const { inputs } = await metafileOf(["src/browser/playerEntry.ts", "src/browser/search.ts", "src/browser/quote.ts"]);
  const foreign = Object.keys(inputs).filter((input) => !/^src\/(?:browser|model)\//.test(input));
  const { packages } = await buildScripts();
  for (const input of foreign)
    expect(
      packages.some((own) => join(ROOT, input).startsWith(`${own}/`)),
      input,
    ).toBe(true);
  expect(await named(packages)).toHaveLength(3 + packages.length);
});

test("a package that comes into a script comes into the notices, with its terms", async () => {
  const entry = join(folder, "new.ts");
  await writeFile(
    entry,
    `import { h } from "${MODULES}/preact"; import { diffWords } from "${MODULES}/diff"; console.log(h, diffWords);`,
  );
  const packages = packagesIn(await metafileOf([entry]), ROOT);
  expect(packages).toEqual([join(MODULES, "diff"), join(MODULES, "preact")]);
  const versionOf = (name: string) => JSON.parse(licenceOf(`${name}/package.json`)).version;
  expect(await named(packages)).toEqual(
    expect.arrayContaining([`preact ${versionOf("preact")}`, `diff ${versionOf("diff")}`]),
  );
  expect(noticesText(await readNotices(TEMPLATES, packages))).toContain(licenceOf("preact/LICENSE"));
});

test("packages are told from one another by their own folders", () => {
  const inputs = Object.fromEntries(
    ["node_modules/@a/b/x.js", "node_modules/a/node_modules/c/x.js", "node_modules/a/y.js", "src/z.ts"].map((path) => [
      path,
      {} as never,
    ]),
  );
  const folders = ["node_modules/@a/b", "node_modules/a", "node_modules/a/node_modules/c"];
  expect(packagesIn({ inputs }, "/r")).toEqual(folders.map((path) => `/r/${path}`));
});

test("what comes without terms does not go out", async () => {
  const bare = join(folder, "bare");
  await mkdir(bare);
  await writeFile(join(bare, "package.json"), `{ "name": "bare", "version": "1.0.0" }`);
  await expect(readNotices(TEMPLATES, [bare])).rejects.toThrow(
    "bare goes out with the site, and its package has no licence.",
  );
  await mkdir(join(folder, "templates/fonts"), { recursive: true });
  await writeFile(join(folder, "templates/fonts/other.woff2"), "");
  await expect(readNotices(join(folder, "templates"), [])).rejects.toThrow("other.woff2 is a font without a notice");
});

test("fonts and the search engine are named with their versions, and their terms stand there whole", async () => {
  const text = noticesText(await readNotices(TEMPLATES, []));
  const fonts = readdirSync(join(TEMPLATES, "fonts")).filter((name) => name.endsWith(".txt"));
  for (const file of fonts) expect(text).toContain(readFileSync(join(TEMPLATES, "fonts", file), "utf8").trim());
  expect(text).toContain(licenceOf("pagefind/LICENSE/LICENSE"));
  expect(text).toMatch(/^Atkinson Hyperlegible Next 2\.001$/m);
  expect(text).toMatch(/^Petrona 2\.001$/m);
});
