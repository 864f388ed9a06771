/**
 * Between which moments and days an episode is shown as it is: nothing dated falls between. Moments are milliseconds
 * since 1970, days local dates; null where nothing comes before or after.
 */
export interface Span {
  /** The last moment that had come, and the first that had not. */
  readonly came: number | null;
  readonly comes: number | null;
  /** The same of the days on which rights lapse. */
  readonly lapsed: string | null;
  readonly lapses: string | null;
}

/** Between which moments and days several episodes are all shown as they are. */
export function commonSpan(spans: readonly Span[]): Span {
  const all = <K extends keyof Span>(key: K) =>
    spans.flatMap((span) => span[key] ?? []).sort((a, b) => (a < b ? -1 : 1));
  return {
    came: all("came").at(-1) ?? null,
    comes: all("comes")[0] ?? null,
    lapsed: all("lapsed").at(-1) ?? null,
    lapses: all("lapses")[0] ?? null,
  };
}

/** Whether a day lies within. @param until with its offset from UTC. */
export function isWithin({ came, comes, lapsed, lapses }: Span, until: string, day: string): boolean {
  // Not `instant`: this is asked of every episode in every build.
  const now = Date.parse(until);
  return (
    (came === null || came <= now) &&
    (comes === null || now < comes) &&
    (lapsed === null || lapsed <= day) &&
    (lapses === null || day < lapses)
  );
}
