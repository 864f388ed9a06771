import { existsSync, lstatSync, readdirSync, readFileSync, realpathSync } from "node:fs";
import { join, relative, sep } from "node:path";
import {
  checksumsPath,
  episodeOfRecord,
  isChecksums,
  nameOfChecksums,
  RECORD_PATH,
  SITE_MARK,
} from "../model/address.ts";
import { parseChecksums } from "../model/checksums.ts";
import type { Finding } from "../model/finding.ts";
import type { Digest } from "../record/digest.ts";
import { digestOfFile } from "../write/digests.ts";
import { guestsOf } from "../write/guests.ts";

/** What of a site is not as the build left it. */
export interface Strange {
  readonly findings: readonly Finding[];
  /** Ids of the episodes whose record it is. */
  readonly records: readonly string[];
}

export const NOTHING_STRANGE: Strange = { findings: [], records: [] };

/**
 * Compares the files of a site with its checksum lists. The lists themselves are known by their digest: a build finds
 * nothing kept for a list that was written to, and makes what it lists anew. @param site the folder, which need not be there.
 * @param content the folder that places of findings are relative to.
 */
export async function strangeFiles(site: string, content: string): Promise<Strange> {
  if (!existsSync(site)) return NOTHING_STRANGE;
  const listed = listedIn(site);
  const guests = new Set(guestsOf(site).names);
  const found: { readonly path: string; readonly rule: string; readonly says: string }[] = [];
  const missing = new Set(listed.keys());
  for (const path of filesOf(site)) {
    if (guests.has(path.split("/")[0] ?? "") || path === SITE_MARK || isChecksums(path)) continue;
    missing.delete(path);
    const digest = listed.get(path);
    if (digest === undefined || !lstatSync(join(site, path)).isFile()) {
      found.push({ path, rule: "site-file-strange", says: "No build made this file of the last site." });
    } else if ((await digestOfFile(join(site, path))) !== digest) {
      found.push({
        path,
        rule: "site-file-changed",
        says: "This file of the last site was changed after it was built.",
      });
    }
  }
  for (const path of missing)
    found.push({ path, rule: "site-file-missing", says: "This file of the last site is gone." });
  const toFile = (path: string): string => relative(realpathSync(content), join(site, path)).split(sep).join("/");
  const records = found.flatMap(({ path }) => episodeOfRecord(path) ?? []);
  return { findings: found.map(({ path, rule, says }) => finding(toFile(path), rule, says)), records };
}

function listedIn(site: string): ReadonlyMap<string, Digest> {
  const files = existsSync(join(site, RECORD_PATH)) ? readdirSync(join(site, RECORD_PATH)) : [];
  const names = files.flatMap((name) => nameOfChecksums(name) ?? []);
  return new Map(names.flatMap((name) => [...parseChecksums(readFileSync(join(site, checksumsPath(name)), "utf8"))]));
}

/** All that is no folder, as paths with forward slashes, in order. */
const filesOf = (folder: string): readonly string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => !entry.isDirectory())
    .map((entry) =>
      join(entry.parentPath, entry.name)
        .slice(folder.length + 1)
        .split(sep)
        .join("/"),
    )
    .sort();

const finding = (file: string, rule: string, says: string): Finding => ({
  rule,
  level: "warns",
  at: { file, line: 1, column: 1 },
  seconds: null,
  says,
  mend: "The whole site was made anew. Find out who can write to it.",
});
