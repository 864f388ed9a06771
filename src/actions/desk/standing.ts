import type { Episode, TranscriptCue } from "../../model/episode.ts";
import { recordedIn } from "../../record/enter.ts";
import { isPublished, readRecord } from "../../record/entry.ts";
import { layCorrections } from "../../record/lay.ts";

/** A caption with its number in the file, from 0. */
export interface PlacedCue extends TranscriptCue {
  readonly place: number;
}

/** A published episode as the public may see it now, a draft as it is. @param record what is in record.jsonl. */
export function standing(
  episode: Episode,
  record: Uint8Array | null,
  now: Date,
): Episode & { readonly cues: readonly PlacedCue[] } {
  if (record === null || !isPublished(record))
    return { ...episode, cues: episode.cues.map((cue, place) => ({ ...cue, place })) };
  const recorded = recordedIn(readRecord(new TextDecoder().decode(record)));
  const laid = layCorrections(episode, now.toISOString(), recorded);
  // A correction may leave all its words in the caption before.
  return { ...laid, cues: laid.cues.filter(({ pieces }) => pieces.some(({ words }) => words.trim() !== "")) };
}
