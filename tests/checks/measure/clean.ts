import { checkEpisode, groupOf } from "../../../src/checks/index.ts";
import type { Episode } from "../../../src/model/episode.ts";
import type { RegisteredName } from "../../../src/model/programme.ts";
import { around, episodeOf, programmeOf, subjectFrom } from "./archive.ts";
import { type Speech, wordCount } from "./speeches.ts";

/** Findings in speeches that nobody has put a fault into, and how many half-hours of news they would be. */
export interface Clean {
  readonly halfHours: number;
  readonly byRule: ReadonlyMap<string, readonly string[]>;
}

/** Words in half an hour at 165 a minute. */
const HALF_HOUR = 30 * 165;
/** Sentences of a segment: about three minutes. */
const SEGMENT = 24;
/** Captions are held against figures, not doubted; the structure is the bench's own. */
const COUNTED = new Set(["recogniser", "names", "figures", "cautions", "rights"]);

export async function measureClean(speeches: readonly Speech[], register: readonly RegisteredName[]): Promise<Clean> {
  const own = { ...(await around(programmeOf(register))), placeOf: ({ at }: { readonly at: Episode["at"] }) => at };
  const byRule = new Map<string, string[]>();
  let words = 0;
  for (const { name, year, sentences } of speeches) {
    const turns = sentences.map((text, n) => ({ voice: name, segment: `part-${Math.floor(n / SEGMENT)}`, text }));
    words += sentences.reduce((sum, sentence) => sum + wordCount(sentence), 0);
    const episode = episodeOf(turns, { aired: `${year}-02-01T18:30:00.000+00:00` });
    for (const { rule, says } of checkEpisode(subjectFrom(episode, own))) {
      if (!COUNTED.has(groupOf(rule) ?? "")) continue;
      byRule.set(rule, [...(byRule.get(rule) ?? []), `${name} ${year}: ${says}`]);
    }
  }
  return { halfHours: words / HALF_HOUR, byRule };
}
