import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { SEARCH_INDEX } from "../model/address.ts";
import type { Finding, Place } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import { findRuns, isBinary } from "../scan/find.ts";
import { digestOfRun } from "../scan/words.ts";
import { TEMPLATES } from "./ground.ts";

/** Digests of an episode's held runs. */
export type HeldDigests = readonly number[];

/** Leaves of some runs those that nothing lets stand there. */
export type Unexplained = (runs: readonly string[]) => readonly string[];

/**
 * Takes out what every site may say: the programme's own texts, and the sentences of templates and pages. These are read
 * when the first run is asked about: in most builds, none is.
 */
export function withoutOwnWords(programme: Programme): Unexplained {
  let runs: ReadonlySet<string> | null = null;
  return (asked) => {
    if (asked.length === 0) return asked;
    runs ??= new Set([
      ...findRuns("programme.json", JSON.stringify(programme), () => true),
      ...sourceFiles().flatMap((file) => findRuns("source", readFileSync(file, "utf8"), () => true)),
    ]);
    const known = runs;
    return asked.filter((run) => !known.has(run));
  };
}

/** Takes out what listings of episodes say, one after the other until nothing is left. */
export function notListed(runs: readonly string[], listings: readonly (() => string)[]): readonly string[] {
  let left = runs;
  for (const read of listings) {
    if (left.length === 0) break;
    const sought = new Set(left);
    const said = new Set(findRuns("listings.json", read(), (run) => sought.has(run)));
    left = left.filter((run) => !said.has(run));
  }
  return left;
}

/** The program's own sentences stand in its sources. */
function sourceFiles(): readonly string[] {
  const folders = [TEMPLATES, join(TEMPLATES, "../src")];
  return folders.flatMap((folder) =>
    readdirSync(folder, { recursive: true, encoding: "utf8" })
      .filter((file) => /\.tsx?$/.test(file))
      .map((file) => join(folder, file)),
  );
}

/** A file as text: as it lies on the disk, or what is about to be written; packed or not. */
export interface ScannedFile {
  readonly path: string;
  readonly text: string;
}

/** Files of the tree that is about to serve, read back from the disk; those without words are left out. */
export function* filesIn(tree: string, paths: Iterable<string>): Generator<ScannedFile> {
  for (const path of paths) {
    const bytes = readFileSync(join(tree, path));
    if (!isBinary(bytes)) yield { path, text: bytes.toString("utf8") };
  }
}

/** What is found of an episode's held words in its own files. */
export function scanEpisode(
  files: Iterable<ScannedFile>,
  held: ReadonlyMap<string, Place>,
  unexplained: Unexplained,
): readonly Finding[] {
  if (held.size === 0) return [];
  return [...files].flatMap(({ path, text }) => {
    const runs = unexplained(findRuns(path, text, (run) => held.has(run)));
    const at = held.get(runs[0] ?? "");
    return at === undefined ? [] : [leak(path, runs, at)];
  });
}

/**
 * What is found of held words in a tier of the search index, segment by segment. What is searched is one packed file a
 * segment; the other files of an index hold single words, and no runs.
 */
export function scanTier(
  tree: string,
  index: string,
  held: ReadonlyMap<string, HeldDigests>,
  unexplained: Unexplained,
): readonly Finding[] {
  const folder = join(index, "fragment");
  // Where no segment has a word, there is none.
  if (held.size === 0 || !existsSync(join(tree, folder))) return [];
  return readdirSync(join(tree, folder)).flatMap((name) => {
    const path = `${folder}/${name}`;
    const text = gunzipSync(readFileSync(join(tree, path))).toString("utf8");
    const id = [...held.keys()].find((one) => text.includes(`/${one}/`));
    return id === undefined ? [] : scanDigests([{ path, text }], new Map([[id, held.get(id) ?? []]]), unexplained);
  });
}

/** What is found of the held words of some episodes, by id, in files that are nobody's own. */
export function scanDigests(
  files: Iterable<ScannedFile>,
  held: ReadonlyMap<string, HeldDigests>,
  unexplained: Unexplained,
): readonly Finding[] {
  const owners = new Map([...held].flatMap(([id, digests]) => digests.map((digest) => [digest, id] as const)));
  if (owners.size === 0) return [];
  const found: Finding[] = [];
  for (const { path, text } of files) {
    const runs = unexplained(findRuns(path, text, (run) => owners.has(digestOfRun(run))));
    const id = owners.get(digestOfRun(runs[0] ?? ""));
    if (id !== undefined) found.push(leak(path, runs, placeOf(id)));
  }
  return found;
}

/** Whether a file that all years share is made from content, and not from the program alone. */
export const isOfContent = (path: string): boolean => !path.startsWith("assets/") && !path.startsWith(SEARCH_INDEX);

const placeOf = (id: string): Place => ({ file: `episodes/${id.slice(0, 4)}/${id}/episode.md`, line: 1, column: 1 });

function leak(path: string, runs: readonly string[], at: Place): Finding {
  const more = runs.length > 1 ? ` and ${runs.length - 1} more such runs of words` : "";
  return {
    rule: "withheld-in-site",
    level: "blocks",
    at,
    seconds: null,
    says: `The file ${path} of the new site would hold "${runs[0]}"${more}, which may not be given.`,
    mend:
      "Take these words out of titles, summaries, notes and pages of your own. If they stand in none of these, " +
      "the fault is the program's: report it. The site stays as it was.",
  };
}
