/**
 * The search index stands in tiers, each an index of its own and named by its months: the months of the newest year, and
 * every two months of the years before it. So publishing tonight's episode indexes one month, correcting one of long ago
 * indexes two, and a search of thirty years opens some 185 indexes at most, the newest first. What decides is the
 * content alone: on whatever day a site is built, its tiers are the same. Two months are never called what one was
 * called: when a year is over, its months must go.
 */

/** The tier of an episode: `2026-10` in the newest year, else as `2019-05-to-06`. @param date local, `2026-10-05`. */
export function tierOf(date: string, newestYear: string): string {
  const month = date.slice(0, "2026-10".length);
  if (date.startsWith(newestYear)) return month;
  const last = Math.ceil(Number(month.slice(-2)) / 2) * 2;
  const [from, to] = [last - 1, last].map((of) => String(of).padStart(2, "0"));
  return `${month.slice(0, -2)}${from}-to-${to}`;
}
