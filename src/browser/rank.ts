/** What a tier has for one clause, by the id of the record. */
export interface ClauseHits {
  readonly byId: ReadonlyMap<string, Hit>;
  /** Only words that begin so were found, or none. */
  readonly begins: boolean;
}

export interface Hit {
  /** As the index scores it. */
  readonly score: number;
  /** Places of the words in what was said. */
  readonly places: readonly number[];
  /** The fields of the record that have it: `title`. */
  readonly fields: readonly string[];
}

/** What a tier has for a question. */
export interface TierHits<R> {
  /** How many records are asked for, whatever they say. */
  readonly size: number;
  /** In the order of the clauses. */
  readonly clauses: readonly ClauseHits[];
  /** The records that have all loose words one after the other. */
  readonly whole: ReadonlyMap<string, Hit>;
  /** Newest first, by id, with what loads them. */
  readonly records: ReadonlyMap<string, R>;
}

/** A record that answers. */
export interface Ranked<R> {
  readonly record: R;
  readonly hits: readonly Hit[];
  /** Clauses that it lacks, of those that stand somewhere: their places in the question. */
  readonly lacks: readonly number[];
  readonly score: number;
}

/** Two neighbouring clauses that stand so near to each other, in words, count half again. */
const NEAR = 5;
/** A word that only begins so counts half. */
const BEGINS = 0.5;

/**
 * How rare a clause is: `ln(1 + (n - d + 0.5) / (d + 0.5))`, as in BM25 (Robertson and Zaragoza, 2009).
 * @param size of all records. @param count of those that have it.
 */
export const rarity = (size: number, count: number): number => Math.log(1 + (size - count + 0.5) / (count + 0.5));

/**
 * The records that answer, closest first. What every record lacks is not held against any. @param must places of clauses
 * that none may lack. @param weak places of clauses that decide about the order alone. @param isWhole whether what has such hits is an
 * answer, and not only leads to one.
 */
export function rank<R>(
  found: readonly TierHits<R>[],
  must: readonly number[],
  weak: readonly number[] = [],
  isWhole: (hits: readonly Hit[]) => boolean = () => true,
): readonly Ranked<R>[] {
  const tiers = found.map(narrowed);
  const size = tiers.reduce((sum, tier) => sum + tier.size, 0);
  const count = tiers[0]?.clauses.length ?? 0;
  const exact = Array.from({ length: count }, (_, at) => tiers.some(({ clauses }) => isExact(clauses[at])));
  const of = (tier: TierHits<R>, at: number): ReadonlyMap<string, Hit> => {
    const own = tier.clauses[at];
    return own === undefined || (exact[at] === true && own.begins) ? NONE : own.byId;
  };
  const weights = exact.map((_, at) =>
    rarity(
      size,
      tiers.reduce((sum, tier) => sum + of(tier, at).size, 0),
    ),
  );
  const said = weights.flatMap((_, at) => (tiers.some((tier) => of(tier, at).size > 0) ? [at] : []));
  if (must.some((at) => !said.includes(at))) return [];
  const all = said.reduce((sum, at) => sum + (weights[at] ?? 0), 0);
  const ranked = tiers.flatMap((tier) =>
    [...tier.records].flatMap(([id, record]): readonly Ranked<R>[] => {
      const hits = said.map((at) => of(tier, at).get(id) ?? null);
      const lacks = said.filter((_, n) => hits[n] === null);
      if (lacks.length === said.length || lacks.some((at) => must.includes(at))) return [];
      const has = said.reduce((sum, at, n) => sum + (hits[n] === null ? 0 : (weights[at] ?? 0)), 0);
      const own = said.reduce((sum, at, n) => sum + (hits[n]?.score ?? 0) * (exact[at] === true ? 1 : BEGINS), 0);
      const near = nearness(
        hits,
        said.map((at) => weights[at] ?? 0),
      );
      const whole = tier.whole.get(id);
      const bonus = near + (whole === undefined ? 0 : all);
      const part = all === 0 ? 1 : has / all;
      return [
        {
          record,
          hits: [...hits, whole ?? null].filter((hit) => hit !== null),
          lacks,
          score: (own + bonus) * part ** 2,
        },
      ];
    }),
  );
  return shown(
    ranked,
    said.filter((at) => !weak.includes(at)),
    isWhole,
  );
}

/** Only what the records have that are asked for: the index was asked for the words alone. */
const narrowed = <R>({ clauses, records, ...own }: TierHits<R>): TierHits<R> => ({
  ...own,
  records,
  clauses: clauses.map(({ byId, begins }) => ({ byId: new Map([...byId].filter(([id]) => records.has(id))), begins })),
});

const NONE: ReadonlyMap<string, Hit> = new Map();
const isExact = (own: ClauseHits | undefined): boolean => own !== undefined && !own.begins && own.byId.size > 0;

/**
 * Those that have all; those that lack one of three or more; and where no answer has all, those that lack the fewest, or one more.
 * @param telling places of the clauses that decide about it.
 */
function shown<R>(
  ranked: readonly Ranked<R>[],
  telling: readonly number[],
  isWhole: (hits: readonly Hit[]) => boolean,
): readonly Ranked<R>[] {
  const lacking = ({ lacks }: Ranked<R>): number => lacks.filter((at) => telling.includes(at)).length;
  const fewest = Math.min(...ranked.map(lacking));
  const isAnswered = ranked.some((own) => lacking(own) === 0 && isWhole(own.hits));
  const most = isAnswered && telling.length < 3 ? 0 : fewest + 1;
  return ranked
    .filter((own) => lacking(own) <= most && lacking(own) < telling.length)
    .sort((a, b) => a.lacks.length - b.lacks.length || b.score - a.score);
}

/** What is added where words that were asked for together stand together. */
function nearness(hits: readonly (Hit | null)[], weights: readonly number[]): number {
  let sum = 0;
  for (let at = 1; at < hits.length; at++) {
    const apart = distance(hits[at - 1]?.places ?? [], hits[at]?.places ?? []);
    if (apart <= NEAR) sum += Math.min(weights[at - 1] ?? 0, weights[at] ?? 0) / 2;
  }
  return sum;
}

/** The shortest way between two of both. @param a and `b`: rising. */
function distance(a: readonly number[], b: readonly number[]): number {
  let shortest = Number.POSITIVE_INFINITY;
  for (let i = 0, j = 0; i < a.length && j < b.length; ) {
    const [one, other] = [a[i] ?? 0, b[j] ?? 0];
    shortest = Math.min(shortest, Math.abs(one - other));
    if (one < other) i++;
    else j++;
  }
  return shortest;
}
