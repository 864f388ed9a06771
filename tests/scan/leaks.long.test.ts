import { mkdir, rm } from "node:fs/promises";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { newFolder, readTree, removeFolder, textOf } from "../support/site.ts";
import { MOVES, type Move, newEvening } from "./evening.ts";

/** How many evenings are made up; more by LEAKS=300. */
const LEAKS = Number(process.env.LEAKS ?? 12);

vi.setConfig({ testTimeout: 60_000 + LEAKS * 10_000 });

let top = "";
beforeAll(async () => {
  top = await newFolder();
});
afterAll(() => removeFolder(top));

const number = fc.nat({ max: 59 });
const evening = fc.record({
  rights: fc.array(number, { minLength: 4, maxLength: 4 }),
  guessed: fc.boolean(),
  moves: fc.array(fc.record({ what: fc.constantFrom(...MOVES), item: number, line: number }), { maxLength: 8 }),
  days: fc.array(number, { minLength: 1, maxLength: 3 }),
});

/** What chance seldom brings together. */
const rare = (rights: readonly number[], ...moves: readonly Move[]) => ({
  rights: [...rights],
  guessed: false,
  moves: [...moves],
  days: [moves.length],
});
const KNOWN = [
  // A point of what is withdrawn moves inwards, and then outwards.
  rare([3, 3, 3, 3], { what: "withdraw", item: 1, line: 0 }, { what: "in", item: 1, line: 4 }),
  rare([3, 3, 3, 3], { what: "withdraw", item: 1, line: 0 }, { what: "in", item: 2, line: 0 }),
  // What is withheld has a point moved, and is withdrawn then where it stands.
  rare([0, 0, 6, 0], { what: "in", item: 2, line: 0 }, { what: "withdraw", item: 1, line: 0 }),
  // What is withheld now had another name, and no such rights, in an earlier text.
  rare([3, 3, 3, 3], { what: "reissue", item: 1, line: 1 }, { what: "rights", item: 1, line: 0 }),
  // A note on another item repeats what is withdrawn later.
  rare([3, 3, 3, 3], { what: "update", item: 0, line: 5 }, { what: "withdraw", item: 1, line: 0 }),
];

/** Every held word that stands in a file of a folder: one by one, read as plainly as can be. */
async function slowScan(folder: string, words: readonly string[]): Promise<readonly string[]> {
  const found: string[] = [];
  for (const [path, bytes] of await readTree(folder)) {
    const text = textOf(bytes).toLowerCase();
    found.push(...words.filter((word) => text.includes(word)).map((word) => `${word} in ${path}`));
  }
  return found;
}

test(`of ${LEAKS} evenings, whatever happened to them, no held word is in site, search index or cache`, async () => {
  const happened = new Set<string>();
  let looked = 0;
  await fc.assert(
    fc.asyncProperty(evening, async ({ rights, guessed, moves, days }) => {
      await rm(top, { recursive: true, force: true });
      await mkdir(join(top, "out"), { recursive: true });
      const own = await newEvening(join(top, "content"), guessed, rights);
      for (const move of moves) if (await own.happen(move)) happened.add(move.what);
      for (const on of days.map(own.dayAt)) {
        const options = { content: own.content, out: join(top, "out/site"), on, drafts: false };
        const { findings, site } = await buildSite({ ...options, now: new Date("2026-12-01T12:00:00Z") });
        expect(findings.filter(({ level }) => level === "blocks")).toEqual([]);
        expect(site).not.toBeNull();
        const held = own.heldOn(on);
        looked += held.length;
        expect(await slowScan(join(top, "out"), held), on).toEqual([]);
      }
    }),
    { numRuns: LEAKS + KNOWN.length, examples: KNOWN.map((own) => [own]) },
  );
  // Or there was nothing to find.
  expect(looked).toBeGreaterThan(0);
  if (LEAKS >= 100) expect([...happened].sort()).toEqual([...MOVES].sort());
});
