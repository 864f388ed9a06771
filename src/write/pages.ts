import type { Checksum } from "../model/checksums.ts";
import type { Page, PageParts } from "../pages/types.ts";
import type { Standby } from "./standby.ts";

/** What the templates bring: the text of a page's file, and its parts; a style sheet has none. */
export interface Documents {
  setPage(page: Page): string;
  setParts(page: Page): PageParts | null;
}

/** @param address of what the templates are compiled to. */
export const loadDocuments = async (address: string): Promise<Documents> => (await import(address)) as Documents;

/** Puts the parts of a page together as a station has it. */
export type Frame = (page: Page, parts: PageParts) => Promise<string>;

/**
 * Sets pages with the templates, and writes them. @param documents the address of what they are compiled to. @param frame
 * null: pages are as our templates have them. @returns the files, in the order of the pages. @throws when a template fails:
 * ours, that is a fault of ours; a station's, a `StationFault`.
 */
export async function writePages(
  pages: readonly Page[],
  documents: string,
  standby: Standby,
  frame: Frame | null,
): Promise<readonly Checksum[]> {
  // Loaded here: a build that has nothing to set must not wait for it.
  const { setPage, setParts } = await loadDocuments(documents);
  if (frame === null) return pages.map((page) => standby.write(page.path, setPage(page)));
  const written: Checksum[] = [];
  for (const page of pages) {
    const parts = setParts(page);
    written.push(standby.write(page.path, parts === null ? setPage(page) : await frame(page, parts)));
  }
  return written;
}
