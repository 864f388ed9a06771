import { type Known, type SearchIndex, searchIndex } from "./searchIndex.ts";
import type { Pagefind } from "./searchTier.ts";

/** Loads Pagefind's module and opens the index beside it. @param folder an address that ends in a slash. */
export async function openIndex(folder: string, tiers: readonly string[], known: Known): Promise<SearchIndex> {
  const base = new URL(folder, location.href).href;
  return searchIndex((await import(`${base}pagefind.js`)) as Pagefind, base, tiers, known);
}
