import type { NameList } from "./nameLists.ts";

/** Addresses of the site. Paths have no leading slash; an address ending in a slash is served from its index.html. */

export interface Addresses {
  /** The base path, with a slash at both ends: `/` or `/tide/`. */
  readonly base: string;
  /** The absolute address of the site, with a slash at its end. */
  readonly url: string;
}

/** @param url the programme's address, absolute, with a slash at its end. */
export function addressesOf(url: string): Addresses {
  return { base: new URL(url).pathname, url };
}

/** A path of the site as a link on its pages. */
export const href = ({ base }: Addresses, path: string): string => base + path;
/** A path of the site as an absolute address. */
export const absolute = ({ url }: Addresses, path: string): string => url + path;
const INDEX_FILE = "index.html";
/** The file that serves an address: `2026-10-05/` is `2026-10-05/index.html`. */
export const fileOf = (path: string): string => (path === "" || path.endsWith("/") ? path + INDEX_FILE : path);
/** The address that a file serves: the other way round. null: it is no page with an address of its own. */
export const servedAt = (file: string): string | null =>
  file === INDEX_FILE || file.endsWith(`/${INDEX_FILE}`) ? file.slice(0, -INDEX_FILE.length) : null;

export const episodePath = (id: string): string => `${id}/`;
export const segmentPath = (id: string, slug: string): string => `${id}/${slug}/`;
/** The files of an episode beside its pages and its recording. */
export const EPISODE_FILES = {
  captions: "transcript.vtt",
  plainText: "transcript.txt",
  chapters: "chapters.vtt",
  chaptersData: "chapters.json",
  data: "episode.json",
  record: "record.jsonl",
  orderSheet: "order.css",
} as const;
export const episodeFilePath = (id: string, file: keyof typeof EPISODE_FILES): string =>
  episodePath(id) + EPISODE_FILES[file];
/** @param src the name of a file beside episode.md. */
export const mediaPath = (id: string, src: string): string => episodePath(id) + src;
const AS_PUBLISHED = "as-published";
const MERGED = "merged";
/** A record that became part of an episode's. */
export const mergedRecordPath = (id: string, name: string): string => `${episodePath(id)}${MERGED}/${name}`;
/** A text as it was published: `as-published/1/transcript.vtt`. */
export const asPublishedPath = (id: string, seq: number, file: "captions" | "plainText"): string =>
  `${episodePath(id)}${AS_PUBLISHED}/${seq}/${EPISODE_FILES[file]}`;
/** Whose record a path of the site is; null: it is none. */
export const episodeOfRecord = (path: string): string | null => {
  const [id, file, ...more] = path.split("/");
  return id !== undefined && file === EPISODE_FILES.record && more.length === 0 ? id : null;
};
export const yearPath = (year: string): string => `${year}/`;
/** @param month `2026-10`. */
export const monthPath = (month: string): string => `${month.replace("-", "/")}/`;
export const SPEAKERS_PATH = "speakers/";
export const TOPICS_PATH = "topics/";
export const PLACES_PATH = "places/";
export const STORIES_PATH = "stories/";
/** @param story its name's slug, or what `joinStories` calls it. */
export const storyPath = (story: string): string => `${STORIES_PATH}${story}/`;
/** The list of all names of a kind. */
export const listPath = (list: NameList): string => `${list}/`;
/**
 * A name's page, or that of a year or month of it where it has too much for one page. @param slug from `nameSlug`.
 * @param period `2026` or `2026-10`.
 */
export const namePath = (list: NameList, slug: string, period: string | null): string =>
  `${listPath(list)}${slug}/${period === null ? "" : `${period.replace("-", "/")}/`}`;
/** A page written by hand. */
export const textPagePath = (slug: string): string => `${slug}/`;
export const ABOUT_SLUG = "about";
export const ABOUT_PATH = textPagePath(ABOUT_SLUG);
/** Where the station says how it corrects: a page that it writes. */
export const CORRECTIONS_POLICY_PATH = textPagePath("corrections-policy");
/** What is shown where there is nothing. */
export const MISSING_PATH = "404.html";
export const CORRECTIONS_PATH = "corrections/";
export const RECORD_PATH = "record/";
/** Whether a name at the top of a site is that of an episode's folder, or of a year's. */
export const isOfEpisodes = (name: string): boolean => /^\d{4}$/.test(name) || isOfEpisode(name);
export const isOfEpisode = (name: string): boolean => /^\d{4}-\d\d-\d\d/.test(name);
/** By this file a build knows a folder as one that it may write into. It is in no checksum list. */
export const SITE_MARK = ".afterair-site";
/** The list of checksums of one year's episodes, or of all that belongs to none ("site"). */
export const checksumsPath = (name: string): string => RECORD_PATH + name + CHECKSUMS;
const CHECKSUMS = ".sha256";
/** The list that a file in the folder of the lists is, by its name, a year or "site"; null: it is none. */
export const nameOfChecksums = (name: string): string | null =>
  name.endsWith(CHECKSUMS) && name.length > CHECKSUMS.length ? name.slice(0, -CHECKSUMS.length) : null;
