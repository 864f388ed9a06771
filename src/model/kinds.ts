import type { SegmentKind } from "./episode.ts";

const SEGMENT_NAMES: Readonly<Record<SegmentKind, string>> = {
  headlines: "Headlines",
  package: "Package",
  reader: "Reader",
  "two-way": "Two-way",
  interview: "Interview",
  agency: "Agency",
  "round-up": "Round-up",
  break: "Break",
  sport: "Sport",
  weather: "Weather",
  close: "Close",
};
export const segmentKindName = (kind: SegmentKind): string => SEGMENT_NAMES[kind];
