import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type CaptionCue, composeCaptions } from "../../src/webvtt/compose.ts";
import { recordDemo } from "./record.ts";

/**
 * Makes the demo's transcripts from the true text of the broadcasts: sentences with their times, cut at clauses into
 * cues of at most two lines; what is heard but not said in square brackets. Then the demo's record anew.
 *
 *     npm run demo -- FOLDER content      where FOLDER holds <id>/truth.json
 */

interface Sentence {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}
export interface Truth {
  readonly episode: string;
  readonly sounds: readonly { readonly kind: string; readonly start: number; readonly end: number }[];
  readonly turns: readonly { readonly speaker: string; readonly sentences: readonly Sentence[] }[];
}
/** What our first transcript had wrong, so that the demo has something to correct. */
const SLIPS: Readonly<Record<string, readonly (readonly [said: string, written: string])[]>> = {
  "2026-10-05": [["at about 25 knots around the Skerrow Bank", "at about 15 knots around the Skerrow Bank"]],
};

const LINE = 42;

export function transcriptFrom(truth: Truth): string {
  const sounds = truth.sounds.map(
    ({ kind, start, end }): CaptionCue => ({
      start: milliseconds(start),
      end: milliseconds(end),
      parts: [{ voice: null, language: null, words: `[${kind.charAt(0).toUpperCase()}${kind.slice(1)}]` }],
    }),
  );
  const speech = truth.turns.flatMap(({ speaker, sentences }) =>
    sentences.flatMap((sentence) => cuesOf(slipped(sentence, truth.episode), speaker)),
  );
  return composeCaptions({ cues: [...sounds, ...speech].sort((a, b) => a.start - b.start) });
}

function slipped(sentence: Sentence, episode: string): Sentence {
  const text = (SLIPS[episode] ?? []).reduce((words, [said, written]) => words.replace(said, written), sentence.text);
  return { ...sentence, text };
}

/** A sentence in pieces of at most two lines, each with its share of the time by the length of its words. */
function cuesOf({ start, end, text }: Sentence, voice: string): readonly CaptionCue[] {
  const pieces = piecesOf(text, Math.ceil(text.length / (2 * LINE)));
  const edges = [0, ...pieces.map((_, n) => pieces.slice(0, n + 1).join(" ").length / text.length)];
  const at = (n: number) => milliseconds(start + (end - start) * Math.min(1, edges[n] ?? 1));
  return pieces.map((words, n) => ({
    start: at(n),
    end: n === pieces.length - 1 ? milliseconds(end) : at(n + 1),
    parts: [{ voice, language: null, words: piecesOf(words, words.length > LINE ? 2 : 1).join("\n") }],
  }));
}

/** Cuts words into a number of pieces near to equal, at the end of a clause where one is near. */
function piecesOf(text: string, count: number): readonly string[] {
  if (count <= 1) return [text];
  const want = text.length / count;
  const gaps = [...text.matchAll(/ /g)].map(({ index }) => index);
  const cost = (gap: number) => Math.abs(gap - want) - (/[,;:.]$/.test(text.slice(0, gap)) ? want / 3 : 0);
  const gap = gaps.reduce((best, next) => (cost(next) < cost(best) ? next : best), gaps[0] ?? text.length);
  return [text.slice(0, gap), ...piecesOf(text.slice(gap + 1), count - 1)];
}

const milliseconds = (seconds: number): number => Math.round(seconds * 1000);

async function main(from: string | undefined, content: string | undefined): Promise<void> {
  if (from === undefined || content === undefined) throw new Error("npm run demo -- FOLDER CONTENT");
  for (const id of ["2026-10-05", "2026-10-06", "2026-10-07"]) {
    const truth = JSON.parse(await readFile(join(from, id, "truth.json"), "utf8")) as Truth;
    await writeFile(join(content, "episodes", id.slice(0, 4), id, "transcript.vtt"), transcriptFrom(truth));
  }
  await recordDemo(content);
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? "").href) await main(process.argv[2], process.argv[3]);
