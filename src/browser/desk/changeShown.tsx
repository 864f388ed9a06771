import type { DeskChange, DeskRow } from "../../model/desk.ts";

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
