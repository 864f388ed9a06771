/**
 * The search index stands in tiers, each an index of its own and named by its first month: the months of the newest year,
 * and the halves of every year before it. So publishing tonight's episode indexes one month, an index of half a year fits
 * into 400 MB while it is made, and a search of thirty years opens some seventy indexes at most, the newest first. What
 * decides is the content alone: on whatever day a site is built, its tiers are the same.
 */

/** The tier of an episode: `2026-10` in the newest year, else `2019-01` or `2019-07`. @param date local, `2026-10-05`. */
export function tierOf(date: string, newestYear: string): string {
  if (date.startsWith(newestYear)) return date.slice(0, 7);
  return `${date.slice(0, 4)}-${date.slice(5, 7) < "07" ? "01" : "07"}`;
}
