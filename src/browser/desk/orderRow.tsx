import { formatClock, formatClockSigned, formatOver } from "../../model/clock.ts";
import { segmentKindName } from "../../model/kinds.ts";
import { type OrderActions, type OrderRowProps, SHOWN, toThousandth } from "./orderProps.ts";
import { SegmentTools } from "./segmentTools.tsx";

/** A segment planned against actual, and below it what can be done with it, while it is picked. */
export function OrderRow(props: OrderRowProps) {
  const { k, segment, line, at, isLocked, isSaid, isPicked, actions } = props;
  const { slug, title, kind, out, proposed } = segment;
  const { planned = null, actual = 0, over = null, backTime = null, sureness = null, withheld = null } = line ?? {};
  return (
    <>
      <tr
        class={`desk-line${proposed ? " is-proposed" : ""}${isPicked ? " is-picked" : ""}`}
        data-segment={slug}
        data-said={isSaid ? "" : undefined}
      >
        <td>{segmentKindName(kind)}</td>
        <th scope="row">
          <button
            type="button"
            class="desk-pick"
            aria-expanded={isPicked}
            onClick={() => actions.pick(isPicked ? null : slug)}
          >
            {title}
          </button>
          {withheld !== null && <span class="desk-withheld">{SHOWN[withheld]}</span>}
          {proposed && (
            <span class="desk-line-proposed">
              <span class="desk-proposed">in point proposed{sureness === null ? "" : `: ${sureness}`}</span>
              {!isLocked && (
                <button
                  type="button"
                  class="desk-small"
                  aria-label={`That is right: in point of ${title}`}
                  onClick={() => actions.change({ op: "point", segment: slug, at: null })}
                >
                  That is right
                </button>
              )}
            </span>
          )}
        </th>
        <td>{k === 0 || isLocked ? <Heard {...props} /> : <InPoint {...props} />}</td>
        <td>{toThousandth(out)}</td>
        <td>{formatClock(actual)}</td>
        <td>{planned === null ? "" : formatClock(planned)}</td>
        <td class={over !== null && over >= 500 ? "is-over" : undefined}>{over === null ? "" : formatOver(over)}</td>
        <td>{backTime === null ? "" : formatClockSigned(backTime)}</td>
      </tr>
      {isPicked && (
        <tr class="desk-line-tools">
          <td colSpan={8}>
            <SegmentTools {...props} at={at} />
          </td>
        </tr>
      )}
    </>
  );
}

/** An in point that is heard, and not moved here. */
const Heard = ({ k, at, segment, actions }: OrderRowProps) => (
  <button
    type="button"
    class="desk-at desk-in"
    onClick={() => actions.hear(at)}
    onKeyDown={(event) => toOther(event, k, actions)}
  >
    <span class="vh">Hear where {segment.title} begins, at </span>
    {toThousandth(at)}
  </button>
);

/** An in point that is moved with keys. */
function InPoint(props: OrderRowProps) {
  const { at, segment, actions } = props;
  const { slug, title, out, proposed } = segment;
  const pick = () => actions.pick(slug);
  return (
    <span
      class="desk-at desk-in"
      role="slider"
      tabIndex={0}
      aria-label={`In point of ${title}${proposed ? " (proposed)" : ""}`}
      aria-valuemin={0}
      aria-valuemax={Math.round(out)}
      aria-valuenow={Math.round(at)}
      aria-valuetext={toThousandth(at)}
      // A press with the pointer picks when it ends: rows that move under it would take it elsewhere.
      onFocus={(event) => event.currentTarget.matches(":focus-visible") && pick()}
      onClick={() => {
        pick();
        actions.hear(at);
      }}
      onKeyDown={(event) => onKey(event, props)}
    >
      {toThousandth(at)}
    </span>
  );
}

/** Arrows by a tenth of a second; with Shift a second, with Alt a frame. */
const stepOf = ({ shiftKey, altKey }: KeyboardEvent, frame: number): number => (altKey ? frame : shiftKey ? 1000 : 100);

function onKey(event: KeyboardEvent, props: OrderRowProps): void {
  const { k, at, frame, hasPeaks, segment, actions } = props;
  const { slug, proposed } = segment;
  if (event.ctrlKey || event.metaKey) return;
  if (toOther(event, k, actions)) return;
  const acts: Readonly<Record<string, () => void>> = {
    ArrowLeft: () => actions.move(slug, at - stepOf(event, frame)),
    ArrowRight: () => actions.move(slug, at + stepOf(event, frame)),
    Space: () => actions.hear(at),
    KeyP: () => hasPeaks && actions.toPause(slug, at),
    KeyM: () => actions.toMoment(slug),
    KeyY: () => proposed && actions.change({ op: "point", segment: slug, at: null }),
  };
  const act = acts[event.code];
  if (act === undefined) return;
  event.preventDefault();
  act();
}

/** To the row above or below. */
function toOther(event: KeyboardEvent, k: number, actions: OrderActions): boolean {
  const by = { ArrowUp: -1, ArrowDown: 1 }[event.code];
  if (by === undefined) return false;
  event.preventDefault();
  actions.toRow(k + by);
  return true;
}
