import { useEffect, useRef, useState } from "preact/hooks";
import { formatClock, formatOver } from "../../model/clock.ts";
import type { DeskEdit } from "../../model/desk.ts";
import { bytesOf } from "./api.ts";
import { useEditing } from "./editing.ts";
import { Fault, Frame } from "./frame.tsx";
import { type Drag, Marks } from "./marks.tsx";
import { OrderCuts } from "./orderCuts.tsx";
import type { OrderActions } from "./orderProps.ts";
import { OrderRow } from "./orderRow.tsx";
import { OrderTools } from "./orderTools.tsx";
import { nearestPause } from "./pause.ts";
import { around, toMedia, usePlayback } from "./playback.ts";
import { between, usePoints } from "./points.ts";
import { Recording } from "./recording.tsx";
import { Strip } from "./strip.tsx";
import { WebFile } from "./webFile.tsx";

const COLUMNS = ["Kind", "Title", "In", "Out", "Ran", "Planned", "Over", "Due"] as const;
const MEANINGS: Readonly<Partial<Record<(typeof COLUMNS)[number], string>>> = {
  Over: "What it ran over, or under, what was planned",
  Due: "When it had to begin for the programme to end with its slot",
};

/** The running order of an episode: planned against actual, and its in points, set by ear. */
export function Order({ id }: { readonly id: string }) {
  const editing = useEditing(id);
  const { words, fault, says } = editing;
  const playback = usePlayback(words);
  const points = usePoints(editing);
  const [peaks, setPeaks] = useState<Uint8Array | null>(null);
  const [picked, setPicked] = useState<string | null>(null);
  const [drag, setDrag] = useState<Drag | null>(null);
  /** The segments that there were before one was made. */
  const known = useRef<ReadonlySet<string> | null>(null);
  const isNaming = useRef(false);
  const isSplit = useRef(false);
  const hasWords = words !== null;
  useEffect(() => {
    if (hasWords) bytesOf(`/api/peaks/${id}`).then(setPeaks, () => undefined);
  }, [id, hasWords]);
  // A segment that was just made is given its title; one that has another address by its title stays picked.
  useEffect(() => {
    const made = words?.segments.find(({ slug }) => known.current?.has(slug) === false);
    if (made === undefined) return;
    known.current = null;
    isNaming.current = isSplit.current;
    isSplit.current = false;
    setPicked(made.slug);
  }, [words]);
  useEffect(() => {
    if (isNaming.current) document.querySelector<HTMLInputElement>(".desk-fields input")?.select();
    isNaming.current = false;
  }, [picked]);
  useUndoKeys((edit) => void points.change(edit), playback.toggle);
  if (words === null) {
    return (
      <Frame title="Running order" id={id} here="order">
        <Fault says={fault} />
      </Frame>
    );
  }
  const { segments, order, published, end } = words;
  const hear = (at: number) => playback.playSpans(around(toMedia(at, words)));
  const focusRow = (k: number) => {
    document.querySelectorAll<HTMLElement>(".desk-in").item(k)?.focus();
  };
  const actions: OrderActions = {
    hear,
    move: points.move,
    toPause(slug, at) {
      const pause = peaks === null ? null : nearestPause(peaks, at, words);
      if (pause !== null) points.set(slug, pause);
    },
    toMoment: (slug) => points.set(slug, playback.now),
    change: (edit) => {
      if (edit.op === "title") known.current = new Set(segments.map(({ slug }) => slug));
      void points.change(edit);
    },
    async split(slug) {
      known.current = new Set(segments.map((segment) => segment.slug));
      isSplit.current = true;
      if (!(await points.change({ op: "splitSegment", segment: slug, at: playback.now }))) isSplit.current = false;
    },
    pick: setPicked,
    toRow: (k) => focusRow(Math.min(Math.max(k, 0), segments.length - 1)),
  };
  const shown = drag !== null && !drag.isNear ? drag.at : playback.now;
  const said = segments.findLastIndex(({ in: start }) => start <= playback.now);
  return (
    <Frame title={words.title} id={id} here="order">
      <Recording words={words} playback={playback} />
      <div class="desk-deck">
        <Strip
          words={words}
          peaks={peaks}
          now={shown}
          onSeek={playback.seek}
          over={(from, to) => (
            <Marks
              segments={segments}
              from={from}
              to={to}
              isNear={to - from < end}
              isLocked={published}
              inOf={points.inOf}
              drag={drag}
              onDrag={(own) => {
                if (own !== null && playback.isPlaying) playback.toggle();
                setDrag(own === null ? null : { ...own, at: between(segments, own.slug, own.at) });
              }}
              onSet={points.set}
              onPick={(slug) => focusRow(segments.findIndex((segment) => segment.slug === slug))}
            />
          )}
        />
        <OrderTools words={words} playback={playback} isSaved={points.isSaved} onEdit={actions.change} />
        <Fault says={fault ?? playback.fault} />
        <p role="status" class="desk-doing">
          {says ?? ""}
        </p>
        {published && (
          <p class="desk-note">
            This episode is published: its running order is shown, and corrected by dated corrections.
          </p>
        )}
      </div>
      <table class="desk-order">
        <caption class="vh">Running order, planned against actual</caption>
        <thead>
          <tr>
            {COLUMNS.map((name) => (
              <th key={name} scope="col" title={MEANINGS[name]}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {segments.map((segment, k) => (
            <OrderRow
              // A new segment's address changes with its title: its row stays.
              key={k}
              k={k}
              segment={segment}
              line={order.lines[k]}
              at={drag?.slug === segment.slug ? drag.at : points.inOf(segment)}
              frame={order.frame}
              isLast={k === segments.length - 1}
              isLocked={published}
              isSaid={said === k}
              isPicked={picked === segment.slug}
              hasPeaks={peaks !== null && peaks.length > 0}
              actions={actions}
            />
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row" colSpan={4}>
              Together
            </th>
            <td>{formatClock(order.total)}</td>
            <td colSpan={3}>
              {order.overSlot === null ? "no slot in programme.md" : `${formatOver(order.overSlot)} against the slot`}
            </td>
          </tr>
        </tfoot>
      </table>
      <OrderCuts words={words} playback={playback} onEdit={actions.change} />
      {!published && <WebFile words={words} playback={playback} onMade={editing.load} />}
    </Frame>
  );
}

/** Ctrl+Z, Ctrl+Y and Ctrl+Space, wherever nothing is being typed. */
function useUndoKeys(edit: (own: DeskEdit) => void, toggle: () => void): void {
  const now = useRef({ edit, toggle });
  now.current = { edit, toggle };
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (!event.ctrlKey && !event.metaKey) return;
      const key = event.key.toLowerCase();
      const isTyping = event.target instanceof HTMLInputElement;
      const act =
        event.code === "Space"
          ? now.current.toggle
          : isTyping
            ? null
            : key === "y" || (event.shiftKey && key === "z")
              ? () => now.current.edit({ op: "redo" })
              : key === "z"
                ? () => now.current.edit({ op: "undo" })
                : null;
      if (act === null) return;
      event.preventDefault();
      act();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);
}
