import type { TellApart } from "../derive/propose/voiceNames.ts";
import { type Timed, toMediaEdge } from "../model/timeMap.ts";
import { clockMs } from "../model/units.ts";

/** Tells voices apart by pieces of the episode's clock. What the recording lacks is too short to tell. @param inMedia by pieces of the media. */
export const tellingApart =
  (inMedia: TellApart, timed: Timed): TellApart =>
  (pieces) =>
    inMedia(
      pieces.map(({ start, end }) => ({
        start: toMediaEdge(clockMs(start), timed),
        end: toMediaEdge(clockMs(end), timed),
      })),
    );
