import { formatClock } from "../../model/clock.ts";
import type { DeskEdit, DeskWords } from "../../model/desk.ts";
import type { Playback } from "./playback.ts";
import { Keys, Saved, Undo } from "./undo.tsx";

interface OrderToolsProps {
  readonly words: DeskWords;
  readonly playback: Playback;
  readonly isSaved: boolean;
  readonly onEdit: (edit: DeskEdit) => void;
}

const KEYS = [
  ["Up, Down", "the in point above, below"],
  ["Left, Right", "0.1 s earlier, later"],
  ["Shift+Left, Right", "1 s earlier, later"],
  ["Alt+Left, Right", "1 frame earlier, later"],
  ["P", "to the nearest pause"],
  ["M", "begins at the moment"],
  ["Y", "the proposed in point is right"],
  ["Space", "hear two seconds before and after"],
  ["Ctrl+Space", "play, or pause"],
  ["Ctrl+Z, Ctrl+Y", "undo, and do again"],
] as const;

/** The buttons above the running order. */
export function OrderTools({ words, playback, isSaved, onEdit }: OrderToolsProps) {
  const { published } = words;
  return (
    <>
      <div class="desk-tools" role="toolbar" aria-label="Running order">
        <button type="button" onClick={playback.toggle}>
          {playback.isPlaying ? "Pause" : "Play"}
        </button>
        <span class="desk-now">{formatClock(playback.now)}</span>
        {!published && (
          <>
            <Undo words={words} onEdit={onEdit} />
            <Saved isSaved={isSaved} />
          </>
        )}
      </div>
      <Keys title="Keys, on an in point" keys={KEYS} />
    </>
  );
}
