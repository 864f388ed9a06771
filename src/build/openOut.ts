import { basename, join, resolve } from "node:path";
import { SITE_MARK } from "../model/address.ts";
import type { Programme } from "../model/programme.ts";
import { UsageError } from "../model/usageError.ts";
import { markText, readMark, type SiteMark } from "../write/mark.ts";
import { outFolder } from "../write/outFolder.ts";
import { openSite, type SiteFolder } from "../write/siteFolder.ts";

/** Where drafts are built, so that they never lie in the folder that goes to the public: one for each content and day. */
export const draftsFolder = (content: string, on: string | null): string =>
  join(".afterair/preview", basename(resolve(content)) + (on === null ? "" : `-${on}`));

/** What is to be built where. */
interface Asked {
  /** As it was named. */
  readonly out: string;
  readonly content: string;
  readonly drafts: boolean;
}

/**
 * Opens the folder that a site is built in. Throws a `UsageError`, with nothing touched, where a build may not write, or
 * where drafts would take the place of a site for the public.
 */
export async function openOut(
  { out, content, drafts }: Asked,
  waiting: (owner: string, lock: string) => void,
): Promise<SiteFolder> {
  const found = outFolder(out, content);
  if (!found.ok) throw new UsageError(`${found.why} ${found.mend}`);
  if (drafts && readMark(found.folder)?.holds === "site") {
    throw new UsageError(
      `Not built: ${out} is a site for the public, and drafts don't go there. Name another folder, or leave --out away.`,
    );
  }
  return openSite(found.folder, waiting);
}

/** Throws a `UsageError` where the site that stands in a folder is another programme's. @param out as it was named. */
export function requireOwnSite(out: string, serves: string, own: SiteMark): void {
  const mark = readMark(serves);
  // A programme may get another title, or move to another address.
  if (mark === null || mark.url === own.url || mark.title === own.title) return;
  throw new UsageError(
    `Not built: ${out} is the site of ${mark.title} (${mark.url}), and this is ${own.title} (${own.url}). Name another folder with --out.`,
  );
}

/** The mark of a build's site. */
export const markOf = ({ title, url }: Programme, drafts: boolean): SiteMark => ({
  title,
  url,
  holds: drafts ? "drafts" : "site",
});

/** Whether a folder has this very mark. */
export function hasMark(folder: string, mark: SiteMark): boolean {
  const found = readMark(folder);
  return found !== null && markText(found) === markText(mark);
}

/** Leaves the mark in the site that is about to serve. */
export async function leaveMark(folder: SiteFolder, mark: SiteMark): Promise<void> {
  if (hasMark(folder.path, mark)) return;
  await folder.renew([SITE_MARK]);
  folder.write(SITE_MARK, markText(mark));
}
