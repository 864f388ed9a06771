import { does } from "../model/correctionKinds.ts";
import type { GivenLaid, GivenRun } from "../record/given.ts";
import type { ShownSegment, ShownText } from "../record/shown.ts";
import { changesById } from "./segment.ts";
import type { Entry } from "./types.ts";

/** How much of the words around a mark a list shows, in characters. */
const AROUND = 90;
/** So much is looked at for that: where a sentence is longer than it, the list shows only a part of it anyway. */
const LOOKED_AT = 3 * AROUND;

/** The runs of one segment, and where in them a correction's first mark begins and ends. */
interface Marked {
  readonly runs: readonly GivenRun[];
  readonly first: number;
  last: number;
}

/**
 * Looks up, of a correction, the marked words with a little before and after them, as they may be shown; or the field
 * that was replaced. All words of the episode are gone through once.
 */
export function quotedWords(shown: ShownText): (laid: GivenLaid) => Entry["words"] {
  const changes = changesById([...shown.episode.changes, ...shown.segments.flatMap(({ segment }) => segment.changes)]);
  const marked = markedIn(shown.segments);
  return ({ correction }) => {
    if (does(correction, "replaces-field")) {
      const change = changes.get(correction.id);
      return change === undefined ? null : { before: "", was: change.was, words: change.now, after: "" };
    }
    const own = marked.get(correction.id);
    if (own === undefined) return null;
    const { runs, first, last } = own;
    return {
      before: tailOf(textBefore(runs, first)),
      was: runs[first]?.mark?.was ?? null,
      words: textOf(runs.slice(first, last + 1)).trim(),
      after: headOf(textFrom(runs, last + 1)),
    };
  };
}

const SPACE: GivenRun = { text: " ", mark: null };

/** By the id of the correction, in the first segment that has its mark. */
function markedIn(segments: readonly ShownSegment[]): ReadonlyMap<string, Marked> {
  const marked = new Map<string, Marked>();
  for (const { cues } of segments) {
    const runs = cues.flatMap(({ pieces }) => pieces.flatMap(({ runs }) => [...runs, SPACE]));
    for (const [place, { mark }] of runs.entries()) {
      if (mark === null) continue;
      const { id } = mark.correction;
      const own = marked.get(id) ?? { runs, first: place, last: -1 };
      marked.set(id, own);
      if (own.runs === runs && mark.occurrence === 1) own.last = place;
    }
  }
  return marked;
}

const textOf = (runs: readonly GivenRun[]): string =>
  runs
    .map(({ text }) => text)
    .join("")
    .replace(/\s+/g, " ");

/** The end of the text before a run, as far as it is looked at. */
function textBefore(runs: readonly GivenRun[], to: number): string {
  let from = to;
  for (let length = 0; length < LOOKED_AT && from > 0; ) length += wordsIn(runs[--from]);
  return textOf(runs.slice(from, to)).slice(-LOOKED_AT);
}

/** The beginning of the text from a run on, as far as it is looked at. */
function textFrom(runs: readonly GivenRun[], from: number): string {
  let to = from;
  for (let length = 0; length < LOOKED_AT && to < runs.length; ) length += wordsIn(runs[to++]);
  return textOf(runs.slice(from, to)).slice(0, LOOKED_AT);
}

/** How much of a run is left of it where white space is counted as nothing. */
const wordsIn = (run: GivenRun | undefined): number => run?.text.replace(/\s+/g, "").length ?? 0;

/** The end of some text, from the start of its last sentence, or of a word not too far back. */
function tailOf(text: string): string {
  const sentence = text.replace(/^.*[.!?…]["'’”)]*\s/s, "");
  if (sentence.length <= AROUND) return sentence;
  return `… ${sentence.slice(-AROUND).replace(/^\S*\s/, "")}`;
}

function headOf(text: string): string {
  const sentence = /^.*?[.!?…]["'’”)]*(?=\s|$)/s.exec(text)?.[0] ?? text.trimEnd();
  if (sentence.length <= AROUND) return sentence;
  return `${sentence.slice(0, AROUND).replace(/\s\S*$/, "")} …`;
}
