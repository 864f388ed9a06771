import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { formatClock } from "../../model/clock.ts";
import type { DeskWords } from "../../model/desk.ts";
import { toMedia } from "./playback.ts";

interface StripProps {
  readonly words: DeskWords;
  /** 50 peaks a second of the recording; null: they are not known. */
  readonly peaks: Uint8Array | null;
  readonly now: number;
  readonly onSeek: (at: number) => void;
  /** What stands over a stretch of it. */
  readonly over?: (from: number, to: number) => ComponentChildren;
}

/** Peaks a second, as the server gives them. */
const PEAKS = 50;
/** The near strip shows so much on both sides of the moment, in milliseconds. */
const NEAR = 12_000;

/** The recording's outline: the whole programme with its segments, and what lies around the moment. */
export function Strip({ words, peaks, now, onSeek, over }: StripProps) {
  const { end, segments } = words;
  const own = segments.find(({ in: start, out }) => start <= now && now < out);
  const step = (by: number) => onSeek(Math.min(end, Math.max(0, now + by)));
  return (
    <div class="desk-strip">
      <div
        class="desk-whole"
        role="slider"
        tabIndex={0}
        aria-label="The moment"
        aria-valuemin={0}
        aria-valuemax={Math.round(end / 1000)}
        aria-valuenow={Math.round(now / 1000)}
        aria-valuetext={`${formatClock(now)}${own === undefined ? "" : `, ${own.title}`}`}
        onClick={(event) => {
          const { left, width } = event.currentTarget.getBoundingClientRect();
          onSeek(((event.clientX - left) / width) * end);
        }}
        onKeyDown={(event) => {
          const by = { ArrowLeft: -1000, ArrowRight: 1000, PageUp: -30_000, PageDown: 30_000 }[event.key];
          if (by === undefined) return;
          event.preventDefault();
          step(by);
        }}
      >
        <Outline words={words} peaks={peaks} from={0} to={end} now={now} />
        <ol class="desk-segments" aria-hidden="true">
          {segments.map(({ slug, title, in: start, out, kind }) => (
            <li key={slug} class={`is-${kind}`} style={{ flexGrow: Math.max(1, out - start) }} title={title} />
          ))}
        </ol>
      </div>
      {over !== undefined && <div class="desk-over">{over(0, end)}</div>}
      <div class="desk-near" aria-hidden="true">
        <Outline words={words} peaks={peaks} from={now - NEAR} to={now + NEAR} now={now} />
        {over?.(now - NEAR, now + NEAR)}
      </div>
    </div>
  );
}

interface OutlineProps extends Pick<StripProps, "words" | "peaks" | "now"> {
  readonly from: number;
  readonly to: number;
}

function Outline({ words, peaks, from, to, now }: OutlineProps) {
  const canvas = useRef<HTMLCanvasElement | null>(null);
  useEffect(() => {
    const own = canvas.current;
    const context = own?.getContext("2d");
    if (own === null || !context) return;
    const scale = devicePixelRatio;
    const [width, height] = [own.clientWidth * scale, own.clientHeight * scale];
    if (own.width !== width) own.width = width;
    if (own.height !== height) own.height = height;
    const style = getComputedStyle(own);
    context.clearRect(0, 0, width, height);
    const xOf = (at: number) => ((at - from) / (to - from)) * width;
    context.fillStyle = style.getPropertyValue("--rule");
    for (const cut of words.clock === "aired" ? words.cuts : [])
      context.fillRect(xOf(cut.from), 0, xOf(cut.to) - xOf(cut.from), height);
    context.fillStyle = style.getPropertyValue("--studio");
    if (peaks === null || peaks.length === 0) ruler(context, from, to, xOf, height);
    else
      for (let x = 0; x < width; x += scale) {
        const [a, z] = [x, x + scale].map((edge) => from + (edge / width) * (to - from));
        if (a === undefined || z === undefined || a < 0 || a > words.end || isCut(a, words)) continue;
        const tall = highest(peaks, toMedia(a, words), toMedia(z, words)) * height;
        context.fillRect(x, (height - tall) / 2, scale, Math.max(1, tall));
      }
    context.fillStyle = style.getPropertyValue("--lamp");
    context.fillRect(xOf(now) - scale, 0, 2 * scale, height);
  }, [words, peaks, from, to, now]);
  return <canvas ref={canvas} />;
}

const isCut = (at: number, { clock, cuts }: DeskWords): boolean =>
  clock === "aired" && cuts.some(({ from, to }) => from <= at && at < to);

function highest(peaks: Uint8Array, from: number, to: number): number {
  const first = Math.floor((from / 1000) * PEAKS);
  const last = Math.max(first + 1, Math.ceil((to / 1000) * PEAKS));
  let most = 0;
  for (let n = Math.max(0, first); n < Math.min(last, peaks.length); n++) most = Math.max(most, peaks[n] ?? 0);
  return most / 255;
}

/** A mark for every second or minute, where there is no sound to draw. */
function ruler(
  context: CanvasRenderingContext2D,
  from: number,
  to: number,
  xOf: (at: number) => number,
  height: number,
): void {
  const every = to - from > 120_000 ? 60_000 : 1000;
  for (let at = Math.ceil(from / every) * every; at < to; at += every)
    if (at >= 0) context.fillRect(xOf(at), height * 0.6, 1, height * 0.4);
}
