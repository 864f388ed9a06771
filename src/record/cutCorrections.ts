import type { Digest } from "./digest.ts";
import { type CutCorrection, type Entry, entriesOf, type ReadRecord } from "./entry.ts";
import type { LaidEpisode } from "./laid.ts";

/** The digest of every entered correction's file, by id: as it was entered, or as it was cut since. */
export function digestsEntered(entries: readonly Entry[]): ReadonlyMap<string, Digest> {
  const digests = new Map<string, Digest>();
  for (const { correction, cuts = [] } of entries) {
    if (correction !== null) digests.set(correction.id, correction.digest);
    for (const { id, digest } of cuts) digests.set(id, digest);
  }
  return digests;
}

/**
 * The corrections whose words were cut out of their files and that are not entered as cut yet. Only one that spoke of
 * what is withdrawn alone may be cut, and it must speak of nothing else now, and only once: what it says in the file decides as well
 * as what was entered, or a correction that nobody sees any more could be made to replace published words.
 * @param digests of the files in corrections/, by id. @param laid the episode with the corrections as they are now.
 */
export function cutCorrections(
  record: ReadRecord,
  digests: ReadonlyMap<string, Digest>,
  laid: LaidEpisode,
): readonly CutCorrection[] {
  const entries = entriesOf(record);
  const hidden = new Set(laid.laid.flatMap(({ correction, hidden: own }) => (own ? [correction.id] : [])));
  const cutBefore = new Set(entries.flatMap(({ cuts = [] }) => cuts.map(({ id }) => id)));
  const supersedes = new Map(laid.laid.map(({ correction: { id, supersedes: earlier } }) => [id, earlier]));
  const spoke = spokeOfWithdrawn(entries);
  return [...digestsEntered(entries)].flatMap(([id, entered]): readonly CutCorrection[] => {
    const digest = digests.get(id);
    if (digest === undefined || digest === entered || cutBefore.has(id) || !hidden.has(id) || !spoke(id)) return [];
    const earlier = supersedes.get(id) ?? null;
    return earlier === null || hidden.has(earlier) ? [{ id, digest }] : [];
  });
}

/** Whether a correction spoke only of what is withdrawn, by its entry. A withdrawal's own note is never cut. */
function spokeOfWithdrawn(entries: readonly Entry[]): (id: string) => boolean {
  const withdrawn = entries.at(-1)?.withdrawn ?? [];
  const slugs = new Set(withdrawn.map(({ segment }) => segment));
  const entered = new Map(entries.toReversed().map((entry) => [entry.correction?.id, entry]));
  return (id) => {
    const entry = entered.get(id);
    if (entry === undefined || entry.correction === null || entry.what === "withdrawn") return false;
    if (slugs.has(null)) return true;
    const { segments } = entry.correction;
    return segments.length > 0 && segments.every((slug) => slugs.has(slug));
  };
}
