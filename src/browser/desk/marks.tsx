import { useRef } from "preact/hooks";
import type { DeskSegment } from "../../model/desk.ts";
import { toThousandth } from "./orderProps.ts";

/** A mark that is being dragged. `isNear`: on the strip that shows what lies around the moment. */
export interface Drag {
  readonly slug: string;
  readonly at: number;
  readonly isNear: boolean;
}

interface MarksProps {
  readonly segments: readonly DeskSegment[];
  readonly from: number;
  readonly to: number;
  readonly isNear: boolean;
  readonly isLocked: boolean;
  readonly inOf: (segment: DeskSegment) => number;
  readonly drag: Drag | null;
  readonly onDrag: (drag: Drag | null) => void;
  readonly onSet: (slug: string, at: number) => void;
  /** It was pressed, and not moved. */
  readonly onPick: (slug: string) => void;
}

/** Nearer than so many pixels a mark was pressed, and not dragged. */
const STILL = 3;

interface Held {
  readonly x: number;
  readonly left: number;
  readonly width: number;
  readonly from: number;
  readonly to: number;
}

/** The in points over the outline, to be dragged with a pointer; with keys they are moved in the table. */
export function Marks({ segments, from, to, isNear, isLocked, inOf, drag, onDrag, onSet, onPick }: MarksProps) {
  const held = useRef<Held | null>(null);
  const toMoment = (x: number, { left, width, from: a, to: z, x: first }: Held, own: number): number => {
    // The mark keeps its place under the pointer: a press beside its middle moves nothing.
    const grip = left + ((own - a) / (z - a)) * width - first;
    return a + ((x + grip - left) / width) * (z - a);
  };
  return (
    <div class="desk-marks" aria-hidden="true">
      {segments.map((segment, k) => {
        const { slug, title, proposed } = segment;
        const isDragged = drag?.slug === slug;
        const at = isDragged ? drag.at : inOf(segment);
        if (at < from || at > to) return null;
        const place = ((at - from) / (to - from)) * 100;
        const isFixed = isLocked || k === 0;
        return (
          <div
            key={slug}
            class={`desk-mark${proposed ? " is-proposed" : ""}${isFixed ? " is-fixed" : ""}`}
            style={{ insetInlineStart: `${place}%` }}
            title={title}
            data-mark={slug}
            onPointerDown={(event) => {
              if (event.button !== 0) return;
              event.preventDefault();
              const box = event.currentTarget.parentElement?.getBoundingClientRect();
              if (box === undefined) return;
              event.currentTarget.setPointerCapture(event.pointerId);
              held.current = { x: event.clientX, left: box.left, width: box.width, from, to };
            }}
            onPointerMove={(event) => {
              const own = held.current;
              if (own === null || isFixed || (!isDragged && Math.abs(event.clientX - own.x) < STILL)) return;
              onDrag({ slug, at: toMoment(event.clientX, own, inOf(segment)), isNear });
            }}
            onPointerUp={() => {
              if (held.current === null) return;
              held.current = null;
              if (isDragged) onSet(slug, drag.at);
              else onPick(slug);
              onDrag(null);
            }}
            onPointerCancel={() => {
              held.current = null;
              onDrag(null);
            }}
          >
            {isDragged && <span class={`desk-mark-time${place > 85 ? " is-late" : ""}`}>{toThousandth(at)}</span>}
          </div>
        );
      })}
    </div>
  );
}
