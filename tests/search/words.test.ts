import { describe, expect, test } from "vitest";
import { MISSPELT_MARK } from "../../src/model/searchMarks.ts";
import { wordsFile } from "../../src/search/words.ts";

describe("the file that misspelt questions are held against", () => {
  const words = { harbour: 4, quotas: 2 };
  const fileOf = (names: Readonly<Record<string, number>>, misspelt: Readonly<Record<string, readonly string[]>>) => {
    const text = wordsFile([{ names, words }], new Map(Object.entries(misspelt)));
    return { text, ...(JSON.parse(text) as { names: string[]; words: string[] }) };
  };

  test("has the misspellings of names that stand in the index, and of no other", () => {
    const misspelt = { "Ilse Marrane": ["Elsa Moraine", "Wilson Rain"], "Dorian Vesh": ["Dorian Fish"] };
    const file = fileOf({ "Ilse Marrane": 3, Sollen: 5 }, misspelt);
    expect(file.names).toEqual(["Sollen", ["Ilse Marrane", "Elsa Moraine", "Wilson Rain"].join(MISSPELT_MARK)]);
    expect(file.words).toEqual(["harbour", "quotas"]);
    expect(file.text).not.toContain("Fish");
  });

  test("keeps within its size, misspellings and all, and leaves out whole names, the rarest first", () => {
    const names = Object.fromEntries(Array.from({ length: 300 }, (_, n) => [`Name Number ${n}`, 1000 - n]));
    const long = Array.from({ length: 20 }, (_, n) => `misspelling of it ${n}`);
    const file = fileOf(names, Object.fromEntries(Object.keys(names).map((name) => [name, long])));
    expect(Buffer.byteLength(file.text)).toBeLessThanOrEqual(40_000);
    expect(file.names.length).toBeGreaterThan(30);
    expect(
      file.names.every((own, n) => own.startsWith(`Name Number ${n}`) && own.split(MISSPELT_MARK).length === 21),
    ).toBe(true);
  });
});
