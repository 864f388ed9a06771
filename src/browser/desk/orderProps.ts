import { formatClock } from "../../model/clock.ts";
import type { DeskEdit, DeskSegment } from "../../model/desk.ts";
import type { DeskOrderLine } from "../../model/deskOrder.ts";
import type { Shown } from "../../model/episode.ts";

/** What a row of the running order is told, and what it may ask for. */
export interface OrderActions {
  /** Two seconds before a moment, and after. */
  hear(at: number): void;
  move(slug: string, to: number): void;
  toPause(slug: string, at: number): void;
  toMoment(slug: string): void;
  change(edit: DeskEdit): void;
  /** A new segment begins at the moment. */
  split(slug: string): void;
  pick(slug: string | null): void;
  /** To the row of this number, or the nearest there is. */
  toRow(k: number): void;
}

export interface OrderRowProps {
  /** Its number, from 0. */
  readonly k: number;
  readonly segment: DeskSegment;
  readonly line: DeskOrderLine | undefined;
  /** Its in point as it is wanted. */
  readonly at: number;
  /** A frame, in milliseconds. */
  readonly frame: number;
  readonly isLast: boolean;
  readonly isLocked: boolean;
  /** It is what is heard at the moment. */
  readonly isSaid: boolean;
  /** Its tools are shown. */
  readonly isPicked: boolean;
  readonly hasPeaks: boolean;
  readonly actions: OrderActions;
}

export const SHOWN: Readonly<Record<Shown, string>> = {
  transcript: "Withheld: words alone",
  nothing: "Withheld: nothing shown",
};

/** `3:41.250`, `0:00.000`: an exact moment, so that one stands below the other. */
export const toThousandth = (ms: number): string =>
  `${formatClock(Math.round(ms))}.${String(Math.round(ms) % 1000).padStart(3, "0")}`;
