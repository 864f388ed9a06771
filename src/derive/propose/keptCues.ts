import type { CuePiece } from "../../model/episode.ts";
import { type RawBlock, type SpokenWord, soundOf } from "../../model/spoken.ts";
import type { Span } from "../captioning/lending.ts";
import type { NewCue } from "../captioning/transcriptText.ts";

/** Captions that stay as somebody made them, and those of them that have no place. Milliseconds of the episode's clock. */
export interface KeptCues {
  readonly cues: readonly NewCue[];
  /** Where nobody speaks, by stretch. */
  readonly inside: readonly { readonly span: Span; readonly cues: readonly NewCue[] }[];
  /** Past the end of the recording. */
  readonly past: readonly NewCue[];
}

/**
 * The captions of a transcript with their own times, words and lines. What has no time takes that of its words; who
 * speaks is taken from the words that are said meanwhile, where the file doesn't say it.
 * @param timed the words of the blocks, each once and in the same order. @param voiced words with voices, by their times.
 * @param silent stretches in which nobody speaks. @param end where the recording ends.
 */
export function keptCues(
  rawBlocks: readonly RawBlock[],
  timed: readonly SpokenWord[],
  voiced: readonly SpokenWord[],
  silent: readonly Span[],
  end: number,
): KeptCues {
  const voiceAt = voicesIn(voiced);
  const cues = captionsOf(rawBlocks, timed).map(({ start, end: stop, blocks }): NewCue => {
    const proposed = voiceAt({ start, end: stop });
    return {
      start,
      end: Math.max(start + 1, stop),
      pieces: blocks.map((block, n) => pieceOf(block, n, blocks, proposed)),
    };
  });
  const insideOf = (cue: NewCue) => (isSound(cue) ? -1 : silent.findIndex((span) => isMostlyIn(cue, span)));
  const before = cues.filter(({ start }) => start < end);
  return {
    cues: before
      .filter((cue) => insideOf(cue) === -1)
      .map((cue) => ({ ...cue, end: Math.max(cue.start + 1, Math.min(cue.end, end)) })),
    inside: silent
      .map((span, n) => ({ span, cues: before.filter((cue) => insideOf(cue) === n) }))
      .filter((one) => one.cues.length > 0),
    past: cues.filter(({ start }) => start >= end),
  };
}

/** What is heard but not said stands in brackets, alone. */
const isSound = ({ pieces }: NewCue): boolean => pieces.every(({ words }) => /^\[[^\]]*\]\s*$/.test(words));

/** The words of a caption, in one run. */
export const wordsOf = ({ pieces }: NewCue): string =>
  pieces
    .map(({ words }) => words)
    .join(" ")
    .replace(/\s+/g, " ")
    .trim();

interface Caption extends Span {
  readonly blocks: readonly RawBlock[];
}

/** Blocks that come from one place of the file are one caption, in which several people speak. */
function captionsOf(rawBlocks: readonly RawBlock[], timed: readonly SpokenWord[]): readonly Caption[] {
  const captions: { start: number; end: number; blocks: RawBlock[] }[] = [];
  let from = 0;
  for (const block of rawBlocks) {
    const to = from + block.text.split(" ").length;
    const [start, end] = [block.start ?? timed[from]?.start ?? 0, block.end ?? timed[to - 1]?.end ?? 0];
    const last = captions.at(-1);
    if (last !== undefined && last.blocks[0]?.at === block.at) {
      last.blocks.push(block);
      last.end = end;
    } else captions.push({ start: Math.round(start), end: Math.round(end), blocks: [block] });
    from = to;
  }
  return captions.map((one) => ({ ...one, end: Math.round(one.end) }));
}

function pieceOf({ voice, text, lines }: RawBlock, n: number, blocks: readonly RawBlock[], proposed: Voice): CuePiece {
  const sound = soundOf(text);
  const words = `${sound === null ? (lines ?? text) : `[${sound}]`}${n < blocks.length - 1 ? "\n" : ""}`;
  return voice !== null || blocks.length > 1 || proposed.voice === null || sound !== null
    ? { voice, language: null, words }
    : { voice: proposed.voice, ...(proposed.proposed === undefined ? {} : { proposed: true }), language: null, words };
}

type Voice = Pick<SpokenWord, "voice" | "proposed">;

/** Whose words are most in a stretch of time. */
function voicesIn(voiced: readonly SpokenWord[]): (span: Span) => Voice {
  let from = 0;
  return ({ start, end }) => {
    while (from < voiced.length && (voiced[from]?.end ?? 0) <= start) from++;
    const times = new Map<string | null, { count: number; word: SpokenWord }>();
    for (let n = from; n < voiced.length; n++) {
      const word = voiced[n];
      if (word === undefined || word.start >= end) break;
      const own = times.get(word.voice) ?? { count: 0, word };
      times.set(word.voice, { ...own, count: own.count + 1 });
    }
    const most = [...times.values()].sort((a, b) => b.count - a.count)[0];
    return most?.word ?? { voice: null };
  };
}

const isMostlyIn = ({ start, end }: Span, span: Span): boolean =>
  Math.min(end, span.end) - Math.max(start, span.start) > (end - start) / 2;
