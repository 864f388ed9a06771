import type { CaptionFigures } from "../../model/captions.ts";
import type { NewCue } from "./transcriptText.ts";

/** What is heard but not said. Milliseconds: the stretch that it may be shown in. */
export interface HeardSound {
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

/** A shorter sound can't be read. Common practice, no source. */
const SHORTEST = 500;

/** Sounds as cues in square brackets, where the words leave room for them; the others are handed back. */
export function placeSounds(
  cues: readonly NewCue[],
  sounds: readonly HeardSound[],
  { longest }: CaptionFigures,
): { readonly cues: readonly NewCue[]; readonly unplaced: readonly HeardSound[] } {
  const unplaced: HeardSound[] = [];
  const taken: { readonly start: number; readonly end: number }[] = [...cues];
  const placed = sounds.flatMap((sound): NewCue[] => {
    const inside = taken.filter(({ start, end }) => start < sound.to && end > sound.from);
    const start = Math.max(sound.from, ...inside.filter((cue) => cue.start <= sound.from).map(({ end }) => end));
    const next = Math.min(sound.to, ...inside.filter((cue) => cue.start > start).map((cue) => cue.start));
    const end = Math.min(next, start + longest);
    if (end - start < SHORTEST) {
      unplaced.push(sound);
      return [];
    }
    const cue = { start, end, pieces: [{ voice: null, language: null, words: `[${sound.text}]` }] };
    taken.push(cue);
    return [cue];
  });
  return { cues: [...cues, ...placed], unplaced };
}
