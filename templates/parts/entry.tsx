import { replaces } from "../../src/model/correctionKinds.ts";
import type { Entry as EntryData } from "../../src/pages/types.ts";
import { Glyph } from "./glyph.tsx";
import { NoteBody } from "./note.tsx";

/** A correction in the log. */
export function Entry({ entry }: { readonly entry: EntryData }) {
  const { id, kind, about } = entry;
  return (
    <article class="entry" id={id} data-kind={kind} aria-labelledby={`${id}.about`}>
      <p class="entry-date">
        <time datetime={entry.dated}>
          <b>{entry.day}</b> <span>{entry.time}</span>
        </time>
      </p>
      <div class="entry-body">
        <h3 class="entry-about" id={`${id}.about`}>
          <a href={about.href}>{about.title}</a>
        </h3>
        <p class="entry-where">{entry.where}</p>
        <EntryWords entry={entry} />
      </div>
      <div class="entry-note">
        <p class="note-kind">
          <Glyph kind={kind} /> <span>{entry.kindName}</span>
        </p>
        <NoteBody html={entry.html} />
        {entry.supersedes !== null && (
          <p class="note-after">
            Takes the place of <a href={entry.supersedes.href}>{entry.supersedes.title}</a>.
          </p>
        )}
        {entry.supersededBy !== null && (
          <p class="note-after">
            Its place was taken by <a href={entry.supersededBy.href}>{entry.supersededBy.title}</a>.
          </p>
        )}
        <p class="note-foot">
          {entry.signed}.{" "}
          <a href={entry.href}>
            {entry.ref}
            <span class="vh">, link to this correction</span>
          </a>
        </p>
      </div>
    </article>
  );
}

/** The words concerned: as they stand, or what stood there and what stands there now. */
function EntryWords({ entry }: { readonly entry: EntryData }) {
  const { words, gone, kind } = entry;
  if (gone) return <p class="entry-words entry-gone">The words are withdrawn.</p>;
  if (words === null) return null;
  const replaced = words.was !== null || replaces(entry);
  return (
    <blockquote class="entry-words">
      <p>
        {words.before}
        {words.was !== null && (
          <>
            <del>
              <span class="vh">corrected from </span>
              {words.was}
            </del>{" "}
          </>
        )}
        {replaced ? (
          <ins class="mark" data-kind={kind}>
            {words.was !== null && <span class="vh">to </span>}
            {words.words}
          </ins>
        ) : (
          <span class="mark" data-kind={kind}>
            {words.words}
          </span>
        )}
        {words.after}
      </p>
    </blockquote>
  );
}

/** The same in the margin of the front page. */
export const ShortEntry = ({ entry }: { readonly entry: EntryData }) => (
  <li>
    <p class="note-kind">
      <Glyph kind={entry.kind} /> <span>{entry.kindName}</span>
    </p>
    <p class="note-date">
      <time datetime={entry.dated}>{entry.datedLong}</time>
    </p>
    <p class="note-about">
      <a href={entry.about.href}>{entry.about.title}</a>
    </p>
    <NoteBody html={entry.html} />
  </li>
);
