import type { Query } from "./query.ts";
import type { Findings } from "./searchIndex.ts";

type Counting = typeof import("./counts.ts");

/** What is counted; null: nothing. */
type Count = (findings: Findings | null, query: Query) => void;

/**
 * Fetches what counts once something was found and the filters are seen: in a closed fold nobody waits for figures.
 * @param round another for each search: counting ends where one begins.
 */
export function countWhenWanted(form: HTMLFormElement, round: () => number): Count {
  const filters = document.querySelector<HTMLElement>("[data-counts]"); // a station may leave them out
  let last: Parameters<Count> | null = null;
  let counting: Promise<Counting> | null = null;
  const tell = (): void => {
    counting?.then(
      ({ showCounts }) => last && showCounts(form, ...last, round),
      () => {}, // figures are for who can fetch them; narrowing works
    );
  };
  const seen = new IntersectionObserver((entries) => {
    if (!entries.some(({ isIntersecting }) => isIntersecting)) return;
    seen.disconnect();
    counting = import(filters?.dataset.counts ?? "");
    tell();
  });
  return (...next) => {
    last = next;
    if (filters && counting === null && next[0]) seen.observe(filters);
    tell();
  };
}
