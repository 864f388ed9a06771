import type { DeskEdit, DeskWords } from "../../model/desk.ts";

interface UndoProps {
  readonly words: Pick<DeskWords, "canUndo" | "canRedo">;
  readonly onEdit: (edit: DeskEdit) => void;
}

/** The two buttons by which changes are taken back and made again. */
export const Undo = ({ words: { canUndo, canRedo }, onEdit }: UndoProps) => (
  <>
    <button type="button" class="desk-small" disabled={!canUndo} onClick={() => onEdit({ op: "undo" })}>
      Undo
    </button>
    <button type="button" class="desk-small" disabled={!canRedo} onClick={() => onEdit({ op: "redo" })}>
      Do again
    </button>
  </>
);

export const Saved = ({ isSaved }: { readonly isSaved: boolean }) => (
  <span class="desk-saved" role="status">
    {isSaved ? "Saved" : "Not saved yet"}
  </span>
);

interface KeysProps {
  readonly title: string;
  readonly keys: readonly (readonly [key: string, does: string])[];
}

/** What the keys do, for whoever opens it. */
export const Keys = ({ title, keys }: KeysProps) => (
  <details class="desk-keys">
    <summary>{title}</summary>
    <dl>
      {keys.map(([key, does]) => (
        <div key={key}>
          <dt>{key}</dt>
          <dd>{does}</dd>
        </div>
      ))}
    </dl>
  </details>
);
