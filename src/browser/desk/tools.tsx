import { flushSync } from "preact/compat";
import { useEffect, useState } from "preact/hooks";
import { formatClock } from "../../model/clock.ts";
import type { DeskEdit, DeskWords } from "../../model/desk.ts";
import { Find } from "./find.tsx";
import { Keys, Saved, Undo } from "./undo.tsx";

interface ToolsProps {
  readonly words: DeskWords;
  readonly now: number;
  readonly isPlaying: boolean;
  readonly isSaved: boolean;
  /** How many captions wait for somebody. */
  readonly doubts: number;
  readonly onToggle: () => void;
  readonly onEdit: (edit: DeskEdit) => void;
  readonly onNextDoubt: () => void;
  /** To a character of a caption. */
  readonly onGo: (caption: number, offset: number) => void;
}

const KEYS = [
  ["Ctrl+Space", "play, or pause"],
  ["Alt+Enter, Alt+click", "play from this word"],
  ["Enter", "part the caption here"],
  ["Backspace at its beginning", "join it with the one before"],
  ["Alt+1 to Alt+9", "who speaks, from here to the end of the turn"],
  ["Alt+0, a name, Enter", "the same, for everybody else; at its end a field for a new name"],
  ["Alt+Y", "the proposed speaker is right"],
  ["Alt+W", "write what the first doubt of the caption says"],
  ["Tab, Shift+Tab", "the next doubt, the one before"],
  ["Up, Down at its edge", "the caption above, below"],
  ["Ctrl+F", "find words, in all captions"],
  ["Ctrl+Z, Ctrl+Y", "undo, and do again"],
  ["Escape", "out of the captions, to these buttons"],
] as const;

/** The buttons above the words. */
export function Tools({ words, now, isPlaying, isSaved, doubts, onToggle, onEdit, onNextDoubt, onGo }: ToolsProps) {
  const [isFinding, setIsFinding] = useState(false);
  const [isTexting, setIsTexting] = useState(false);
  const { published } = words;
  useEffect(() => {
    // Most captions are not on the page: the browser would not find their words.
    const onKey = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "f") return;
      event.preventDefault();
      // Drawn before the next key comes: it is meant for the field.
      flushSync(() => setIsFinding(true));
      document.querySelector<HTMLInputElement>(".desk-find")?.select();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);
  return (
    <>
      <div class="desk-tools" role="toolbar" aria-label="Words">
        <button type="button" onClick={onToggle}>
          {isPlaying ? "Pause" : "Play"}
        </button>
        <span class="desk-now">{formatClock(now)}</span>
        <button type="button" class="desk-small" disabled={doubts === 0} onClick={onNextDoubt}>
          Next doubt ({doubts})
        </button>
        <button type="button" class="desk-small" aria-expanded={isFinding} onClick={() => setIsFinding(!isFinding)}>
          {published ? "Find" : "Find and replace"}
        </button>
        {!published && (
          <>
            <Undo words={words} onEdit={onEdit} />
            <button type="button" class="desk-small" onClick={() => onEdit({ op: "names" })}>
              Names as registered
            </button>
            <button type="button" class="desk-small" aria-expanded={isTexting} onClick={() => setIsTexting(!isTexting)}>
              As text
            </button>
            <Saved isSaved={isSaved} />
          </>
        )}
      </div>
      {isFinding && <Find words={words} onEdit={onEdit} onGo={onGo} />}
      {isTexting && <TextInOut words={words} onEdit={onEdit} />}
      <Keys title="Keys" keys={KEYS} />
    </>
  );
}

/** The words as plain text, out and in: for whoever corrects them elsewhere. */
function TextInOut({ words, onEdit }: Pick<ToolsProps, "words" | "onEdit">) {
  const [file, setFile] = useState<File | null>(null);
  const [isSure, setIsSure] = useState(false);
  return (
    <form
      class="desk-replace"
      onSubmit={(event) => {
        event.preventDefault();
        void file?.text().then((text) => onEdit({ op: "text", text, isSure }));
      }}
    >
      <p>
        <a href={`/api/text/${words.id}`} download>
          Take the words out as text
        </a>
        , a paragraph a turn, with NAME: before it.
      </p>
      <label>
        <span>Put a text in: words that stay keep their times</span>
        <input
          type="file"
          accept=".txt,text/plain"
          onChange={(event) => setFile(event.currentTarget.files?.[0] ?? null)}
        />
      </label>
      <label class="desk-check">
        <input type="checkbox" checked={isSure} onChange={(event) => setIsSure(event.currentTarget.checked)} />
        <span>It is right that many words go</span>
      </label>
      <button type="submit" disabled={file === null}>
        Put it in
      </button>
    </form>
  );
}
