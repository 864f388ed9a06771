import { type Addresses, isKeptForOurs } from "../model/address.ts";
import type { Finding } from "../model/finding.ts";
import { digestsOf, isAsRead, type Reads } from "../station/archive.ts";
import { claimFinding } from "../station/faults.ts";
import type { Station } from "../station/folder.ts";
import type { Ran, RanFile } from "../station/run.ts";
import type { PlainArchive } from "./setPages.ts";
import type { KnownFile, KnownStation } from "./state.ts";
import { yearEntry } from "./stationData.ts";
import type { BuiltYear } from "./years.ts";

export const OWN_GROUP = "the station's own pages";

/** The archive as a station's templates may ask for it. @param years oldest first. */
export function archiveOf(years: readonly BuiltYear[], addresses: Addresses): PlainArchive {
  const shown = years.filter(({ state }) => state.counts.episodes > 0).toReversed();
  const all = (names: (year: BuiltYear) => readonly string[]) => [...new Set(shown.flatMap(names))].sort();
  return {
    years: shown.map(({ year, state: { counts, listed }, path }) => {
      return { entry: yearEntry(year, counts, addresses), digest: listed, state: path };
    }),
    names: {
      topics: all(({ state }) => state.facts.topics),
      speakers: all(({ state }) => state.facts.speakers),
      places: all(({ state }) => state.counts.places),
    },
  };
}

/** The digests of all that templates may ask for. */
export const readsNow = ({ years, names }: PlainArchive): Reads =>
  digestsOf({ names, years: years.map((year) => ({ ...year, read: notRead })) });
const notRead = (): never => {
  throw new Error("To compare digests, nothing is read.");
};

/** Which of the station's templates are due: those that asked for something that changed since. Pure. */
export function dueTemplates(
  known: KnownStation | null,
  station: Station | null,
  now: Reads,
): "all" | readonly string[] {
  if (station === null) return [];
  if (known === null || known.ownDigest !== station.ownDigest) return "all";
  const due = Object.entries(known.templates).filter(([, { reads }]) => !isAsRead(reads, now));
  // One that lists others of the folder needs them there; what a plugin wrote may be made from any.
  const isWhole = due.some(([, { siblings }]) => siblings) || (due.length > 0 && known.hasMore);
  return isWhole ? "all" : due.map(([template]) => template);
}

/** What a station's files may not be called: addresses that are ours, or will be. @param ours paths of this site. */
export function claimsOfOurs(
  files: readonly RanFile[],
  ours: ReadonlySet<string>,
  { folder, configName }: Station,
): readonly Finding[] {
  return files
    .filter(({ path }) => ours.has(path) || isKeptForOurs(path))
    .map(({ path, by, isCopied }) => claimFinding(folder, isCopied || by === null ? (configName ?? path) : by, path));
}

/** What is known of the station's pages after a run. */
export function stationAfter(
  known: KnownStation | null,
  { ownDigest }: Station,
  { templates, files }: Ran,
  due: "all" | readonly string[],
): KnownStation {
  if (due !== "all")
    return { ownDigest, templates: { ...known?.templates, ...templates }, hasMore: known?.hasMore ?? false };
  return { ownDigest, templates, hasMore: files.some(({ by, isCopied }) => by === null && !isCopied) };
}

/** The station's files after a run: those that were not due stay. */
export const filesAfter = (
  before: readonly KnownFile[],
  made: readonly KnownFile[],
  due: "all" | readonly string[],
): readonly KnownFile[] => (due === "all" ? made : [...before.filter(({ key }) => !due.includes(key)), ...made]);
