import type { EpisodeSummary } from "./edition.ts";
import type { Entry } from "./types.ts";

/** What pages that speak of the whole archive need of a year: little, however many editions it has. */
export interface YearFacts {
  readonly year: string;
  readonly editions: number;
  /** When the newest published edition was aired, ISO 8601. */
  readonly newest: string | null;
  readonly speakers: readonly string[];
  readonly topics: readonly string[];
  /** Corrections of its published editions, in their order. */
  readonly entries: readonly Entry[];
}

/** @param summaries the editions of the year, oldest first. */
export function factsOf(year: string, summaries: readonly EpisodeSummary[]): YearFacts {
  const published = summaries.filter(({ draft }) => !draft);
  const all = (list: (summary: EpisodeSummary) => readonly string[]) => [...new Set(summaries.flatMap(list))].sort();
  return {
    year,
    editions: summaries.length,
    newest: published.at(-1)?.aired ?? null,
    speakers: all(({ speakers }) => speakers),
    topics: all(({ topics }) => topics),
    entries: published.flatMap(({ entries }) => entries),
  };
}
