import { mkdir, readdir, utimes, writeFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";
import { compiled, digestBelow } from "../../src/write/compile.mjs";
import { newFolder, removeFolder } from "../support/site.ts";

let folder = "";
const entry = () => join(folder, "greeting.tsx");

beforeAll(async () => {
  folder = await newFolder();
  await mkdir(join(folder, "parts"));
  await writeFile(join(folder, "parts/name.ts"), `export const name: string = "Verrin";`);
  await writeFile(
    entry(),
    `import { renderToString } from "preact-render-to-string";
    import { name } from "./parts/name.ts";
    export const greeting = renderToString(<p class="hello">{name}</p>);
    export const here = import.meta.url;`,
  );
});
afterAll(() => removeFolder(folder));
const folderOf = (address: string): string => dirname(fileURLToPath(address));

test("TypeScript with what it imports becomes JavaScript that says where its source stands", async () => {
  const [address = ""] = await compiled([entry()], `${folder} 1`);
  const made = (await import(address)) as { readonly greeting: string; readonly here: string };
  expect({ ...made }).toEqual({ greeting: '<p class="hello">Verrin</p>', here: pathToFileURL(entry()).href });
});

test("what is compiled is kept, by the digest of what it was made from", async () => {
  const [first] = await compiled([entry()], `${folder} 1`);
  await writeFile(join(folder, "parts/name.ts"), `export const name: string = "Ossel";`);
  expect(await compiled([entry()], `${folder} 1`)).toEqual([first]);
  const [other = ""] = await compiled([entry()], `${folder} 2`);
  expect(other).not.toBe(first);
  expect(((await import(other)) as { readonly greeting: string }).greeting).toContain("Ossel");
});

test("several who compile the same at once come to one folder, and leave no drafts", async () => {
  const all = await Promise.all(Array.from({ length: 4 }, () => compiled([entry()], `${folder} 3`)));
  const addresses = new Set(all.flat());
  expect(addresses.size).toBe(1);
  const at = folderOf([...addresses][0] ?? "");
  const beside = await readdir(dirname(at));
  expect(beside.filter((name) => name.startsWith(".") && name.includes(at.slice(-24)))).toEqual([]);
});

test("what nobody needed for a week goes, but not what is needed now", async () => {
  const [kept = ""] = await compiled([entry()], `${folder} kept`);
  const [old = ""] = await compiled([entry()], `${folder} old`);
  const long = new Date(Date.now() - 30 * 24 * 3600 * 1000);
  const [needed, gone] = [folderOf(kept), folderOf(old)];
  for (const at of [needed, gone]) await utimes(at, long, long);
  await compiled([entry()], `${folder} kept`);
  await compiled([entry()], `${folder} new`);
  const left = await readdir(dirname(gone));
  expect([needed, gone].map((at) => left.includes(basename(at)))).toEqual([true, false]);
});

test("sources that can't be compiled are told, and nothing is kept of them", async () => {
  await writeFile(join(folder, "broken.ts"), "export const = 1;");
  const broken = () => compiled([join(folder, "broken.ts")], `${folder} broken`);
  await expect(broken()).rejects.toThrow("broken.ts:1:13");
  await expect(broken()).rejects.toThrow("broken.ts:1:13");
});

test("a digest is of the paths and the bytes of the files below a folder", async () => {
  const digest = () => digestBelow(folder, ["parts"], "");
  const before = digest();
  expect(digest()).toBe(before);
  expect(digestBelow(folder, ["parts"], "salt")).not.toBe(before);
  await writeFile(join(folder, "parts/other.ts"), "");
  expect(digest()).not.toBe(before);
});
