import { mkdir, rm, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { expect } from "vitest";
import { readTree } from "./site.ts";

/** Digests stand as signs: what they are of is compared itself, and styles and scripts change often. */
const plain = (text: string): string =>
  text
    .replace(/\b([a-z-]+)-[0-9a-f]{8,12}\.(css|js|svg|woff2)/g, "$1-*.$2")
    .replace(/^[0-9a-f]{64}(?= {2})/gm, "*")
    .replace(/[\w.-]+_[0-9a-f]+(?=\.pf_)/g, "*");

/** By their names as they are read: two files of one name would stand in the order of their digests. */
const inOrder = (path: string, text: string): string =>
  path.endsWith(".sha256") ? `${text.trimEnd().split("\n").sort().join("\n")}\n` : text;

/** What people read of a site: pages, texts, data. The rest is told by its name. */
const isText = (path: string): boolean =>
  /\.(?:html|vtt|txt|json|jsonl|xml|sha256)$/.test(path) && !/^(?:assets|search\/index)\//.test(path);

/** A site as it is read in review: its texts by path, and the names of its other files. */
export async function readForReview(site: string): Promise<ReadonlyMap<string, string>> {
  const tree = await readTree(site);
  const texts = new Map(
    [...tree].flatMap(([path, bytes]) =>
      isText(path) ? [[path, inOrder(path, plain(bytes.toString()))] as const] : [],
    ),
  );
  const names = [...tree.keys()].filter((path) => !isText(path)).map(plain);
  return texts.set("other-files.txt", `${[...new Set(names)].sort().join("\n")}\n`);
}

/** Compares texts with those of a folder that was read in review; by UPDATE_SITE=1 they are written there anew. */
export async function expectReviewed(folder: string, texts: ReadonlyMap<string, string>): Promise<void> {
  if (process.env.UPDATE_SITE === "1") {
    await rm(folder, { recursive: true, force: true });
    for (const [path, text] of texts) {
      await mkdir(dirname(join(folder, path)), { recursive: true });
      await writeFile(join(folder, path), text);
    }
  }
  const expected = await readTexts(folder);
  expect([...texts.keys()].sort()).toEqual([...expected.keys()].sort());
  for (const [path, text] of texts) expect(text, path).toBe(expected.get(path));
}

export const readTexts = async (folder: string): Promise<ReadonlyMap<string, string>> =>
  new Map([...(await readTree(folder))].map(([path, bytes]) => [path, bytes.toString()]));
