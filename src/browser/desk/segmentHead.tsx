import { formatClockExact } from "../../model/clock.ts";
import type { DeskEdit } from "../../model/desk.ts";
import type { Playback } from "./playback.ts";

interface SegmentHeadProps {
  readonly slug: string;
  readonly title: string;
  /** Its in point, in milliseconds. */
  readonly at: number;
  readonly isProposed: boolean;
  /** The first one begins where the programme does. */
  readonly isFirst: boolean;
  readonly isLocked: boolean;
  readonly now: Playback;
  readonly onEdit: (edit: DeskEdit) => void;
}

/** So much is heard before an in point, in milliseconds. */
const BEFORE = 2000;
/** An in point is nudged by so much. */
const STEPS = [
  [-1000, "1 s earlier"],
  [-100, "0.1 s earlier"],
  [100, "0.1 s later"],
  [1000, "1 s later"],
] as const;

/** A segment's title and in point, to be heard and set. What is only proposed looks unlike what somebody set. */
export function SegmentHead({ slug, title, at, isProposed, isFirst, isLocked, now, onEdit }: SegmentHeadProps) {
  const set = (to: number) => {
    onEdit({ op: "point", segment: slug, at: to });
    now.playFrom(Math.max(0, to - BEFORE));
  };
  return (
    <div class="desk-segment">
      <button type="button" class="desk-at" onClick={() => now.playFrom(Math.max(0, at - BEFORE))}>
        <span class="vh">Play from two seconds before </span>
        {formatClockExact(at)}
      </button>
      <h2>
        {title}
        {isProposed && <span class="desk-proposed"> in point proposed</span>}
      </h2>
      {!isLocked && !isFirst && (
        <fieldset class="desk-point">
          <legend class="vh">In point of {title}</legend>
          {isProposed && (
            <button type="button" class="desk-small" onClick={() => onEdit({ op: "point", segment: slug, at: null })}>
              That is right
            </button>
          )}
          {STEPS.map(([by, called]) => (
            <button key={by} type="button" class="desk-small" onClick={() => set(at + by)}>
              {called}
            </button>
          ))}
          <button type="button" class="desk-small" onClick={() => set(now.now)}>
            Begins at the moment
          </button>
        </fieldset>
      )}
    </div>
  );
}
