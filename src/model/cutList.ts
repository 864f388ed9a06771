/** Which recording a cut list is for: the programme as it was broadcast, or the web media file as it is now. */
export const RECORDINGS = ["aired", "web"] as const;
export type Recording = (typeof RECORDINGS)[number];

/** What becomes of a stretch: it stays, it goes, or silence (and a black picture) of the same length takes its place. */
export type Doing = "keep" | "cut" | "silence";

/** A stretch of the source, in whole milliseconds of the source's own time. `to` > `from`. */
export interface ListedStretch {
  readonly does: Doing;
  readonly from: number;
  readonly to: number;
  /** Each reason once; none where it stays. */
  readonly why: readonly string[];
}

/** How the public recording is made from a source. */
export interface CutList {
  readonly source: Recording;
  /** Of the source, in milliseconds. */
  readonly length: number;
  /** In order; each begins where the one before ends, from 0 to `length`. Two in a row never do the same. */
  readonly stretches: readonly ListedStretch[];
  /** How long the public recording runs, in milliseconds. */
  readonly result: number;
}

/** A stretch of the source that goes into the result, and where it begins there, in milliseconds. */
export interface LaidStretch extends ListedStretch {
  readonly at: number;
}

/** The stretches that the result has, silent ones too, each with its place there. */
export function laidStretches({ stretches }: CutList): readonly LaidStretch[] {
  let at = 0;
  return stretches.flatMap((stretch) => {
    if (stretch.does === "cut") return [];
    const laid = { ...stretch, at };
    at += stretch.to - stretch.from;
    return [laid];
  });
}

/** Whether the source can be given as it is. */
export const leavesAll = ({ stretches }: CutList): boolean => stretches.every(({ does }) => does === "keep");
