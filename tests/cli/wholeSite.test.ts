import { mkdir, rm, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { newFolder, readTree, removeFolder } from "../support/site.ts";

/** A small content folder and its whole site, to be read in review. Written anew by UPDATE_SITE=1 npm test -- wholeSite. */
const SMALL = resolve(import.meta.dirname, "../fixtures/small");

let top = "";
beforeAll(async () => {
  top = await newFolder();
});
afterAll(() => removeFolder(top));

/** Digests stand as signs: what they are of is compared itself, and styles and scripts change often. */
const plain = (text: string): string =>
  text
    .replace(/\b([a-z-]+)-[0-9a-f]{8,12}\.(css|js|svg|woff2)/g, "$1-*.$2")
    .replace(/^[0-9a-f]{64}(?= {2})/gm, "*")
    .replace(/[\w.-]+_[0-9a-f]+(?=\.pf_)/g, "*");

/** What people read of a site: pages, texts, data. The rest is told by its name. */
const isText = (path: string): boolean =>
  /\.(?:html|vtt|txt|json|jsonl|xml|sha256)$/.test(path) && !/^(?:assets|search\/index)\//.test(path);

test("a small content folder gives the very site that was read in review", async () => {
  const out = join(top, "site");
  const options = { content: join(SMALL, "content"), out, on: null, drafts: false };
  const { findings } = await buildSite({ ...options, now: new Date("2026-12-01T12:00:00Z") });
  expect(findings.filter(({ level }) => level === "blocks")).toEqual([]);
  const site = await readTree(out);
  const texts = new Map(
    [...site].flatMap(([path, bytes]) => (isText(path) ? [[path, plain(bytes.toString())] as const] : [])),
  );
  const names = [...site.keys()].filter((path) => !isText(path)).map(plain);
  texts.set("other-files.txt", `${[...new Set(names)].sort().join("\n")}\n`);
  if (process.env.UPDATE_SITE === "1") {
    await rm(join(SMALL, "site"), { recursive: true, force: true });
    for (const [path, text] of texts) {
      await mkdir(dirname(join(SMALL, "site", path)), { recursive: true });
      await writeFile(join(SMALL, "site", path), text);
    }
  }
  const expected = new Map([...(await readTree(join(SMALL, "site")))].map(([path, bytes]) => [path, bytes.toString()]));
  expect([...texts.keys()].sort()).toEqual([...expected.keys()].sort());
  for (const [path, text] of texts) expect(text, path).toBe(expected.get(path));
});
