import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { FeedCorrection } from "../feeds/corrections.ts";
import type { Checksum } from "../model/checksums.ts";
import type { Finding } from "../model/finding.ts";
import type { Claim } from "../model/output.ts";
import type { YearFacts } from "../pages/facts.ts";
import type { EditionLink, EpisodeStories } from "../pages/types.ts";
import type { WalkEpisode, YearNames } from "../pages/walk.ts";
import type { FileStats, YearStats } from "../read/fileStats.ts";
import { isWithin, type Span } from "../record/span.ts";
import type { HeldDigests } from "../scan/held.ts";
import type { SearchWords } from "../search/words.ts";
import type { TemplateReads } from "../station/run.ts";
import { readKept, writeKept } from "../write/kept.ts";
import type { Listing } from "./episodePlan.ts";
import type { YearStories } from "./groups.ts";
import type { ReadContext } from "./readEpisode.ts";
import type { YearCounts } from "./stationData.ts";

/** What a build made a site from, apart from its episodes: digests. A site is made anew where one of them is another. */
export interface InputDigests {
  /** Our own code, the packages and the Node that runs it. */
  readonly program: string;
  readonly templates: string;
  /** programme.md, the register, the pages written by hand. */
  readonly programme: string;
  /** What a station's own templates put around pages; "": nothing. */
  readonly frame: string;
}

/** What is known of an episode from the build that made its pages. */
export interface KnownEpisode {
  /** null where its files had changed too shortly before to be sure of. */
  readonly stats: FileStats | null;
  /** Of all its files. */
  readonly digest: string;
  readonly span: Span;
  readonly draft: boolean;
  readonly aired: string | null;
  /** For its neighbours' pages; null: not on the site. */
  readonly link: EditionLink | null;
  /** Digest of the neighbours' links on its own page. */
  readonly beside: string;
  /** The stories that its segments' pages lead to. */
  readonly stories: EpisodeStories;
  /** Digest of its search records. */
  readonly search: string;
  /** Digests of the runs of its words that may not stand in the site. */
  readonly held: HeldDigests;
  readonly pages: number;
  readonly warnings: readonly Finding[];
}

/** A year as a build left it: little enough to be read for every year in every build. */
export interface YearState {
  readonly inputDigests: InputDigests;
  readonly stats: YearStats;
  /** On which days all of its episodes are shown as they are. */
  readonly span: Span;
  /** Of its drafts, whether they are on the site. */
  readonly drafts: readonly boolean[];
  /** How many episodes and pages it has on the site. */
  readonly shown: number;
  readonly pages: number;
  readonly tiers: Readonly<Record<string, KnownTier>>;
  readonly warnings: readonly Finding[];
  readonly facts: YearFacts;
  readonly corrections: readonly FeedCorrection[];
  /** Paths of its episodes that stand among those of others. */
  readonly claimed: readonly string[];
  /** The stories that segments' pages lead to: from `storiesKey`. */
  readonly told: string;
  /** Digest of the year's listings, from theirs. */
  readonly listed: string;
  readonly counts: YearCounts;
  /** What misspelt questions are held against. */
  readonly words: SearchWords;
}

/** A tier of the search index, and the stretch of the archive that it is made from. */
export interface KnownTier {
  /** Digest of what it was made from. */
  readonly key: string;
  /** There was nothing to index. */
  readonly isEmpty: boolean;
  /** Its first and its last episode on the site; null where it has none. */
  readonly ends: Ends | null;
}
export interface Ends {
  readonly first: End;
  readonly last: End;
}
export interface End {
  readonly link: EditionLink;
  /** The episode next to it within the tier; null: there is none. */
  readonly next: EditionLink | null;
  /** As in `KnownEpisode`. */
  readonly beside: string;
}

/** What is known of each episode of a year, by id: read only where something may have happened to one of them. */
export type YearEpisodes = Readonly<Record<string, KnownEpisode>>;

/** The rest of what is known of a year: read only where the year, or a list that it is in, is made anew. */
export interface YearListings {
  readonly episodes: Readonly<Record<string, ListedEpisode>>;
  /** The checksum lists of the tiers. */
  readonly tiers: Readonly<Record<string, string>>;
  /** What misspelt questions are held against, by tier. */
  readonly words: Readonly<Record<string, SearchWords>>;
}
export interface ListedEpisode {
  readonly listing: Listing;
  /** Digest of the listing. */
  readonly digest: string;
  /** The checksum list of its files. */
  readonly files: string;
  readonly claims: readonly Claim[];
}

/** All that is known of a year. */
export interface KnownYear {
  readonly state: YearState;
  readonly episodes: YearEpisodes;
  readonly listings: YearListings;
  /** What pages of months and names have of it, oldest first. */
  readonly walk: readonly WalkEpisode[];
  readonly names: YearNames;
}

