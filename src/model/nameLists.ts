/** What the archive has a page for each of, and a list: the first part of their addresses. */
export const NAME_LISTS = ["speakers", "topics", "places"] as const;
export type NameList = (typeof NAME_LISTS)[number];
