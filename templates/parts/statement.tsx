import type { ComponentChildren } from "preact";
import { correctionKind, does, replaces } from "../../src/model/correctionKinds.ts";
import type { Entry } from "../../src/pages/types.ts";
import { NoteBody } from "./note.tsx";

/** A correction as a statement that can be sent to whoever asked for it. */
export function Statement({ entry }: { readonly entry: Entry }) {
  const { words, statement } = entry;
  const [before, after] = namesOf(entry);
  return (
    <article id={entry.id} class="statement" data-kind={entry.kind}>
      <section class="kinds-key" aria-label="The correction">
        <dl>
          {words !== null && replaces(entry) && words.was !== null && (
            <Row name={before}>
              <Words>
                <del>{words.was}</del>
              </Words>
            </Row>
          )}
          {words !== null && (
            <Row name={after}>
              <Words>
                {words.before}
                <InPlace entry={entry} words={words.words} />
                {words.after}
              </Words>
            </Row>
          )}
          {statement.isGone && <Row name="Taken away">{goneText(entry)}</Row>}
          <Row name={entry.kindName}>
            <NoteBody html={entry.html} />
            <p class="entry-where">{correctionKind(entry.kind).meaning}</p>
          </Row>
          <Row name="Made">
            <time datetime={entry.dated}>{entry.datedLong}</time>, signed: {entry.signed}
          </Row>
          {!statement.isGone && (
            <Row name={statement.places.length > 1 ? "All its places" : "Its place"}>
              <Places entry={entry} />
            </Row>
          )}
          <Others entry={entry} />
          <InRecord entry={entry} />
        </dl>
      </section>
    </article>
  );
}

/** What the words before it are called, and the words that stand. */
function namesOf(entry: Entry): readonly [before: string, after: string] {
  if (does(entry, "replaces-words")) return ["Written before", "As broadcast"];
  return does(entry, "replaces-field") ? ["On the page before", "On the page now"] : ["", "As broadcast"];
}

function goneText({ statement: { isWhole, aired }, kind }: Entry): string {
  const what = isWhole ? `The edition of ${aired}` : `A segment of the edition of ${aired}`;
  return does({ kind }, "takes-away") ? `${what}. Its words and its sound are gone.` : `${what}, withdrawn since.`;
}

const Row = ({ name, children }: { readonly name: string; readonly children: ComponentChildren }) => (
  <div>
    <dt>{name}</dt>
    <dd>{children}</dd>
  </div>
);

const Words = ({ children }: { readonly children: ComponentChildren }) => (
  <blockquote class="entry-words">
    <p>{children}</p>
  </blockquote>
);

function InPlace({ entry, words }: { readonly entry: Entry; readonly words: string }) {
  const Mark = replaces(entry) ? "ins" : "span";
  return (
    <Mark class="mark" data-kind={entry.kind}>
      {words}
    </Mark>
  );
}

/** Where the words stand, each heard at its moment where the recording may give it. */
const Places = ({ entry: { about, statement } }: { readonly entry: Entry }) => (
  <ul>
    {(statement.places.length > 0 ? statement.places : [{ ...about, clock: null }]).map(({ title, href, clock }) => (
      <li key={href}>
        <a href={href}>
          {title}
          {clock !== null && `, at ${clock}`}
        </a>
        , {statement.aired}
      </li>
    ))}
  </ul>
);

const Others = ({ entry: { supersedes, supersededBy } }: { readonly entry: Entry }) => (
  <>
    {supersedes !== null && (
      <Row name="Before it">
        It takes the place of <a href={supersedes.href}>{supersedes.title}</a>.
      </Row>
    )}
    {supersededBy !== null && (
      <Row name="After it">
        Its place was taken by <a href={supersededBy.href}>{supersededBy.title}</a>.
      </Row>
    )}
  </>
);

const InRecord = ({ entry: { ref, statement } }: { readonly entry: Entry }) =>
  statement.record === null ? null : (
    <Row name="In the record">
      {ref},{" "}
      {statement.record.digest === null ? (
        "not yet in the record"
      ) : (
        <code class="history-digest">{statement.record.digest}</code>
      )}
      . <a href={statement.record.file}>The record of this episode</a>, and{" "}
      <a href={statement.record.page}>how to check it</a>
    </Row>
  );
