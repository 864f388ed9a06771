import type { MarginNote as Note } from "../../src/pages/types.ts";
import { Glyph } from "./glyph.tsx";

interface MarginNoteProps {
  readonly note: Note;
  /** Which of its paragraph's notes it is, from 1: by this it finds its mark. 0 for a note at a head. */
  readonly nth: number;
}

/** A correction beside its line. After it, on wide sheets, the line that the proof-reader draws to the words. */
export function MarginNote({ note, nth }: MarginNoteProps) {
  const { id, kind, kindName, dated, datedLong, html, signed, ref, href } = note;
  return (
    <>
      <div class="margin-note" role="note" id={id} aria-labelledby={`${id}.kind`} data-kind={kind} data-nth={nth}>
        <p class="note-kind" id={`${id}.kind`}>
          <NoteNumber note={note} /> <Glyph kind={kind} /> <span>{kindName}</span>
        </p>
        <p class="note-date">
          <time datetime={dated}>{datedLong}</time>
        </p>
        <NoteBody html={html} />
        <WasNow was={note.was} now={note.now} />
        {note.supersededBy !== null && (
          <p class="note-after">
            Its place was taken by <a href={note.supersededBy.href}>{note.supersededBy.title}</a>.
          </p>
        )}
        <p class="note-foot">
          {signed}.{" "}
          <a href={href}>
            {ref}
            <span class="vh">, this correction’s own page</span>
          </a>
        </p>
      </div>
      {note.markId !== null && <span class="note-line" aria-hidden="true" data-nth={nth} />}
    </>
  );
}

const NoteNumber = ({ note: { number, markId } }: { readonly note: Note }) =>
  markId === null ? (
    <span class="note-no">
      <span class="vh">Note </span>
      {number}
    </span>
  ) : (
    <a class="note-no" href={`#${markId}`} aria-label={`Note ${number}, back to the words`}>
      {number}
    </a>
  );

/** What the public reads, set from Markdown. */
export const NoteBody = ({ html }: { readonly html: string }) => (
  <div class="note-body" dangerouslySetInnerHTML={{ __html: html }} />
);

function WasNow({ was, now }: { readonly was: string | null; readonly now: string | null }) {
  if (was === null && now === null) return null;
  return (
    <details class="was-now">
      <summary>What stood here</summary>
      <dl>
        {was !== null && (
          <div>
            <dt>Was</dt>
            <dd>
              <del>{was}</del>
            </dd>
          </div>
        )}
        {now !== null && (
          <div>
            <dt>Now</dt>
            <dd>
              <ins>{now}</ins>
            </dd>
          </div>
        )}
      </dl>
    </details>
  );
}

/** Notes that no words carry, at the head of what they concern. */
export const HeadNotes = ({ notes }: { readonly notes: readonly Note[] }) => (
  <>
    {notes.map((note) => (
      <MarginNote key={note.id} note={note} nth={0} />
    ))}
  </>
);