/** What all years share, as a build left it. */
export interface CommonState {
  readonly inputDigests: InputDigests;
  readonly groups: Readonly<Record<string, KnownGroup>>;
  /** What is known of the pages of the station's own folder; null: it has none. */
  readonly station: KnownStation | null;
  /** The stories of each year. */
  readonly stories: Readonly<Record<string, YearStories>>;
}
export interface KnownStation {
  /** Digest of the folder that they were made from. */
  readonly ownDigest: string;
  /** What each template asked for. */
  readonly templates: Readonly<Record<string, TemplateReads>>;
  /** Something was written by a plugin, so that nobody knows what it is made from. */
  readonly hasMore: boolean;
}
export interface KnownGroup {
  readonly key: string;
  readonly files: readonly KnownFile[];
}
export interface KnownFile extends Checksum {
  readonly key: string;
}

/** Whether an episode is shown today as it was when it was made. */
export const isUnchangedOn = (known: KnownEpisode, { day, drafts }: Pick<ReadContext, "day" | "drafts">): boolean =>
  isWithin(known.span, day.until, day.date) && (!known.draft || drafts === (known.link !== null));

/** The same of all episodes of a year at once. */
export const yearIsUnchangedOn = (known: YearState, { day, drafts }: Pick<ReadContext, "day" | "drafts">): boolean =>
  isWithin(known.span, day.until, day.date) && known.drafts.every((shown) => shown === drafts);

/** How many of some files are pages. */
export const pagesIn = (paths: readonly string[]): number => paths.filter((path) => path.endsWith(".html")).length;

/** Digest of the stories of a year's episodes. @param told by id: what is told of an episode that no story has is not in it. */
export const storiesKey = (told: readonly (readonly [id: string, stories: EpisodeStories])[]): string =>
  keyOf(told.filter(([, stories]) => Object.keys(stories).length > 0).toSorted(([a], [b]) => (a < b ? -1 : 1)));

/** The digest of a value: of its JSON. */
export const keyOf = (value: unknown): string => createHash("sha256").update(JSON.stringify(value)).digest("base64url");

/**
 * The state that belongs to a site is found by the site itself: its name is the digest of the checksum list that stands
 * in the site. So a state can never be taken for that of another tree, whenever a build was killed, and shares of a site
 * can be laid together by copying files. @param of a year, or "site".
 */
export const stateName = (of: string, list: string | Uint8Array): string =>
  `${of}-${createHash("sha256").update(list).digest("hex").slice(0, 20)}`;

/** The folder of all states. */
export const statesIn = (kept: string): string => join(kept, "known");
export const statePathOf = (kept: string, name: string): string => join(statesIn(kept), name);

const episodesPath = (state: string): string => `${state}.episodes`;
const listingsPath = (state: string): string => `${state}.listings`;
const heldPath = (state: string): string => `${state}.held`;
const namesPath = (state: string): string => `${state}.names`;
const walkPath = (state: string): string => `${state}.walk`;
const BESIDE = [episodesPath, listingsPath, heldPath, namesPath, walkPath];

/** The state of a year; null where it is not there as a whole. */
export function readYear(path: string | null): YearState | null {
  if (path === null || !BESIDE.every((own) => existsSync(own(path)))) return null;
  return readKept<YearState>(path);
}

/** Where it is not sound, nothing is known of any of them. */
export const readEpisodes = (path: string): YearEpisodes => readKept<YearEpisodes>(episodesPath(path)) ?? {};

/** The listings of a year that is known. Whether they are sound is seen only here: they are too many to look at in every build. */
export const readListings = (path: string): YearListings => wholeKept(listingsPath(path));

/** What may not stand in the site of a year's episodes, by id: of those that hold anything back. */
export const readHeld = (path: string): Readonly<Record<string, HeldDigests>> => wholeKept(heldPath(path));

/** The names of a year that is known. */
export const readNames = (path: string): YearNames => wholeKept(namesPath(path));

/** What pages of months and names have of a year that is known, oldest first. */
export const readWalk = (path: string): readonly WalkEpisode[] => wholeKept(walkPath(path));

function wholeKept<T>(path: string): T {
  const kept = readKept<T>(path);
  if (kept !== null) return kept;
  throw new Error(`${path} is broken. Take the folder ${join(path, "../..")} away, and build again.`);
}

export async function writeYear(path: string, { state, episodes, listings, walk, names }: KnownYear): Promise<void> {
  const held = Object.entries(episodes).flatMap(([id, { held: own }]) => (own.length > 0 ? [[id, own] as const] : []));
  await writeKept(heldPath(path), Object.fromEntries(held));
  await writeKept(namesPath(path), names);
  await writeKept(walkPath(path), walk);
  await writeKept(listingsPath(path), listings);
  await writeKept(episodesPath(path), episodes);
  await writeKept(path, state);
}
