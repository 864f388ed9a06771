import { intoLines } from "../derive/cutting/lineBreaks.ts";
import type { CaptionFigures } from "../model/captions.ts";
import type { LaidPart } from "./laid.ts";

/** A part's words as captions have them: laid into lines anew where a correction replaced some of them. */
export function captionWords({ runs, words }: LaidPart, figures: CaptionFigures): string {
  const replaced = runs.some(({ mark }) => mark !== null && mark.was !== null);
  return replaced ? intoLines(words, figures) : words;
}
