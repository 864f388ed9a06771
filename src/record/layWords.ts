import { soundIn } from "../derive/turns.ts";
import { formatClock } from "../model/clock.ts";
import { does } from "../model/correctionKinds.ts";
import {
  byEffect,
  type Correction,
  type NoteCorrection,
  type Segment,
  type TranscriptCorrection,
} from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import { grouped } from "../model/grouped.ts";
import type { ClockMs } from "../model/units.ts";
import { faulty } from "./faults.ts";
import { foldText, tokensOf } from "./fold.ts";
import { distance, findPassages, nearestTo, type Passage, startsIn } from "./locate.ts";
import { nearMatch } from "./nearest.ts";
import type { PieceIndex } from "./pieceIndex.ts";
import { markWords, replaceWords, type WorkingPiece } from "./words.ts";

/** Words farther than this from `at` are laid, but asked about. Common practice, no source. */
const FAR_MS = 60_000;

/** What came of laying a correction over the words. */
export interface WordsLaid {
  readonly laid: boolean;
  readonly findings: readonly Finding[];
}

/** Pieces by the ids of the corrections that hold on to them. */
export type Holders = Map<string, Set<WorkingPiece>>;

/** How often the nearest words may still be looked for. */
export interface NearestSought {
  left: number;
}

export function addHolder(holders: Holders, id: string, piece: WorkingPiece): void {
  const own = holders.get(id);
  if (own === undefined) holders.set(id, new Set([piece]));
  else own.add(piece);
}

/** A correction that holds on to words or to a speaker. */
export type WordsCorrection = TranscriptCorrection | (NoteCorrection & { readonly said: string });

interface Scope {
  readonly index: PieceIndex;
  /** Of each correction, by id, the pieces that it holds on to; what is laid is added. */
  readonly holders: Holders;
  readonly nearest: NearestSought;
  readonly segments: readonly Segment[];
  /** The named segment; null: the whole episode. */
  readonly segment: Segment | null;
  /** The text was reissued since, and may have taken the correction in. */
  readonly isReissued: boolean;
}

/** Finds the words of a correction and lays it over them, in `pieces`. */
export function layWords(correction: WordsCorrection, scope: Scope): WordsLaid {
  if (does(correction, "replaces-words") && correction.field === "speaker") return laySpeaker(correction, scope);
  const { passages, findings } = choose(correction, scope);
  const spans = passages.flatMap((passage, index) =>
    passage.spans.map((span, order) => ({ span, hold: { correction, occurrence: index + 1 }, leads: order === 0 })),
  );
  // From the end, so that the places still to come stay where they were found.
  for (const { span, hold, leads } of spans.toReversed()) {
    const piece = scope.index.pieces[span.piece];
    if (piece === undefined) continue;
    addHolder(scope.holders, correction.id, piece);
    if (does(correction, "replaces-words")) {
      replaceWords(piece, span, leads ? correction.now : "", hold);
      scope.index.changed(piece);
    } else markWords(piece, span, hold);
  }
  return { laid: passages.length > 0, findings };
}

function choose(
  correction: WordsCorrection,
  scope: Scope,
): { readonly passages: readonly Passage[]; readonly findings: readonly Finding[] } {
  const within = correction.every ? null : scope.segment;
  const found = findPassages(correction.said, scope.index, within);
  const passages =
    scope.isReissued && does(correction, "replaces-words")
      ? notTakenIn(found, correction.now, scope.index, within)
      : found;
  if (passages.length === 0) return { passages, findings: [notFound(correction, scope)] };
  if (correction.every) return { passages, findings: [] };
  const nearest = nearestTo(passages, correction.at);
  return { passages: nearest === undefined ? [] : [nearest], findings: doubts(correction, passages, nearest) };
}

/** Without the places where the new words already stand around the old ones: `Osmund Tarrick` around `Tarrick`. */
function notTakenIn(
  found: readonly Passage[],
  now: string,
  index: PieceIndex,
  segment: Segment | null,
): readonly Passage[] {
  const taken = grouped(
    findPassages(now, index, segment).flatMap(({ spans }) => spans),
    ({ piece }) => piece,
  );
  const overlaps = (passage: Passage): boolean =>
    passage.spans.some((own) => taken.get(own.piece)?.some((span) => span.from < own.to && own.from < span.to));
  return found.filter((passage) => !overlaps(passage));
}

/** Whether the words that were found are surely the ones meant. */
function doubts(
  correction: WordsCorrection,
  passages: readonly Passage[],
  nearest: Passage | undefined,
): readonly Finding[] {
  const { at, said } = correction;
  if (at === null && passages.length > 1) {
    const times = passages.map(({ clock }) => formatClock(clock)).join(", ");
    const says = `"${said}" stands in ${passages.length} places (${times}); the first was taken.`;
    const mend = "Give the moment in `at`, or `every: true` if all of them are meant.";
    return [faulty(correction, "correction-words-many", says, mend, "warns")];
  }
  if (at !== null && nearest !== undefined && distance(nearest, at) > FAR_MS) {
    const says = `"${said}" is not said near ${formatClock(at)}; the nearest place is ${formatClock(nearest.clock)}.`;
    const mend = `If that is the place, make it \`at: ${formatClock(nearest.clock)}\`.`;
    return [faulty(correction, "correction-words-far", says, mend, "warns")];
  }
  return [];
}

