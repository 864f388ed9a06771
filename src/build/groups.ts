import type { JoinedStories } from "../derive/stories.ts";
import type { FeedCorrection } from "../feeds/corrections.ts";
import type { Claim } from "../model/output.ts";
import type { YearFacts } from "../pages/facts.ts";
import type { PageContext } from "../pages/site.ts";
import type { Page } from "../pages/types.ts";
import type { StoryPart, WalkEpisode, YearNames } from "../pages/walk.ts";
import type { Listing } from "./episodePlan.ts";

/**
 * A file that belongs to no single episode: a page, a text or bytes, or a copy of a file of the content. Texts are made
 * after all pages are planned, while a process sets these.
 */
export type Output =
  | { readonly path: string; readonly page: Page }
  | { readonly path: string; text(): string | Uint8Array }
  | { readonly path: string; readonly file: string };

/** Files that depend on the same things. @property key what they depend on: with the same key, they are the same. */
export interface Group {
  readonly name: string;
  readonly key: string;
  make(): Promise<readonly Output[]>;
}

/** A year as the common pages need it. */
export interface PlannedYear {
  readonly facts: YearFacts;
  readonly corrections: readonly FeedCorrection[];
  /** Paths that its episodes claim among those of others. */
  readonly claimed: readonly string[];
  /** Digest of its listings. */
  readonly listed: string;
  /** Its names. */
  readNames(): YearNames;
  /** What pages of names have of it, oldest first. Read only when it is needed. */
  readWalk(): readonly WalkEpisode[];
  /** Its listings, oldest first. Read only when they are needed. */
  readListings(): readonly Listing[];
  /** Whose the claimed paths are. */
  readClaims(): readonly Claim[];
}

/** What was found of the stories of a year. @property key what that depends on. */
export interface YearStories extends JoinedStories {
  readonly key: string;
  /** What is told of the segments that stories have of it, by story; what a story has of other years is told there. */
  readonly parts: { readonly key: string; readonly of: Readonly<Record<string, StoryPart>> };
}

export interface PlannedSite {
  /** Stories by year. */
  readonly stories: Readonly<Record<string, YearStories>>;
  readonly context: PageContext;
  /** Oldest first; only years that have an episode. */
  readonly years: readonly PlannedYear[];
  /** Of the search index, newest first. */
  readonly tiers: readonly string[];
}
