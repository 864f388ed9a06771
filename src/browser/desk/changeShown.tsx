import type { DeskChange, DeskPublic, DeskRow } from "../../model/desk.ts";

interface ChangeShownProps {
  readonly change: DeskChange | null;
  readonly note: string;
}

/** What a correction changes: before, and after with its note beside it. */
export function ChangeShown({ change, note }: ChangeShownProps) {
  if (change === null) return null;
  if (change.what === "note") {
    return (
      <div class="desk-change">
        <p>{change.says}</p>
        <p class="desk-margin">{note}</p>
      </div>
    );
  }
  return (
    <div class="desk-change">
      <h3>Before</h3>
      {change.what === "field" ? <p>{`${change.of}: ${change.before}`}</p> : <Rows rows={change.before} />}
      <h3>After</h3>
      {change.what === "field" ? <p>{`${change.of}: ${change.after}`}</p> : <Rows rows={change.after} />}
      <p class="desk-margin">{note}</p>
    </div>
  );
}

/** The line of the log and the item of the feed. Their notes are made by the server, from Markdown that can hold no tags. */
export const PublicShown = ({ log, feed }: DeskPublic) => (
  <>
    <h3>In the log of corrections</h3>
    <div class="desk-change">
      <p>
        <b>{log.kindName}</b>, {log.datedLong}: {log.about}
        <br />
        {log.where}
      </p>
      {log.words !== null && (
        <p>
          {log.words.before}
          {log.words.was !== null && (
            <>
              <del>{log.words.was}</del>{" "}
            </>
          )}
          <mark>{log.words.words}</mark>
          {log.words.after}
        </p>
      )}
      <div class="desk-margin" dangerouslySetInnerHTML={{ __html: log.html }} />
      <p>{log.signed}</p>
    </div>
    <h3>In the feed of corrections</h3>
    <div class="desk-change">
      <p>
        <b>{feed.title}</b>, {feed.signed}
      </p>
      <div class="desk-margin" dangerouslySetInnerHTML={{ __html: feed.html }} />
    </div>
  </>
);

const Rows = ({ rows }: { readonly rows: readonly DeskRow[] }) => (
  <ul>
    {rows.map(({ at, voice, runs, isTouched }) => (
      <li key={at} class={isTouched ? "is-touched" : undefined}>
        <span class="desk-at">{at}</span> <span>{voice ?? ""}</span>{" "}
        {runs.map(({ text, isMarked }, n) => (isMarked ? <mark key={`${n} ${text}`}>{text}</mark> : text))}
      </li>
    ))}
  </ul>
);
