import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { FeedCorrection } from "../feeds/corrections.ts";
import type { Finding } from "../model/finding.ts";
import type { Claim } from "../model/output.ts";
import type { YearFacts } from "../pages/facts.ts";
import type { Link } from "../pages/types.ts";
import type { Look } from "../read/look.ts";
import type { Checksum } from "../record/checksums.ts";
import { isWithin, type Span } from "../record/span.ts";
import { readKept, writeKept } from "../write/kept.ts";
import type { Listing } from "./episodePlan.ts";
import type { Viewpoint } from "./readEpisode.ts";

/** What a build made a site from, apart from its episodes: digests. A site is made anew where one of them is another. */
export interface Ground {
  /** Our own code, the packages and the Node that runs it. */
  readonly program: string;
  readonly templates: string;
  /** programme.md, the register, the pages written by hand. */
  readonly programme: string;
}

/** What is known of an episode from the build that made its pages. */
export interface KnownEpisode {
  /** null where its files had changed too shortly before to be sure of. */
  readonly look: Look | null;
  /** Of all its files. */
  readonly digest: string;
  readonly span: Span;
  readonly draft: boolean;
  readonly aired: string | null;
  /** For its neighbours' pages; null: not on the site. */
  readonly link: Link | null;
  /** Digest of the neighbours' links on its own page. */
  readonly beside: string;
  /** Digest of its search records. */
  readonly search: string;
  readonly pages: number;
  readonly warnings: readonly Finding[];
}

/** A year as a build left it: little enough to be read for every year in every build. */
export interface YearState {
  readonly ground: Ground;
  readonly episodes: Readonly<Record<string, KnownEpisode>>;
  /** The tiers of the search index: digests of what they were made from, and whether there was anything to index. */
  readonly tiers: Readonly<Record<string, { readonly key: string; readonly isEmpty: boolean }>>;
  readonly facts: YearFacts;
  readonly corrections: readonly FeedCorrection[];
  /** Paths of its episodes that stand among those of others. */
  readonly claims: readonly Claim[];
  /** Digest of the year's listings. */
  readonly listed: string;
}

/** The rest of what is known of a year: read only where the year, or a list that it is in, is made anew. */
export interface YearListings {
  readonly episodes: Readonly<Record<string, ListedEpisode>>;
  readonly tiers: Readonly<Record<string, readonly Checksum[]>>;
}
export interface ListedEpisode {
  readonly listing: Listing;
  readonly files: readonly Checksum[];
}

/** What all years share, as a build left it. */
export interface CommonState {
  readonly ground: Ground;
  readonly groups: Readonly<Record<string, KnownGroup>>;
}
export interface KnownGroup {
  readonly key: string;
  readonly files: readonly KnownFile[];
}
export interface KnownFile extends Checksum {
  readonly key: string;
}

/** Whether an episode is shown today as it was when it was made. */
export const standsOn = (known: KnownEpisode, { day, drafts }: Pick<Viewpoint, "day" | "drafts">): boolean =>
  isWithin(known.span, day.until, day.date) && (!known.draft || drafts === (known.link !== null));

/** Whether nothing happened to the files of an episode, as far as that can be relied on. */
export const isSameLook = (before: Look | null, now: Look | null): boolean => now !== null && before?.sign === now.sign;

/** How many of some files are pages. */
export const pagesIn = (paths: readonly string[]): number => paths.filter((path) => path.endsWith(".html")).length;

/** The digest of a value: of its JSON. */
export const keyOf = (value: unknown): string => createHash("sha256").update(JSON.stringify(value)).digest("base64url");

/**
 * The state that belongs to a site is found by the site itself: its name is the digest of the checksum list that stands
 * in the site. So a state can never be taken for that of another tree, whenever a build was killed, and parts of a site
 * can be laid together by copying files. @param part a year, or "site".
 */
export const stateName = (part: string, list: string | Uint8Array): string =>
  `${part}-${createHash("sha256").update(list).digest("hex").slice(0, 20)}`;

/** The folder of all states. */
export const statesIn = (kept: string): string => join(kept, "known");
export const statePathOf = (kept: string, name: string): string => join(statesIn(kept), name);

export const listingsPath = (state: string): string => `${state}.listings`;

export function readYear(path: string | null): YearState | null {
  return path === null || !existsSync(listingsPath(path)) ? null : readKept<YearState>(path);
}

/** The listings of a year that is known. Whether they are sound is seen only here: they are too many to look at in every build. */
export function readListings(path: string): YearListings {
  const listings = readKept<YearListings>(listingsPath(path));
  if (listings !== null) return listings;
  throw new Error(`${listingsPath(path)} is broken. Take the folder ${join(path, "../..")} away, and build again.`);
}

export async function writeYear(path: string, state: YearState, listings: YearListings): Promise<void> {
  await writeKept(listingsPath(path), listings);
  await writeKept(path, state);
}