function notFound(correction: WordsCorrection, scope: Scope): Finding {
  const { said } = correction;
  if (tokensOf(said).length === 0) {
    const says = "`said` holds no word to look for.";
    return faulty(correction, "correction-words-empty", says, "Give the published words concerned, as they stand.");
  }
  const where = scope.segment === null || correction.every ? "in this episode" : `in "${scope.segment.slug}"`;
  const says = `The words "${said}" do not stand ${where}.`;
  return faulty(correction, "correction-words-not-found", says, nearestMend(correction, scope));
}

function nearestMend({ said, at, every }: WordsCorrection, { index, nearest, segments, segment }: Scope): string {
  const elsewhere = nearestTo(findPassages(said, index, null), at);
  if (elsewhere !== undefined) {
    const slug = segments.find((own) => own.in <= elsewhere.clock && elsewhere.clock < own.out)?.slug;
    const name = slug === undefined ? "" : `, in "${slug}"`;
    return `They stand at ${formatClock(elsewhere.clock)}${name}: mend the segment, or the words.`;
  }
  if (nearest.left === 0)
    return "Copy the words from the page. Of the first corrections like this, the nearest words are told.";
  nearest.left--;
  const near = (every ? undefined : nearMatch(said, index, segment)) ?? nearMatch(said, index, null);
  if (near === undefined) return "Nothing like them is published: copy the words from the page.";
  return `The nearest words are "${near.words}" at ${formatClock(near.clock)}: copy them from the page.`;
}

/** Gives a turn another speaker: the unbroken run of one voice at `at`, or every one of that voice. */
function laySpeaker(correction: TranscriptCorrection, { index, holders, segment }: Scope): WordsLaid {
  const { pieces } = index;
  const said = foldText(correction.said);
  const speaks = (piece: WorkingPiece): boolean =>
    index.voiceOf(piece) === said &&
    soundIn(piece.cue) === null &&
    (correction.every || segment === null || startsIn(piece.cue, segment));
  const turns = turnsWhere(pieces, speaks);
  const chosen = correction.every ? turns : nearestTurn(turns, correction.at);
  for (const [index, turn] of chosen.entries()) {
    for (const piece of turn) {
      const was = piece.voiceHold === null ? piece.voice : piece.voiceHold.was;
      piece.voiceHold = { correction, occurrence: index + 1, was };
      piece.voice = correction.now.trim() === "" ? null : correction.now.trim();
      addHolder(holders, correction.id, piece);
    }
  }
  return { laid: chosen.length > 0, findings: chosen.length > 0 ? [] : [speakerNotFound(correction, pieces)] };
}

function turnsWhere(
  pieces: readonly WorkingPiece[],
  speaks: (piece: WorkingPiece) => boolean,
): readonly (readonly WorkingPiece[])[] {
  const turns: WorkingPiece[][] = [];
  let open = false;
  for (const piece of pieces) {
    const own = speaks(piece);
    if (own && open) turns.at(-1)?.push(piece);
    else if (own) turns.push([piece]);
    open = own;
  }
  return turns;
}

function nearestTurn(
  turns: readonly (readonly WorkingPiece[])[],
  at: ClockMs | null,
): readonly (readonly WorkingPiece[])[] {
  if (at === null) return turns.slice(0, 1);
  const far = (turn: readonly WorkingPiece[]): number =>
    Math.max(0, (turn[0]?.cue.start ?? at) - at, at - (turn.at(-1)?.cue.end ?? at));
  return turns.toSorted((a, b) => far(a) - far(b)).slice(0, 1);
}

function speakerNotFound(correction: TranscriptCorrection, pieces: readonly WorkingPiece[]): Finding {
  const { at } = correction;
  const there = at === null ? undefined : pieces.findLast(({ cue }) => cue.start <= at);
  const says = `No words of "${correction.said}" are there.`;
  const mend =
    there === undefined
      ? "Give the speaker's name as published in `said`, and the moment in `at`."
      : `At ${formatClock(there.cue.start)} the transcript names ${there.voice === null ? "nobody" : `"${there.voice}"`}: give that as \`said\`.`;
  return faulty(correction, "correction-speaker-not-found", says, mend);
}

/** Whether a correction has words, or a speaker, to lay itself over. */
export const holdsWords = (correction: Correction): correction is WordsCorrection =>
  byEffect(correction, {
    "adds-note": ({ said }) => said !== null,
    "replaces-words": () => true,
    "replaces-field": () => false,
    "takes-away": () => false,
  });
