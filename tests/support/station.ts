import { cp, readdir, readFile, symlink, utimes, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { type BuildOptions, type Built, buildSite } from "../../src/build/build.ts";
import { checksumsPath } from "../../src/model/address.ts";
import { digestOf, readTree } from "./site.ts";

const ROOT = resolve(import.meta.dirname, "../..");
/** A small content folder, and a station's folder that does a little of all that one may do. */
export const SMALL = join(ROOT, "tests/fixtures/small");
export const STATION = join(ROOT, "tests/fixtures/station");

/** Copies the station's folder to where it stands alone: with packages and their lock file beside it. @returns its path. */
export async function copyStation(beside: string): Promise<string> {
  const own = join(beside, "own");
  await cp(join(STATION, "own"), own, { recursive: true });
  // A template names its types by where the fixture stands: to build it, nobody reads them.
  await symlink(join(ROOT, "node_modules"), join(beside, "node_modules")).catch(() => undefined);
  await writeFile(join(beside, "package-lock.json"), "{}\n");
  return own;
}

/** Replaces a text in a file. @throws where it is not there. */
export async function edit(file: string, from: string | RegExp, to: string): Promise<void> {
  const text = await readFile(file, "utf8");
  const edited = text.replace(from, () => to);
  if (edited === text) throw new Error(`${file} has no ${from}`);
  await writeFile(file, edited);
}

export interface BuiltAnew {
  readonly built: Built;
  /** Why each place of the site was made anew. */
  readonly why: Readonly<Record<string, string>>;
}

/** A build of the small content, or as `options` say, with the reasons that it gave. */
export async function buildWith(options: Partial<BuildOptions> & Pick<BuildOptions, "out">): Promise<BuiltAnew> {
  const why: Record<string, string> = {};
  const progress = {
    waiting() {},
    begin() {},
    done() {},
    made(place: string, _pages: number, reason: string) {
      why[place] = reason;
    },
    end() {},
  };
  const content = join(SMALL, "content");
  const rest = { content, on: null, now: new Date("2026-12-01T12:00:00Z"), drafts: false, progress };
  return { built: await buildSite({ ...rest, ...options }), why };
}

/** Digests of a site's files, by path. */
export const digestsOf = async (site: string): Promise<Readonly<Record<string, string>>> =>
  Object.fromEntries([...(await readTree(site))].map(([path, bytes]) => [path, digestOf(bytes)]));

/** The paths in the checksum list of what all years share. */
export async function listedIn(site: string): Promise<readonly string[]> {
  const list = await readFile(join(site, checksumsPath("site")), "utf8");
  return list.split("\n").flatMap((line) => line.split("  ")[1] ?? []);
}

/** Gives all files below a folder another time. */
export async function age(folder: string, time: Date): Promise<void> {
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true }))
    if (!entry.isSymbolicLink()) await utimes(join(entry.parentPath, entry.name), time, time);
}
