import { useEffect, useState } from "preact/hooks";
import { parseClock } from "../../model/clock.ts";
import { toThousandth } from "./orderProps.ts";

interface MomentProps {
  readonly called: string;
  /** Milliseconds; null: not set. */
  readonly at: number | null;
  /** Where the recording stands, in the same clock. */
  readonly now: number;
  /** A frame, in milliseconds. */
  readonly frame: number;
  readonly onSet: (at: number) => void;
}

/** A moment that is set by ear: where the recording stands, in steps, or as it is typed. */
export function Moment({ called, at, now, frame, onSet }: MomentProps) {
  const written = at === null ? "" : toThousandth(at);
  const [text, setText] = useState(written);
  useEffect(() => setText(written), [written]);
  const step = (by: number) => at !== null && onSet(Math.max(0, at + by));
  const set = () => {
    const typed = parseClock(text.trim());
    if (typed === null || typed === at) setText(written);
    else onSet(typed);
  };
  return (
    <fieldset class="desk-point desk-row">
      <legend class="vh">{called}</legend>
      <label>
        <span>{called}</span>
        <input
          class="desk-moment"
          value={text}
          placeholder="3:21.400"
          onInput={(event) => setText(event.currentTarget.value)}
          onBlur={set}
          onKeyDown={(event) => event.key === "Enter" && set()}
        />
      </label>
      <button type="button" class="desk-small" onClick={() => onSet(now)}>
        At the moment
      </button>
      {(
        [
          [-1000, "1 s earlier"],
          [-frame, "1 frame earlier"],
          [frame, "1 frame later"],
          [1000, "1 s later"],
        ] as const
      ).map(([by, says]) => (
        <button key={says} type="button" class="desk-small" disabled={at === null} onClick={() => step(by)}>
          {says}
        </button>
      ))}
    </fieldset>
  );
}
