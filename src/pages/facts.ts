import type { EpisodeSummary } from "./summary.ts";
import type { Entry } from "./types.ts";

/** What pages that speak of the whole archive need of a year: little, however many episodes it has. */
export interface YearFacts {
  readonly year: string;
  readonly episodes: number;
  /** When the newest published episode was aired, ISO 8601. */
  readonly newest: string | null;
  readonly speakers: readonly string[];
  readonly topics: readonly string[];
  readonly places: readonly string[];
  /** Corrections of its published episodes, in their order. */
  readonly entries: readonly Entry[];
}

/** @param summaries the episodes of the year, oldest first. */
export function factsOf(year: string, summaries: readonly EpisodeSummary[]): YearFacts {
  const published = summaries.filter(({ draft }) => !draft);
  const all = (list: (summary: EpisodeSummary) => readonly string[]) => [...new Set(summaries.flatMap(list))].sort();
  return {
    year,
    episodes: summaries.length,
    newest: published.at(-1)?.aired ?? null,
    speakers: all(({ speakers }) => speakers),
    topics: all(({ topics }) => topics),
    places: all(({ places }) => places),
    entries: published.flatMap(({ entries }) => entries),
  };
}
