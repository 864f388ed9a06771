import { holdingOf } from "../derive/holdings.ts";
import { formatClockExact } from "../model/clock.ts";
import type { SoundDecision } from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import { type ClockMs, clockMs } from "../model/units.ts";
import type { Giving } from "./given.ts";
import type { LaidEpisode, LaidSegment } from "./laid.ts";
import { type Bounds, merged } from "./stretch.ts";

/** A stretch of sound that may not be given on a day, and that no cut took out of the recording. */
export interface HeldSound {
  readonly segment: LaidSegment;
  /** In the episode's clock. */
  readonly from: ClockMs;
  readonly to: ClockMs;
  readonly why: "withheld" | "withdrawn";
  readonly decision: SoundDecision | null;
}

/**
 * The sound that may not be given on `day` (a local date) and lies outside the cuts, in the order of its times. Of a
 * segment that was cut in part, each piece that is left. None for an episode that is withdrawn whole: its media are gone.
 */
export function heldSound(episode: LaidEpisode, day: string): readonly HeldSound[] {
  if (episode.withdrawn !== null) return [];
  return episode.segments.flatMap((segment): readonly HeldSound[] => {
    if (!holdingOf(segment, episode, day).withheld) return [];
    const own = { segment, why: segment.withdrawn === null ? "withheld" : "withdrawn" } as const;
    const gone = segment.withdrawn === null ? [] : goneWith(segment, episode);
    return merged([...segment.stood, ...gone])
      .flatMap((stretch) => leftOf(stretch, episode))
      .map((left) => ({ ...own, ...left, decision: segment.rights?.sound ?? null }));
  });
}

/** Where a withdrawn segment stands, and stood when that was entered. */
const goneWith = ({ slug, in: from, out: to }: LaidSegment, { gone }: LaidEpisode): readonly Bounds[] => [
  { from, to },
  ...gone.filter(({ segment }) => segment === slug),
];

/** What the cuts leave of a stretch, in the episode's clock. */
function leftOf({ from: start, to: out }: Bounds, episode: LaidEpisode): readonly Bounds[] {
  const cuts = episode.clock === "aired" ? episode.cuts.filter(({ from, to }) => from < out && to > start) : [];
  const edges = [start, ...cuts.flatMap(({ from, to }) => [from, to]), out].map((at) =>
    Math.min(Math.max(at, start), out),
  );
  return edges.flatMap((from, n) => {
    const to = edges[n + 1];
    return n % 2 === 1 || to === undefined || to <= from ? [] : [{ from: clockMs(from), to: clockMs(to) }];
  });
}

/** What the recording still holds and may not: neither cut, nor silenced, nor accepted for a reason. Nothing where there is no recording. */
export const soundStillThere = (episode: LaidEpisode, day: string): readonly HeldSound[] =>
  episode.media.length === 0 ? [] : heldSound(episode, day).filter(({ decision }) => decision === null);

/** How the recording may be given on a day. */
export function givingOf(episode: LaidEpisode, day: string): Giving {
  if (episode.media.length === 0) return "none";
  const held = heldSound(episode, day).filter(({ decision }) => decision?.is !== "silenced");
  if (held.some(({ why }) => why === "withdrawn")) return "off";
  return held.length > 0 ? "stepped" : "whole";
}

/**
 * What is told of sound that the recording still holds. Withheld sound blocks: it was known before. Withdrawn sound only
 * warns, because a withdrawal must take effect at once: the site then does without the recording.
 */
export function soundFindings(episode: LaidEpisode, day: string, draft = false): readonly Finding[] {
  return soundStillThere(episode, day).map(({ segment, from, to, why }) => {
    const stretch = `from ${formatClockExact(from)} to ${formatClockExact(to)}`;
    const held = { at: segment.at, seconds: from / 1000 };
    if (why === "withdrawn") {
      return {
        ...held,
        rule: "sound-withdrawn",
        level: "warns",
        says: `${segment.slug} is withdrawn, and the recording still has its sound, ${stretch}: the site does without the recording.`,
        mend: `Run \`afterair cuts ${episode.id} --make\`, which makes a recording that is silent there. Until then nobody can play it.`,
      };
    }
    return {
      ...held,
      rule: "sound-in-file",
      level: draft ? "warns" : "blocks",
      says: `${segment.slug} is withheld, and the recording still has its sound, ${stretch}: whoever fetches the file hears it.`,
      mend:
        `Run \`afterair cuts ${episode.id}\` to take it out. Or accept it in its \`rights\`: ` +
        "`sound: in-file, because: …`; nobody is then offered the file, but who knows its address can fetch it.",
    };
  });
}
