import { soundIn } from "../../derive/turns.ts";
import { CAPTION_FIGURES, type CaptionFigures } from "../../model/captions.ts";
import { captionWords } from "../../record/captionWords.ts";
import type { LaidCue } from "../../record/laid.ts";
import type { Doubt } from "../check.ts";
import { doubtOfCue, manyAsOne } from "../doubts.ts";
import type { Subject } from "../subject.ts";

/** The captions of what is said, in file order; sounds in square brackets have no rate and may stand long. */
const speechCues = ({ episode }: Subject): readonly LaidCue[] =>
  episode.cues.filter((cue) => soundIn(cue) === null && wordsOf(cue) !== "");

/** The words of a caption, in its lines. */
export const wordsOf = (cue: LaidCue, figures: CaptionFigures = CAPTION_FIGURES): string =>
  cue.pieces
    .map((piece) => captionWords(piece, figures))
    .join("")
    .trim();

/** What is wrong with a caption, as a sentence; null: nothing. */
type FaultOf = (cue: LaidCue, figures: CaptionFigures, next: LaidCue | undefined) => string | null;

/** A doubt for every caption with a fault; many become one. `what`: “captions …”, of all of them. */
export function ofCues(subject: Subject, what: string, mend: string, faultOf: FaultOf): readonly Doubt[] {
  const figures = subject.programme.captions ?? CAPTION_FIGURES;
  const cues = speechCues(subject);
  const doubts = cues.flatMap((cue, n): Doubt[] => {
    const says = faultOf(cue, figures, cues[n + 1]);
    return says === null ? [] : [doubtOfCue(cue, says, mend)];
  });
  return manyAsOne(doubts, cues.length, what, subject);
}

/** Milliseconds as seconds for people. */
export const seconds = (ms: number): string => `${Number((ms / 1000).toFixed(2))} s`;
