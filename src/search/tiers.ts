/**
 * The search index stands in tiers, each an index of its own: the months of the newest year, and every year before it.
 * So publishing tonight's episode indexes one month, and a search of thirty years opens some forty indexes at most,
 * the newest first. What decides is the content alone: on whatever day a site is built, its tiers are the same.
 */

/** The tier of an episode: `2026-10` in the newest year, else `2019`. @param date local, `2026-10-05`. */
export const tierOf = (date: string, newestYear: string): string =>
  date.startsWith(newestYear) ? date.slice(0, 7) : date.slice(0, 4);
