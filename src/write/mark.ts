import { existsSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { SITE_MARK } from "../model/address.ts";
import { makeFolders } from "./files.ts";

/** What a build leaves in the folder of a site, so that the next one knows that it may write there. */
export interface SiteMark {
  /** The programme's, as in programme.md. */
  readonly title: string;
  readonly url: string;
  /** Whether the site may go to the public, or holds what is not published. */
  readonly holds: "site" | "drafts";
}

/** The text of a mark: JSON, and a line for people. */
export const markText = ({ title, url, holds }: SiteMark): string =>
  `${JSON.stringify({ about: "A site that afterair built. Each build makes what lies here anew.", title, url, holds })}\n`;

/** The mark of a folder; null where no build left one. */
export function readMark(folder: string): SiteMark | null {
  const text = textOf(join(folder, SITE_MARK));
  if (text === null) return null;
  try {
    const { title, url, holds } = JSON.parse(text) as Partial<Record<keyof SiteMark, unknown>>;
    if (typeof title !== "string" || typeof url !== "string" || (holds !== "site" && holds !== "drafts")) return null;
    return { title, url, holds };
  } catch {
    return null;
  }
}

/**
 * The file that marks a folder as one of things that can be made again: programs that keep copies pass it over. Its first
 * line is that of the Cache Directory Tagging Specification (https://bford.info/cachedir/), the second is ours.
 */
const CACHE_TAG = "CACHEDIR.TAG";
const TAG = `Signature: 8a477f597d28d172789f06886806bc55
# What afterair keeps between builds of the site beside it. It can be taken away: the next build then makes more.
`;

/** Makes the folder of what is kept between builds, and marks it. */
export function makeCache(kept: string): void {
  makeFolders(kept);
  if (isCache(kept)) return;
  // Whole or not at all: a folder with half a mark, as a full disk leaves it, is one that the next build would not touch.
  const beside = join(kept, `.${CACHE_TAG}.new`);
  try {
    writeFileSync(beside, TAG);
    renameSync(beside, join(kept, CACHE_TAG));
  } finally {
    rmSync(beside, { force: true });
  }
}

/** Whether a folder has our mark of a cache. */
export const isCache = (folder: string): boolean => textOf(join(folder, CACHE_TAG)) === TAG;

const textOf = (path: string): string | null => (existsSync(path) ? readFileSync(path, "utf8") : null);
