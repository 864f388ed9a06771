import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { episodeFilePath, isOfEpisode } from "../model/address.ts";

/** What a site has published, by its own files. @param site the folder of a built site, which need not be there. */

/** The record of an episode as the site has it; null where the site has none. */
export function recordServed(site: string, id: string): string | null {
  const path = join(site, episodeFilePath(id, "record"));
  return existsSync(path) ? readFileSync(path, "utf8") : null;
}

/** Which of some episodes the site has as published. */
export const publishedOf = (site: string, ids: readonly string[]): readonly string[] =>
  ids.filter((id) => existsSync(join(site, episodeFilePath(id, "record"))));

/** All episodes that the site has as published. */
export function publishedIn(site: string): readonly string[] {
  const names = existsSync(site) ? readdirSync(site) : [];
  return publishedOf(site, names.filter(isOfEpisode));
}
