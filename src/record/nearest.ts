import { distance as editDistance } from "fastest-levenshtein";
import type { Segment } from "../model/episode.ts";
import type { ClockMs } from "../model/units.ts";
import { foldText, tokensOf } from "./fold.ts";
import { placedTokens } from "./locate.ts";
import type { PieceIndex } from "./pieceIndex.ts";
import { type WorkingPiece, wordsOf } from "./words.ts";

/** Words that are nearly those that were looked for. */
export interface NearMatch {
  /** As they stand in the transcript. */
  readonly words: string;
  /** When their cue starts. */
  readonly clock: ClockMs;
}

/** Longer passages are looked for by their first words only, to keep the search short. */
const WORDS_COMPARED = 40;

/**
 * The words least unlike `said`, by edit distance over folded text; undefined where more than half the letters would
 * have to change. Of equals, the first.
 */
export function nearMatch(said: string, index: PieceIndex, segment: Segment | null): NearMatch | undefined {
  const { pieces } = index;
  const length = Math.min(tokensOf(said).length, WORDS_COMPARED);
  const sought = foldText(said).split(" ").slice(0, length).join(" ");
  const tokens = placedTokens(index, segment);
  let best: { from: number; to: number; edits: number } | undefined;
  for (let from = 0; from < tokens.length; from += 1) {
    for (const count of [length, length - 1, length + 1]) {
      if (count < 1 || from + count > tokens.length) continue;
      const window = tokens
        .slice(from, from + count)
        .map(({ text }) => text)
        .join(" ");
      const least = best?.edits ?? sought.length / 2;
      // So many letters more or less are so many edits at least.
      if (Math.abs(window.length - sought.length) >= least) continue;
      const edits = editDistance(sought, window);
      if (edits < least) best = { from, to: from + count, edits };
    }
  }
  if (best === undefined) return undefined;
  const found = tokens.slice(best.from, best.to);
  const clock = pieces[found[0]?.piece ?? 0]?.cue.start;
  return clock === undefined ? undefined : { words: shown(found, pieces), clock };
}

function shown(found: ReturnType<typeof placedTokens>, pieces: readonly WorkingPiece[]): string {
  const touched = [...new Set(found.map(({ piece }) => piece))];
  return touched
    .map((piece) => {
      const own = found.filter((token) => token.piece === piece);
      return wordsOf(pieces[piece]?.stretches ?? []).slice(own[0]?.from, own.at(-1)?.to);
    })
    .join(" ")
    .replace(/\s+/g, " ");
}
