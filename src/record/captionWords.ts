import { intoLines } from "../derive/captioning/lineBreaks.ts";
import type { CaptionFigures } from "../model/captions.ts";

/** Words of a cue, and which of them a correction put there. */
interface Corrected {
  readonly words: string;
  readonly runs: readonly { readonly mark: { readonly was: string | null } | null }[];
}

/** A piece's words as captions have them: laid into lines anew where a correction replaced some of them. */
export function captionWords({ runs, words }: Corrected, figures: CaptionFigures): string {
  const replaced = runs.some(({ mark }) => mark !== null && mark.was !== null);
  return replaced ? intoLines(words, figures) : words;
}
