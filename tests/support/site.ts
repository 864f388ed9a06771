import { createHash } from "node:crypto";
import { cpSync, readFileSync, writeFileSync } from "node:fs";
import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { gunzipSync } from "node:zlib";
import { type Built, buildSite } from "../../src/build/build.ts";
import { checksumsPath, SITE_MARK } from "../../src/model/address.ts";
import { checksumList } from "../../src/model/checksums.ts";
import { markText, readMark } from "../../src/write/mark.ts";
import type { SiteFolder } from "../../src/write/siteFolder.ts";

export const DEMO = resolve(import.meta.dirname, "../../content");

/** programme.md without the station's own templates. */
export const withoutOwn = (programme: string): string => programme.replace(/^own: .*\n/m, "");

/** A copy of the demo to change, without the station's own templates, which are not in the content. */
export function copyDemo(to: string): void {
  cpSync(DEMO, to, { recursive: true });
  const file = join(to, "programme.md");
  writeFileSync(file, withoutOwn(readFileSync(file, "utf8")));
}
/** The evening that the demo stands at: after its corrections, before a withheld item may be shown. */
export const DEMO_DAY = "2026-10-12";

/** A folder for one test file, taken away afterwards by `removeFolder`. */
export const newFolder = (): Promise<string> => mkdtemp(join(tmpdir(), "afterair-"));
export const removeFolder = (folder: string): Promise<void> => rm(folder, { recursive: true, force: true });

export function build(content: string, out: string, on: string | null = DEMO_DAY): Promise<Built> {
  return buildSite({ content, out, on, now: new Date("2026-10-12T20:00:00Z"), drafts: false });
}

/** All files below a folder with their bytes, by path with forward slashes. */
export async function readTree(folder: string): Promise<ReadonlyMap<string, Buffer>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();
  return new Map(await Promise.all(paths.map(async (path) => [path, await readFile(join(folder, path))] as const)));
}

/** A file as text, unpacked where it is packed: the search index is made of gzip. */
export function textOf(bytes: Buffer): string {
  return (bytes[0] === 0x1f && bytes[1] === 0x8b ? gunzipSync(bytes) : bytes).toString("utf8");
}

/** Where the list of what all years share stands. */
export const SITE_LIST = checksumsPath("site");

/** Writes the checksum list of all that a standby holds, as a build does. */
export async function writeList(folder: SiteFolder): Promise<void> {
  await folder.renew([SITE_LIST]);
  const sums = [...(await readTree(folder.path))].map(([path, bytes]) => ({ path, digest: digestOf(bytes) }));
  folder.write(SITE_LIST, checksumList(sums));
}

/** Marks a site as one of drafts, so that they may be built into it. */
export async function markAsDrafts(site: string): Promise<void> {
  const mark = readMark(site);
  if (mark !== null) await writeFile(join(site, SITE_MARK), markText({ ...mark, holds: "drafts" }));
}

export const digestOf = (bytes: Buffer): string => createHash("sha256").update(bytes).digest("hex");
