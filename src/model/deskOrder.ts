import type { Doing } from "./cutList.ts";
import type { Caution, Cut, SegmentKind, Shown } from "./episode.ts";

/** What the desk's page and its server tell each other of the running order. Times in milliseconds of the episode's clock. */

/** A segment planned against actual, in the order of the episode's segments. */
export interface DeskOrderLine {
  readonly planned: number | null;
  readonly actual: number;
  /** Actual less planned; null where nothing was planned. */
  readonly over: number | null;
  /** When it had to begin for the programme to end with its slot; null: no slot is known. */
  readonly backTime: number | null;
  /** How sure its proposed in point is, for people; null: it is no proposal, or that is not known. */
  readonly sureness: string | null;
  /** What it shows while it is withheld; null: it is not. */
  readonly withheld: Shown | null;
  /** The first local date on which it may be shown, and who holds the rights; null: not known. */
  readonly until: string | null;
  readonly holder: string | null;
  readonly cautions: readonly Caution[];
  /** Somebody has listened to its first and last words. */
  readonly edgesHeard: boolean;
}

export interface DeskOrderCut extends Pick<Cut, "from" | "to"> {
  readonly why: string;
  readonly proposed: boolean;
}

export interface DeskOrder {
  /** A frame of the programme, in milliseconds. */
  readonly frame: number;
  /** One for each of the segments. */
  readonly lines: readonly DeskOrderLine[];
  readonly total: number;
  /** The total against the slot; null: no slot is known. */
  readonly overSlot: number | null;
  /** In aired time, whatever the episode's clock. */
  readonly cuts: readonly DeskOrderCut[];
}

/** A stretch that somebody wants out of the web file, in the episode's clock. */
export interface DeskStretch {
  readonly from: number;
  readonly to: number;
  readonly why: string;
}

/** What becomes of the recording. Times in milliseconds of the recording that is there. */
export interface DeskWebFile {
  readonly stretches: readonly {
    readonly does: Doing;
    readonly from: number;
    readonly to: number;
    readonly why: string;
  }[];
  /** How long the web file will be. */
  readonly result: number;
  /** Segments that may not be given and stay in it, with the reason that was written down. */
  readonly kept: readonly { readonly slug: string; readonly because: string }[];
  /** The files that will be made, by their names. */
  readonly files: readonly string[];
  /** Why none can be made here, as a sentence; null: they can. */
  readonly stands: string | null;
}

/**
 * One change to the running order. Cuts by their numbers, segments by their slugs: only that of a new one changes, with its
 * first title.
 */
export type DeskOrderEdit =
  | { readonly op: "title"; readonly segment: string; readonly title: string }
  | { readonly op: "kind"; readonly segment: string; readonly kind: SegmentKind }
  /** `show` null: it is not withheld any more. */
  | { readonly op: "withhold"; readonly segment: string; readonly show: Shown | null }
  /** Until when something is withheld, or for whom; "": that is not known. */
  | { readonly op: "rights"; readonly segment: string; readonly field: "until" | "holder"; readonly value: string }
  | { readonly op: "caution"; readonly segment: string; readonly caution: Caution; readonly isOn: boolean }
  /** Somebody has listened to where its words begin and end, or has not. */
  | { readonly op: "edges"; readonly segment: string; readonly isHeard: boolean }
  /** A new segment begins at a moment inside this one. */
  | { readonly op: "splitSegment"; readonly segment: string; readonly at: number }
  /** The next one becomes part of this one. */
  | { readonly op: "joinSegment"; readonly segment: string }
  | DeskCutEdit;

/** One change to what the recording lacks; moments in aired time, whatever the episode's clock. */
export type DeskCutEdit =
  /** A proposed cut is right as it is. */
  | { readonly op: "cut"; readonly cut: number }
  | { readonly op: "moveCut"; readonly cut: number; readonly from: number; readonly to: number }
  | { readonly op: "addCut"; readonly from: number; readonly to: number; readonly why: string }
  /** The recording has that stretch. */
  | { readonly op: "dropCut"; readonly cut: number };
