import { useEffect, useRef, useState } from "preact/hooks";
import type { DeskEdit, DeskSegment } from "../../model/desk.ts";
import type { Editing } from "./editing.ts";

/** In points as somebody moves them. */
export interface Points {
  /** Where a segment begins: where somebody wants it, or where the file has it. */
  inOf(segment: DeskSegment): number;
  /** Wants an in point elsewhere, as far as those beside it allow: it is sent when nothing follows for a moment. */
  move(slug: string, to: number): void;
  /** The same, sent at once. */
  set(slug: string, to: number): void;
  /** Makes a change after what waits to be sent. */
  change(edit: DeskEdit): Promise<boolean>;
  readonly isSaved: boolean;
}

interface Wanted {
  readonly slug: string;
  readonly at: number;
}

/** Several keys one after the other are one change: it is sent after so long a pause, in milliseconds. */
const PAUSE = 400;

export function usePoints({ words, change }: Editing): Points {
  const [wanted, setWanted] = useState<Wanted | null>(null);
  const unsent = useRef<Wanted | null>(null);
  const timer = useRef(0);
  const segments = words?.segments ?? [];
  const send = async (): Promise<void> => {
    clearTimeout(timer.current);
    const own = unsent.current;
    if (own === null) return;
    unsent.current = null;
    await change({ op: "point", segment: own.slug, at: own.at });
    setWanted((now) => (now === own ? null : now));
  };
  const leaving = useRef(send);
  leaving.current = send;
  useEffect(() => {
    const onLeave = () => void leaving.current();
    addEventListener("pagehide", onLeave);
    return () => removeEventListener("pagehide", onLeave);
  }, []);
  const want = (slug: string, to: number) => {
    if (unsent.current !== null && unsent.current.slug !== slug) void send();
    const own = { slug, at: between(segments, slug, to) };
    unsent.current = own;
    setWanted(own);
    clearTimeout(timer.current);
  };
  return {
    inOf: (segment) => (wanted?.slug === segment.slug ? wanted.at : segment.in),
    move(slug, to) {
      want(slug, to);
      timer.current = window.setTimeout(() => void send(), PAUSE);
    },
    set(slug, to) {
      want(slug, to);
      void send();
    },
    async change(edit) {
      await send();
      return change(edit);
    },
    isSaved: wanted === null,
  };
}

/** The nearest moment that a segment may begin at: after the one before it, and before it ends. */
export function between(segments: readonly DeskSegment[], slug: string, to: number): number {
  const k = segments.findIndex((segment) => segment.slug === slug);
  const [before, own] = [segments[k - 1], segments[k]];
  return Math.round(Math.min(Math.max(to, before === undefined ? 0 : before.in + 1), (own?.out ?? to + 1) - 1));
}
