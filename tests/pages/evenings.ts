import { nameSlug } from "../../src/model/slugs.ts";
import type { WalkEpisode } from "../../src/pages/walk.ts";

/** An evening with a segment for each list of topics. */
export const evening = (id: string, ...topics: readonly (readonly string[])[]): WalkEpisode => ({
  id,
  aired: `${id.slice(0, 10)}T18:30:00.000+01:00`,
  title: `The evening of ${id}`,
  draft: false,
  corrections: [{ id: "2026-11-01-1", kind: "page", dated: "2026-11-01T09:00:00+01:00" }],
  segments: topics.map((own, index) => ({
    slug: `item-${index}`,
    title: `Item ${index}`,
    kind: "package",
    runs: 90_000,
    names: { speakers: [], places: [], topics: own.map((name) => ({ name, slug: nameSlug(name) })) },
    story: null,
    telling: [],
    corrections: [],
  })),
});
