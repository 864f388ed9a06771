import { formatClock } from "../model/clock.ts";
import { byEffect } from "../model/episode.ts";
import { marked } from "../model/excerpt.ts";
import type { LaidCorrection, LaidCue, LaidEpisode } from "../record/laid.ts";

/** Cues shown on either side of a changed one. */
const AROUND = 1;

/** What a correction does to an episode, for people: the passage in its context, before and after. */
export function showChange(before: LaidEpisode, after: LaidEpisode, id: string): readonly string[] {
  const own = after.laid.find(({ correction }) => correction.id === id);
  if (own === undefined) return [];
  const { correction } = own;
  return byEffect(correction, {
    "adds-note": () => passages(before, after, own),
    "replaces-words": () => passages(before, after, own),
    "replaces-field": ({ segment, field, said, now }) => [
      `${segment ?? after.id}: ${field}`,
      `  before  ${said}`,
      `  after   ${now}`,
    ],
    "takes-away": () => withdrawn(before, after, own),
  });
}

function withdrawn(before: LaidEpisode, after: LaidEpisode, { correction }: LaidCorrection): readonly string[] {
  const gone = before.cues.length - after.cues.length;
  const what = correction.segment === null ? `the whole episode ${after.id}` : `the segment ${correction.segment}`;
  return [`Takes away ${what}: ${gone} cues, its titles, its summary and its sound. The note stays in their place.`];
}

function passages(before: LaidEpisode, after: LaidEpisode, own: LaidCorrection): readonly string[] {
  const touched = after.cues.flatMap((cue, index) => (isTouched(cue, own.correction.id) ? [index] : []));
  if (touched.length === 0)
    return [`A note ${own.segment === null ? "on the episode" : `on ${own.segment}`}, at no words.`];
  const shown = new Set(touched.flatMap((index) => [index - AROUND, index, index + AROUND]));
  const rows = (cues: readonly LaidCue[], id: string): readonly string[] =>
    cues.flatMap((cue, index) => (shown.has(index) ? [row(cue, id, touched.includes(index))] : []));
  return ["before", ...rows(before.cues, ""), "after", ...rows(after.cues, own.correction.id)];
}

const isTouched = ({ parts }: LaidCue, id: string): boolean =>
  parts.some(
    ({ runs, speaker }) => speaker?.correction.id === id || runs.some(({ mark }) => mark?.correction.id === id),
  );

/** One cue in a line; marked words stand in angle quotes. */
function row(cue: LaidCue, id: string, touched: boolean): string {
  const words = cue.parts.map(({ voice, runs }) => {
    const text = runs.map((run) => (run.mark?.correction.id === id ? marked(run.text) : run.text)).join("");
    return `${voice === null ? "" : `${voice}: `}${text.replace(/\s+/g, " ").trim()}`;
  });
  return `${touched ? ">" : " "} ${formatClock(cue.start).padStart(7)}  ${words.join(" / ")}`;
}
