/**
 * The search index stands in tiers, each an index of its own and named by its months: the months of the newest year, and
 * the thirds of every year before it. So publishing tonight's episode indexes one month, an index of four months fits
 * into 300 MB while it is made, and a search of thirty years opens some hundred indexes at most, the newest first. What
 * decides is the content alone: on whatever day a site is built, its tiers are the same. A third is never called what a
 * month was called: when a year is over, its months must go.
 */

/** The tier of an episode: `2026-10` in the newest year, else as `2019-05-to-08`. @param date local, `2026-10-05`. */
export function tierOf(date: string, newestYear: string): string {
  if (date.startsWith(newestYear)) return date.slice(0, 7);
  const month = date.slice(5, 7);
  return `${date.slice(0, 4)}-${month < "05" ? "01-to-04" : month < "09" ? "05-to-08" : "09-to-12"}`;
}
