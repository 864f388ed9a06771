import { join } from "node:path";
import { formatClock } from "../model/clock.ts";
import type { Finding } from "../model/finding.ts";
import type { ArchivedEpisode } from "../model/programme.ts";
import { toMediaEdge } from "../model/timeMap.ts";
import { findingAt } from "../read/findings.ts";
import { readMedia } from "../read/incoming/media.ts";
import { isRemote } from "../read/links.ts";

/** A file this much shorter than is said is no fault: lengths are rounded. Milliseconds. */
const SLACK = 1500;

/**
 * Whether the recordings of an episode are measured: to find out how long a file runs it must be read, so only those of
 * episodes that are asked for by name, or not published, are.
 */
export const isMeasured = (
  { id, record }: ArchivedEpisode,
  { episodes }: { readonly episodes: readonly string[] },
): boolean => record === null || episodes.includes(id);

export const MEDIA_SHORT = "media-short";

/** Recordings beside an episode that end before its words do, or before `duration` says. */
export async function lengthFindings(episode: ArchivedEpisode, content: string): Promise<readonly Finding[]> {
  const files = episode.media.filter(({ src }) => !isRemote(src));
  const told = await Promise.all(files.map(({ src }) => lengthOf(src, episode, content)));
  return told.flat();
}

async function lengthOf(src: string, episode: ArchivedEpisode, content: string): Promise<readonly Finding[]> {
  const read = await readMedia(join(content, episode.folder, src));
  const runs = read.ok ? read.value.duration : null;
  if (runs === null || runs >= episode.duration - SLACK) return [];
  const late = episode.cues.filter(({ end }) => toMediaEdge(end, episode) > runs + SLACK);
  const says = `${src} runs ${formatClock(runs)}, and \`duration\` says ${formatClock(episode.duration)}${late.length === 0 ? "" : `: ${late.length} of its captions come after the end`}.`;
  const mend =
    "Check that it is the right file, copied whole; then correct `duration`, and `cuts` if it was cut. Where the rest is lost, " +
    `accept it in episode.md: \`accepted: [{ rule: ${MEDIA_SHORT}, dated: …, why: …, by: … }]\`.`;
  return [findingAt(episode.at, "warns", MEDIA_SHORT, says, mend)];
}
