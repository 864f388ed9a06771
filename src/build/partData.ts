import type { Finding } from "../model/finding.ts";
import type { Neighbours } from "../pages/episode.ts";
import type { AssetPaths } from "../pages/site.ts";
import type { Look } from "../read/look.ts";
import type { EpisodeFolder } from "../read/source.ts";
import type { Viewpoint } from "./readEpisode.ts";
import type { KnownEpisode, ListedEpisode } from "./state.ts";

/** An episode as the plan knows it before it is read. */
export interface Candidate {
  readonly folder: EpisodeFolder;
  /** How its files look now; null where that can't be relied on. */
  readonly look: Look | null;
  readonly known: KnownEpisode | null;
}

/** A stretch of the archive that one process builds: the episodes of a tier, and the tier. Plain data. */
export interface Part extends Viewpoint {
  readonly content: string;
  /** What the templates are compiled to: an address to import. */
  readonly documents: string;
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
  /** The editions before and after. */
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

export interface MadePart {
  readonly episodes: readonly MadeEpisode[];
  readonly findings: readonly Finding[];
  /** `files`: its checksum list; null: as it was. */
  readonly tier: { readonly key: string; readonly files: string | null };
}
