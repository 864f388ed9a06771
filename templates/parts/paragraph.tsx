import { isoDuration } from "../../src/model/clock.ts";
import { replaces } from "../../src/model/correctionKinds.ts";
import type { CueText, Mark, MarginNote as Note, Run, Paragraph as Words } from "../../src/pages/types.ts";
import { MarginNote } from "./note.tsx";

/** Words of a cue that stand under one mark, or under none. */
interface Piece {
  readonly runs: readonly Run[];
  readonly mark: Mark | null;
}

/** A paragraph with its time, and after it the notes on its words, so that they are read there. */
export function Paragraph({ paragraph }: { readonly paragraph: Words }) {
  const { id, clock, seconds, cues, notes } = paragraph;
  const words = (
    <p class="words" id={id}>
      {clock !== null && seconds !== null && <Stamp clock={clock} seconds={seconds} />}
      {cueSpans(cues, notes)}
    </p>
  );
  if (notes.length === 0) return words;
  return (
    <div class="noted">
      {words}
      {notes.map((note, index) => (
        <MarginNote key={note.id} note={note} nth={index + 1} />
      ))}
    </div>
  );
}

/** The moment as a link to itself: to copy, to send, to play from. */
export const Stamp = ({ clock, seconds }: { readonly clock: string; readonly seconds: number }) => (
  <>
    <a class="stamp" href={`#t=${seconds}`}>
      <span class="vh">From </span>
      <time datetime={isoDuration(seconds * 1000)}>{clock}</time>
    </a>{" "}
  </>
);

/** Neighbouring runs of one mark become one piece: a mark may change its language halfway. */
function piecesOf({ runs }: CueText): readonly Piece[] {
  const pieces: { runs: Run[]; mark: Mark | null }[] = [];
  for (const run of runs) {
    const last = pieces.at(-1);
    if (last !== undefined && last.mark?.id === run.mark?.id) last.runs.push(run);
    else pieces.push({ runs: [run], mark: run.mark });
  }
  return pieces;
}

/**
 * A mark that runs over several cues is opened once (its id) and closed once (its number). The number is no text: the words
 * stay whole for whoever copies them, finds them in the page or follows an address that names them.
 */
function cueSpans(cues: readonly CueText[], notes: readonly Note[]) {
  const byCue = cues.map((cue) => ({ cue, pieces: piecesOf(cue) }));
  const all = byCue.flatMap(({ pieces }) => pieces);
  const opens = (piece: Piece) => piece === all.find(({ mark }) => mark?.id === piece.mark?.id);
  const closes = (piece: Piece) => piece === all.findLast(({ mark }) => mark?.id === piece.mark?.id);
  return byCue.map(({ cue, pieces }, index) => (
    <>
      {index > 0 && " "}
      <span class="cue" data-in={cue.in?.toFixed(3)}>
        {pieces.map((piece) =>
          piece.mark === null ? (
            <Runs runs={piece.runs} />
          ) : (
            <Marked
              mark={piece.mark}
              runs={piece.runs}
              nth={opens(piece) ? nthOf(piece.mark, notes) : undefined}
              opens={opens(piece)}
              closes={closes(piece)}
            />
          ),
        )}
      </span>
    </>
  ));
}

/** Which of the paragraph's notes belongs to a mark, counted from 1; undefined: its note stands elsewhere. */
function nthOf({ id }: Mark, notes: readonly Note[]): number | undefined {
  const index = notes.findIndex(({ markId }) => markId === id);
  return index === -1 ? undefined : index + 1;
}

interface MarkedProps {
  readonly mark: Mark;
  readonly runs: readonly Run[];
  readonly nth: number | undefined;
  readonly opens: boolean;
  readonly closes: boolean;
}

/** Words that a correction concerns: inserted where they replace others, else only marked. */
function Marked({ mark, runs, nth, opens, closes }: MarkedProps) {
  const Words = replaces(mark) ? "ins" : "span";
  return (
    <>
      <Words class="mark" id={opens ? mark.id : undefined} data-kind={mark.kind} data-nth={nth} data-note={mark.noteId}>
        <Runs runs={runs} />
      </Words>
      {closes && (
        // biome-ignore lint/a11y/useAnchorContent: its label says more than the number, which the style sheet writes
        <a
          class="mark-ref"
          href={`#${mark.noteId}`}
          aria-label={`See note ${mark.number}: ${mark.kindName.toLowerCase()}`}
          data-number={mark.number}
        />
      )}
    </>
  );
}

const Runs = ({ runs }: { readonly runs: readonly Run[] }) => (
  <>
    {runs.map(({ text, language }) =>
      language === null ? (
        text
      ) : (
        <span lang={language} dir="auto">
          {text}
        </span>
      ),
    )}
  </>
);