export const isChecksums = (path: string): boolean =>
  path.startsWith(RECORD_PATH) && nameOfChecksums(path.slice(RECORD_PATH.length)) !== null;
/** Corrections of one kind, one year, or both. */
export const correctionsOfPath = (year: string | null, kind: string | null): string =>
  [CORRECTIONS_PATH, year === null ? "" : `${year}/`, kind === null ? "" : `${kind}/`].join("");
/** The newest year's sheet stands here too. */
export const ARCHIVE_PATH = "archive/";
export const SEARCH_PATH = "search/";
/** The folder of the search index. */
export const SEARCH_INDEX = `${SEARCH_PATH}index/`;
/** Names and words that a misspelt question is held against: its file is beside the tiers, whose names are months. */
export const SEARCH_WORDS = `${SEARCH_INDEX}words.json`;
/** What pages load: style, scripts, fonts, pictures. */
export const ASSETS_PATH = "assets/";
export const assetPath = (name: string): string => ASSETS_PATH + name;
/** The terms of the work of others that the site holds. */
export const NOTICES_PATH = assetPath("notices.txt");
export const EPISODES_FEED = "feed.xml";
export const CORRECTIONS_FEED = CORRECTIONS_PATH + EPISODES_FEED;
/** The list of the sitemaps. */
export const SITEMAPS_PATH = "sitemap.xml";
/** @param name a year, or "site" for all that belongs to none. */
export const sitemapPath = (name: string): string => `sitemap-${name}.xml`;
/** The year that a file is the sitemap of; null: it is none. */
export const yearOfSitemap = (path: string): string | null => /^sitemap-(\d+)\.xml$/.exec(path)?.[1] ?? null;
/** A correction's id is unique in the whole archive. */
export const correctionPath = (id: string): string => `${CORRECTIONS_PATH}${id}/`;

/** A search narrowed by words or filters, as a path with a query. */
export function searchPath(query: Readonly<Record<string, string>>): string {
  return `${SEARCH_PATH}?${new URLSearchParams(query)}`;
}

const stemOf = (file: string): string => file.replace(/\..*$/, "");
const topOf = (path: string): string => stemOf(path.split("/")[0] ?? "");
const inOrder = (names: readonly string[]): readonly string[] => [...new Set(names)].sort();

/** File names of an episode's own address: a recording by that name would overwrite one of them. */
export const RESERVED_FILES: readonly string[] = ["episode.md", INDEX_FILE, ...Object.values(EPISODE_FILES)];
/** Slugs that no segment can have: the names of what stands in an episode's folder, and some that are kept for later. */
export const RESERVED_SEGMENT_SLUGS = inOrder([
  ...[...Object.values(EPISODE_FILES), INDEX_FILE].map(stemOf),
  AS_PUBLISHED,
  MERGED,
  ...["captions", "corrections", "media"],
]);
/** Whether a path stands where pages of ours stand, or may stand one day: a station's own may not. */
export function isKeptForOurs(path: string): boolean {
  const [top = "", ...more] = path.split("/");
  if (isOfEpisodes(top) || yearOfSitemap(path) !== null) return true;
  const isAsset = `${top}/` === ASSETS_PATH && more.length > 0;
  return !isAsset && path !== fileOf("") && (RESERVED_PAGE_SLUGS.includes(topOf(path)) || path === SITE_MARK);
}

/** Slugs that no page written by hand can have: what stands at the top of the site, and some that are kept for later. */
export const RESERVED_PAGE_SLUGS = inOrder([
  ...[CORRECTIONS_PATH, RECORD_PATH, ARCHIVE_PATH, SEARCH_PATH, ABOUT_PATH, ASSETS_PATH].map(topOf),
  ...[SPEAKERS_PATH, TOPICS_PATH, PLACES_PATH, STORIES_PATH].map(topOf),
  ...[INDEX_FILE, MISSING_PATH, EPISODES_FEED, SITEMAPS_PATH].map(topOf),
  ...["fonts", "pagefind"],
]);
