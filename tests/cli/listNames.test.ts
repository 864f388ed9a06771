import { mkdir, readFile, stat, utimes, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { keepListNames, listNames } from "../../src/build/listNames.ts";
import { stateName, statePathOf } from "../../src/build/state.ts";
import { checksumsPath } from "../../src/model/address.ts";
import { newFolder, removeFolder } from "../support/site.ts";

const LATER = Date.now() + 3_600_000;
let top: string;
let [site, kept] = ["", ""];
beforeAll(async () => {
  top = await newFolder();
  [site, kept] = [join(top, "site"), join(top, "kept")];
  await mkdir(kept);
});
afterAll(() => removeFolder(top));

const write = async (list: string, text: string): Promise<void> => {
  const file = join(site, checksumsPath(list));
  await mkdir(dirname(file), { recursive: true });
  await writeFile(file, text);
};
/** What the next build takes a list for. */
const found = (list: string): string | null => listNames(site, kept, LATER).pathOf(list);

test("a list that a build left is known without being read", async () => {
  await write("2025", "one\n");
  await keepListNames(site, kept, new Map([["2025", "2025-as-kept"]]), LATER);
  expect(found("2025")).toBe(statePathOf(kept, "2025-as-kept"));
});

test("one that was written to while a build was under way is read", async () => {
  await write("2026", "one\n");
  const name = stateName("2026", "one\n");
  const file = join(site, checksumsPath("2026"));
  const survey = listNames(site, kept, LATER);
  survey.pathOf("2026");
  await survey.keep();
  const { mtimeMs } = await stat(file);
  await writeFile(file, "two\n");
  await utimes(file, mtimeMs / 1000 + 60, mtimeMs / 1000 + 60);
  await keepListNames(site, kept, new Map([["2026", name]]), LATER);
  expect(found("2026")).toBe(statePathOf(kept, stateName("2026", await readFile(file))));
});

test("one that is too young to be relied on is read, and one that is not there is none", async () => {
  await write("2027", "one\n");
  await keepListNames(
    site,
    kept,
    new Map([
      ["2027", "2027-as-kept"],
      ["2028", "2028-as-kept"],
    ]),
    Date.now(),
  );
  expect(found("2027")).toBe(statePathOf(kept, stateName("2027", "one\n")));
  expect(found("2028")).toBe(null);
});
