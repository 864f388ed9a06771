import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { blocks, type Finding } from "../model/finding.ts";
import { claimedTwice } from "../model/output.ts";
import type { Archive } from "../model/programme.ts";
import type { AssetPaths } from "../pages/site.ts";
import { readArchive } from "../read/archive.ts";
import { episodeOn } from "../record/day.ts";
import { type ShownEpisode, showEpisode } from "../record/shown.ts";
import { indexPages } from "../search/indexPage.tsx";
import { type Asset, assetOf, readLook } from "../write/assets.ts";
import { writePages } from "../write/eleventy.ts";
import { writeIndex } from "../write/pagefind.ts";
import { buildScripts } from "../write/scripts.ts";
import { beginSite, type SiteFolder } from "../write/siteFolder.ts";
import { writeChecksums } from "./checksums.ts";
import { type SiteDay, siteDay } from "./day.ts";
import { UsageError } from "./io.ts";
import { type Plan, planSite, SEARCH_INDEX } from "./plan.ts";

export const TEMPLATES = fileURLToPath(new URL("../../templates/", import.meta.url));

export interface BuildOptions {
  readonly content: string;
  readonly out: string;
  /** A local date, or null for today. */
  readonly on: string | null;
  readonly now: Date;
  /** Also show what is not published. */
  readonly drafts: boolean;
}

/** What a build found and did. */
export interface Built {
  readonly findings: readonly Finding[];
  /** null when findings stood in the way and nothing was written. */
  readonly site: { readonly episodes: number; readonly pages: number } | null;
  /** The base path of the site, with a slash at both ends. */
  readonly base: string;
  /** Origins of the recordings that don't stand on the site itself. */
  readonly mediaHosts: readonly string[];
}

/** Reads the content, lays the corrections of the day over it, and replaces the site with what comes of it. */
export async function buildSite(options: BuildOptions): Promise<Built> {
  const { archive, findings: found, unpublished } = await readArchive(options.content);
  const findings = options.drafts ? found : found.filter(({ at }) => !concerns(at.file, unpublished));
  if (archive === null) return { findings, site: null, base: "/", mediaHosts: [] };
  const day = dayFor(options, archive);
  const shown = showArchive(archive, day, options.drafts);
  const assets = await readAssets(archive);
  const plan = planSite(archive, shown, assets.paths);
  const all = [...findings, ...shown.flatMap(({ episode }) => episode.findings), ...claimedTwice(plan.claims)];
  const { programme } = archive;
  const built = { findings: all, base: new URL(programme.url).pathname, mediaHosts: programme.mediaHosts };
  if (all.some(blocks)) return { ...built, site: null };
  await writeSite(plan, assets.files, archive, options);
  return { ...built, site: { episodes: shown.length, pages: plan.pages.length } };
}

/** Whether a file belongs to one of some episodes. */
function concerns(file: string, episodes: readonly string[]): boolean {
  return episodes.includes(/^episodes\/[^/]+\/([^/]+)\//.exec(file)?.[1] ?? "");
}

export function dayFor({ on, now }: Pick<BuildOptions, "on" | "now">, { programme }: Archive): SiteDay {
  const day = siteDay(on, now, programme.timezone);
  if (day === null) throw new UsageError(`--on takes a date such as 2026-10-06, not ${on}.`);
  return day;
}

/** The episodes aired by the day, as they may be shown on it; oldest first. `drafts`: also those not published by then. */
export function showArchive({ episodes }: Archive, day: SiteDay, drafts: boolean): readonly ShownEpisode[] {
  const until = Date.parse(day.until);
  return episodes
    .filter(({ aired }) => Date.parse(aired) <= until)
    .map((episode) => showEpisode(episodeOn(episode, day.until), day.date))
    .filter(({ draft }) => drafts || !draft);
}

async function readAssets({ programme }: Archive): Promise<{ files: readonly Asset[]; paths: AssetPaths }> {
  const [look, scripts] = await Promise.all([readLook(TEMPLATES), buildScripts()]);
  const player = assetOf("player", ".js", scripts.player);
  const search = assetOf("search", ".js", scripts.search);
  return {
    files: [look.style, look.mark, ...look.fonts, ...look.licences, player, search],
    paths: {
      style: look.style.path,
      mark: look.mark.path,
      fonts: look.fonts.map(({ path }) => path),
      player: player.path,
      search: search.path,
      poster: `assets/${programme.poster}`,
    },
  };
}

async function writeSite(plan: Plan, assets: readonly Asset[], archive: Archive, options: BuildOptions): Promise<void> {
  const folder = await beginSite(options.out);
  try {
    const indexed = writeIndex(indexPages(plan.search), indexFolder(folder), archive.programme.language);
    await Promise.all([indexed, writePages(plan.pages, TEMPLATES, folder.path)]);
    for (const { path, text } of plan.texts) await folder.write(path, text);
    for (const { path, content } of assets) await folder.write(path, content);
    for (const { path, file } of plan.copies) await folder.copy(path, join(options.content, file));
    await writeChecksums(folder);
    await folder.swapIn();
  } catch (error) {
    await folder.abandon();
    throw error;
  }
}

const indexFolder = ({ path }: SiteFolder): string => join(path, SEARCH_INDEX);
