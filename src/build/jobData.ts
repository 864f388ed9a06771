import type { Finding } from "../model/finding.ts";
import type { Neighbours } from "../pages/episode.ts";
import type { AssetPaths } from "../pages/site.ts";
import type { EpisodeStories } from "../pages/types.ts";
import type { FileStats } from "../read/fileStats.ts";
import type { EpisodeFolder } from "../read/source.ts";
import type { SearchWords } from "../search/words.ts";
import type { EngineSetup } from "../station/engine.ts";
import type { ReadContext } from "./readEpisode.ts";
import type { KnownEpisode, ListedEpisode } from "./state.ts";

/** An episode as the plan knows it before it is read. */
export interface Candidate {
  readonly folder: EpisodeFolder;
  /** The size and times of its files now; null where they can't be relied on. */
  readonly stats: FileStats | null;
  readonly known: KnownEpisode | null;
  /** That its segments' pages are to lead to. */
  readonly stories: EpisodeStories;
}

/** A unit of work of a build: one tier of the search index and the pages of its episodes, made by one process. Plain data. */
export interface Job extends ReadContext {
  readonly content: string;
  /** What the templates are compiled to: an address to import. */
  readonly documents: string;
  /** The station's own templates around pages; null: there are none. */
  readonly framing: EngineSetup | null;
  /** Where things are kept between builds, the tree that the site grows in, and the site that serves. */
  readonly kept: string;
  readonly tree: string;
  readonly serves: string;
  /** Episodes whose record in that site is not as a build left it, so that it proves nothing. */
  readonly distrusted: readonly string[];
  readonly assets: AssetPaths;
  readonly name: string;
  /** The tier's place in the site. */
  readonly index: string;
  /** What the tier was made from; null: it is not there. */
  readonly indexed: string | null;
  /** The digest of our own code: another may index otherwise. */
  readonly program: string;
  /** By id. */
  readonly episodes: readonly Candidate[];
  /** The episodes before and after. */
  readonly edges: Neighbours;
  /** Why all of its pages are made anew; null: only what changed. */
  readonly why: string | null;
}

export interface MadeEpisode {
  readonly id: string;
  readonly known: KnownEpisode;
  /** null where its pages stay as they are. */
  readonly made: ListedEpisode | null;
  /** Why its pages were made anew. */
  readonly why: string | null;
}

export interface JobResult {
  readonly episodes: readonly MadeEpisode[];
  readonly findings: readonly Finding[];
  /** `files`: its checksum list; null: as it was. */
  readonly tier: {
    readonly key: string;
    readonly files: string | null;
    /** What misspelt questions are held against; null: as it was. */
    readonly words: SearchWords | null;
  };
}
