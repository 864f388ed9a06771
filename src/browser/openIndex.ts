import { type Known, type SearchIndex, type Suggest, searchIndex } from "./searchIndex.ts";
import type { Pagefind } from "./searchTier.ts";

type Suggesting = typeof import("./suggestEntry.ts");

/** Where an index is: its folder, as an address that ends in a slash, its tiers, and the script that suggests. */
export interface IndexPlace {
  readonly index: string;
  readonly tiers: readonly string[];
  readonly suggest: string;
}

/** Loads Pagefind's module and opens the index beside it. */
export async function openIndex({ index, tiers, suggest }: IndexPlace, known: Known): Promise<SearchIndex> {
  const base = new URL(index, location.href).href;
  const meant: Suggest = async (asked, unknown) => {
    try {
      const { meantBy } = (await import(suggest)) as Suggesting;
      return await meantBy(asked, unknown, `${base}words.json`);
    } catch {
      return null; // where it can't be fetched nothing is suggested, and what was found is found
    }
  };
  return searchIndex((await import(`${base}pagefind.js`)) as Pagefind, base, tiers, known, meant);
}
