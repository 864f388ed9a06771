import type { Checksum } from "../model/checksums.ts";
import type { Page } from "../pages/types.ts";
import type { Standby } from "./standby.ts";

/** What the templates bring: the text of a page's file. */
interface Documents {
  setPage(page: Page): string;
}

/**
 * Sets pages with the templates, and writes them. @param documents the address of what they are compiled to. @returns the files, in the order of the
 * pages. @throws when a template fails: that is a fault of ours.
 */
export async function writePages(
  pages: readonly Page[],
  documents: string,
  standby: Standby,
): Promise<readonly Checksum[]> {
  // Loaded here: a build that has nothing to set must not wait for it.
  const { setPage } = (await import(documents)) as Documents;
  return pages.map((page) => standby.write(page.path, setPage(page)));
}
