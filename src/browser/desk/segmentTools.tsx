import { SEGMENT_KINDS, type SegmentKind, type Shown } from "../../model/episode.ts";
import { segmentKindName } from "../../model/kinds.ts";
import { type OrderRowProps, SHOWN } from "./orderProps.ts";

/** What can be done with a segment. */
export function SegmentTools({ k, segment, line, at, frame, isLast, isLocked, hasPeaks, actions }: OrderRowProps) {
  const { slug, title, kind } = segment;
  const withheld = line?.withheld ?? null;
  if (isLocked) return <Hear at={at} hear={actions.hear} />;
  const steps = [
    [-1000, "1 s earlier"],
    [-100, "0.1 s earlier"],
    [-frame, "1 frame earlier"],
    [frame, "1 frame later"],
    [100, "0.1 s later"],
    [1000, "1 s later"],
  ] as const;
  return (
    <div class="desk-segment-tools">
      <div class="desk-fields">
        <Field
          key={title}
          called="Title"
          value={title}
          onSet={(own) => actions.change({ op: "title", segment: slug, title: own })}
        />
        <label>
          <span>Kind</span>
          <select
            value={kind}
            onChange={(event) =>
              actions.change({ op: "kind", segment: slug, kind: event.currentTarget.value as SegmentKind })
            }
          >
            {SEGMENT_KINDS.map((own) => (
              <option key={own} value={own}>
                {segmentKindName(own)}
              </option>
            ))}
          </select>
        </label>
        <label>
          <span>Rights</span>
          <select
            value={withheld ?? ""}
            onChange={({ currentTarget: { value } }) =>
              actions.change({ op: "withhold", segment: slug, show: value === "" ? null : (value as Shown) })
            }
          >
            <option value="">May be given</option>
            {Object.entries(SHOWN).map(([own, says]) => (
              <option key={own} value={own}>
                {says}
              </option>
            ))}
          </select>
        </label>
      </div>
      {withheld !== null && (
        <div class="desk-fields">
          <Field
            key={`until ${line?.until}`}
            called="May be given from this day on; empty: not known"
            type="date"
            value={line?.until ?? ""}
            onSet={(until) => actions.change({ op: "rights", segment: slug, field: "until", value: until })}
          />
          <Field
            key={`holder ${line?.holder}`}
            called="Who holds the rights"
            value={line?.holder ?? ""}
            onSet={(holder) => actions.change({ op: "rights", segment: slug, field: "holder", value: holder })}
          />
          <label class="desk-check">
            <input
              type="checkbox"
              checked={line?.edgesHeard === true}
              onChange={(event) => actions.change({ op: "edges", segment: slug, isHeard: event.currentTarget.checked })}
            />
            <span>I have listened to where its words begin and end: nothing beside them is held back for safety.</span>
          </label>
        </div>
      )}
      <fieldset class="desk-point">
        <legend class="vh">In point of {title}</legend>
        <Hear at={at} hear={actions.hear} />
        {k > 0 && (
          <>
            {steps.map(([by, called]) => (
              <button key={called} type="button" class="desk-small" onClick={() => actions.move(slug, at + by)}>
                {called}
              </button>
            ))}
            <button type="button" class="desk-small" disabled={!hasPeaks} onClick={() => actions.toPause(slug, at)}>
              To the nearest pause
            </button>
            <button type="button" class="desk-small" onClick={() => actions.toMoment(slug)}>
              Begins at the moment
            </button>
          </>
        )}
      </fieldset>
      <div class="desk-point">
        <button type="button" class="desk-small" onClick={() => actions.split(slug)}>
          Split at the moment
        </button>
        <button
          type="button"
          class="desk-small"
          disabled={isLast}
          onClick={() => actions.change({ op: "joinSegment", segment: slug })}
        >
          Join with the next one
        </button>
      </div>
    </div>
  );
}

const Hear = ({ at, hear }: { readonly at: number; readonly hear: (at: number) => void }) => (
  <button type="button" class="desk-small" onClick={() => hear(at)}>
    Hear its beginning
  </button>
);

interface FieldProps {
  readonly called: string;
  readonly type?: "date";
  readonly value: string;
  readonly onSet: (value: string) => void;
}

/** A value, set when somebody leaves it or presses Enter; Escape leaves it as it was. */
function Field({ called, type, value, onSet }: FieldProps) {
  const set = (field: HTMLInputElement) => {
    if (field.value.trim() !== value) onSet(field.value);
  };
  return (
    <label class={type === undefined ? "desk-wide" : undefined}>
      <span>{called}</span>
      <input
        {...(type === undefined ? {} : { type })}
        defaultValue={value}
        onBlur={(event) => set(event.currentTarget)}
        onKeyDown={(event) => {
          if (event.key === "Enter") event.currentTarget.blur();
          if (event.key !== "Escape") return;
          event.currentTarget.value = value;
          event.currentTarget.blur();
        }}
      />
    </label>
  );
}
