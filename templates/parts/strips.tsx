import { percent } from "../../src/model/strip.ts";
import type { OrderItem, RunningOrder, FineStrip as Strip } from "../../src/pages/types.ts";
import { lying, standing, type Threads } from "./weave.ts";

const Weave = ({ box, threads }: { readonly box: string; readonly threads: Threads }) => (
  <svg class="weave" aria-hidden="true" viewBox={box} width="100%" height="100%" preserveAspectRatio="none">
    <path class="studio" d={threads.studio} />
    <path class="others" d={threads.others} />
  </svg>
);

interface CaretProps {
  readonly shape: "back" | "up" | "up-small";
  /** The place along the strip, as SVG lengths. */
  readonly x: string;
  readonly y: string;
}

/** The mark of a correction on a strip; its shape is in the page's sprite. */
const Caret = ({ shape, x, y }: CaretProps) => <use class="caret" href={`#caret-${shape}`} x={x} y={y} />;

/** Nothing of it may be heard. */
export const isHeld = ({ withheld, withdrawn }: OrderItem): boolean => withheld || withdrawn;

/** A segment's own piece of the log, standing. */
export function Cell({ item }: { readonly item: OrderItem }) {
  const { seconds, weave, carets, inRecording } = item;
  return (
    <span class="cell">
      <svg class="cell-strip" aria-hidden="true" focusable="false">
        {inRecording && !isHeld(item) && <Weave box={`0 0 20 ${Math.max(seconds, 1)}`} threads={standing(weave)} />}
        {carets.map((at) => (
          <Caret key={at} x="100%" y={percent(at)} shape="back" />
        ))}
      </svg>
    </span>
  );
}

/** The whole programme lying down: a picture of the running order, which says the same in words. In the player a slider lies on it. */
export function LogStrip({ order, lamp }: { readonly order: RunningOrder; readonly lamp: boolean }) {
  const runs = Math.max(order.runs, 1);
  const present = order.items.filter(({ seconds }) => seconds > 0);
  const open = present.filter((item) => !isHeld(item));
  const threads = open.map((item) => lying(item.weave, item.in));
  const current = present.find((item) => item.current);
  return (
    <div class="log-strip">
      <svg class="strip" aria-hidden="true" focusable="false">
        {present.filter(isHeld).map((item) => (
          <Hatched key={item.slug} from={item.in} seconds={item.seconds} runs={runs} />
        ))}
        <Weave
          box={`0 0 ${runs} 20`}
          threads={{ studio: threads.map((t) => t.studio).join(""), others: threads.map((t) => t.others).join("") }}
        />
        {present.slice(1).map((item) => (
          <line
            key={item.slug}
            class="cut"
            x1={percent(item.in / runs)}
            x2={percent(item.in / runs)}
            y1="0"
            y2="100%"
          />
        ))}
        {current !== undefined && (
          <rect class="here" x={percent(current.in / runs)} width={percent(current.seconds / runs)} height="100%" />
        )}
        {present.flatMap((item) =>
          item.carets.map((at) => {
            const x = percent((item.in + at * item.seconds) / runs);
            return <Caret key={x} x={x} y="100%" shape="up" />;
          }),
        )}
      </svg>
      {lamp && <span class="now" hidden data-runs={order.runs} />}
    </div>
  );
}

interface HatchedProps {
  readonly from: number;
  readonly seconds: number;
  readonly runs: number;
}

const Hatched = ({ from, seconds, runs }: HatchedProps) => (
  <rect class="held" x={percent(from / runs)} width={percent(seconds / runs)} height="100%" fill="url(#hatching)" />
);

/** A programme in a list: the same picture, as small as a word. */
export function FineStrip({ strip }: { readonly strip: Strip }) {
  const runs = Math.max(strip.runs, 1);
  return (
    <svg class="fine-strip" aria-hidden="true" focusable="false">
      {strip.held.map(([from, seconds]) => (
        <Hatched key={from} from={from} seconds={seconds} runs={runs} />
      ))}
      <Weave box={`0 0 ${runs} 20`} threads={lying(strip)} />
      {strip.carets.map((at) => (
        <Caret key={at} x={percent(at / runs)} y="100%" shape="up-small" />
      ))}
    </svg>
  );
}
