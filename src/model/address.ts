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
/** The file that serves an address: `2026-10-05/` is `2026-10-05/index.html`. */
export const fileOf = (path: string): string => (path === "" || path.endsWith("/") ? `${path}index.html` : path);

export const episodePath = (id: string): string => `${id}/`;
export const segmentPath = (id: string, slug: string): string => `${id}/${slug}/`;
export const yearPath = (year: string): string => `${year}/`;
export const CORRECTIONS_PATH = "corrections/";
export const RECORD_PATH = "record/";
export const episodeRecordPath = (id: string): string => `${id}/record.jsonl`;
/** A record that became part of an episode's. */
export const mergedRecordPath = (id: string, name: string): string => `${id}/merged/${name}`;
/** A text as it was published: `as-published/1/transcript.vtt`. */
export const asPublishedPath = (id: string, seq: number, name: string): string => `${id}/as-published/${seq}/${name}`;
/** Whether a name at the top of a site is that of an episode's folder, or of a year's. */
export const isOfEpisodes = (name: string): boolean => /^\d{4}(?:-\d\d-\d\d.*)?$/.test(name);
/** By this file a build knows a folder as one that it may write into. It is in no checksum list. */
export const SITE_MARK = ".afterair-site";
/** The list of checksums of one year's episodes, or of all that belongs to none ("site"). */
export const checksumsPath = (part: string): string => `${RECORD_PATH}${part}.sha256`;
/** Corrections of one kind, one year, or both. */
export const correctionsOfPath = (year: string | null, kind: string | null): string =>
  [CORRECTIONS_PATH, year === null ? "" : `${year}/`, kind === null ? "" : `${kind}/`].join("");
/** The newest year's sheet stands here too. */
export const ARCHIVE_PATH = "archive/";
export const SEARCH_PATH = "search/";
/** The folder of the search index. */
export const SEARCH_INDEX = `${SEARCH_PATH}index/`;
/** The terms of the work of others that the site holds. */
export const NOTICES_PATH = "assets/notices.txt";
export const EPISODES_FEED = "feed.xml";
export const CORRECTIONS_FEED = `${CORRECTIONS_PATH}feed.xml`;
/** A correction's id is unique in the whole archive. */
export const correctionPath = (id: string): string => `${CORRECTIONS_PATH}${id}/`;

/** A search narrowed by words or filters, as a path with a query. */
export function searchPath(query: Readonly<Record<string, string>>): string {
  return `${SEARCH_PATH}?${new URLSearchParams(query)}`;
}
