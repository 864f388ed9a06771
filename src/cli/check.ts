import type { Finding } from "../model/finding.ts";
import { claimedTwice } from "../model/output.ts";
import { readArchive } from "../read/archive.ts";
import { type BuildOptions, dayFor, showArchive } from "./build.ts";
import { UsageError } from "./io.ts";
import { planSite } from "./plan.ts";

/** Addresses don't depend on what the assets are called. */
const NO_ASSETS = { style: "", mark: "", fonts: [], player: "", search: "", poster: "assets/poster" };

export interface CheckOptions extends Pick<BuildOptions, "content" | "on" | "now"> {
  /** Ids of episodes; none: all. Faults of the programme itself are always told. */
  readonly episodes: readonly string[];
}

/** All that stands in the way of publishing, and all that a person should look at. */
export async function checkContent(options: CheckOptions): Promise<readonly Finding[]> {
  const { archive, findings, episodesOk, episodesFaulty } = await readArchive(options.content);
  const unknown = options.episodes.filter((id) => ![...episodesOk, ...episodesFaulty].includes(id));
  if (unknown.length > 0) throw new UsageError(`There is no episode ${unknown.join(", ")} below ${options.content}.`);
  const shown = archive === null ? [] : showArchive(archive, dayFor(options, archive));
  const all = [
    ...findings,
    ...shown.flatMap(({ episode }) => episode.findings),
    ...(archive === null ? [] : claimedTwice(planSite(archive, shown, NO_ASSETS).claims)),
  ];
  const wanted = new Set(options.episodes);
  return wanted.size === 0 ? all : all.filter(({ at }) => concerns(at.file, wanted));
}

/** Files outside `episodes/` concern every episode. */
function concerns(file: string, episodes: ReadonlySet<string>): boolean {
  const id = /^episodes\/[^/]+\/([^/]+)\//.exec(file)?.[1];
  return id === undefined || episodes.has(id);
}
