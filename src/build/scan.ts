import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { ASSETS_PATH, SEARCH_INDEX, SEARCH_WORDS } from "../model/address.ts";
import type { Finding, Place } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import { edgesOf, gramsOf, isComposed } from "../scan/composed.ts";
import { findRuns, isBinary } from "../scan/find.ts";
import type { HeldDigests, HeldRuns } from "../scan/held.ts";
import { textsIn } from "../scan/texts.ts";
import { digestOfRun } from "../scan/words.ts";
import { sourcesBelow } from "../station/folder.ts";
import { TEMPLATES } from "./sharedInputs.ts";

/** Leaves of some runs those that nothing lets stand there. */
export type Unexplained = (runs: readonly string[]) => readonly string[];

/** The same for files in which these texts of episodes may stand. */
export type OwnWords = (shown: readonly string[]) => Unexplained;

/**
 * Takes out what every site may say: the programme's own texts, and the sentences of templates and pages. These are read
 * when the first run is asked about: in most builds, none is. @param station the station's own folder; null: it has none.
 */
export function ownWords(programme: Programme, station: string | null): OwnWords {
  const fields = once(() => textsIn("programme.json", JSON.stringify(programme)));
  const own = once(() => gramsOf([...fields(), ...sentences(), ...(station === null ? [] : stationTexts(station))]));
  return (shown) => {
    const edges = once(() => edgesOf([...fields(), ...shown]));
    const said = once(() => gramsOf(shown));
    return (asked) => asked.filter((run) => !said().has(run) && !isComposed(run, own(), edges()));
  };
}

/** What a station's own templates say. */
const stationTexts = (folder: string): readonly string[] =>
  sourcesBelow(folder).flatMap((file) => {
    const bytes = readFileSync(join(folder, file));
    return isBinary(bytes) ? [] : textsIn("source", bytes.toString("utf8"));
  });

/** The program's own sentences stand in its sources. */
function sentences(): readonly string[] {
  const folders = ["templates", ...["pages", "feeds", "search", "record", "model"].map((name) => `src/${name}`)];
  return folders.flatMap((name) => {
    const folder = join(TEMPLATES, "..", name);
    const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((file) => /\.tsx?$/.test(file));
    return files.flatMap((file) => textsIn("source", readFileSync(join(folder, file), "utf8")));
  });
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** Takes out what listings of episodes say, one after the other until nothing is left. */
export function notListed(
  runs: readonly string[],
  listings: readonly (() => string)[],
  own: OwnWords,
): readonly string[] {
  let left = own([])(runs);
  for (const read of listings) {
    if (left.length === 0) break;
    left = own(textsIn("listings.json", read()))(left);
  }
  return left;
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
  held: HeldRuns,
  unexplained: Unexplained,
): readonly Finding[] {
  const clean = new Set<string>();
  return [...files].flatMap(({ path, text }) => {
    const runs = unexplained(findRuns(path, text, (run) => held.runs.has(run), clean));
    const at = held.runs.get(runs[0] ?? "");
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
  own: OwnWords,
): readonly Finding[] {
  const folder = join(index, "fragment");
  // Where no segment has a word, there is none.
  if (held.size === 0 || !existsSync(join(tree, folder))) return [];
  // A fragment has its segment's words and titles, and no sentences of the program.
  const unexplained = own([]);
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
  const clean = new Set<string>();
  for (const { path, text } of files) {
    // Pieces that many files have in common are read once, as long as they are few.
    if (clean.size > 20_000) clean.clear();
    const runs = unexplained(findRuns(path, text, (run) => owners.has(digestOfRun(run)), clean));
    const id = owners.get(digestOfRun(runs[0] ?? ""));
    if (id !== undefined) found.push(leak(path, runs, placeOf(id)));
  }
  return found;
}

/** Whether a file that all years share is made from content, and not from the program alone. */
export const isOfContent = (path: string): boolean =>
  path === SEARCH_WORDS || (!path.startsWith(ASSETS_PATH) && !path.startsWith(SEARCH_INDEX));

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
      "Take these words out of titles, summaries and notes. If they stand in none of these, the fault is the program's: " +
      "report it. The site stays as it was.",
  };
}
