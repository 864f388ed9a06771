import type { Span } from "../derive/captioning/lending.ts";
import type { HeardName, Quiet, Recording } from "../derive/propose/recording.ts";
import type { TellApart, VoicesHeard } from "../derive/propose/voiceNames.ts";
import { type Timed, toEpisode, toMediaEdge } from "../model/timeMap.ts";
import { clockMs, mediaMs } from "../model/units.ts";
import type { Division } from "./kinds.ts";

/** Quiets that are so near one another are one: milliseconds. */
const TOUCH = 80;

/** What listening tells, in the episode's clock. @param inMedia, division by milliseconds of the media. @param names by the episode's clock. */
export function recordingHeard(
  inMedia: TellApart,
  division: Division,
  timed: Timed,
  names: readonly HeardName[],
): Recording {
  /** The same pieces are asked for again and again: for segments, for names and for speakers. */
  const told = new Map<string, VoicesHeard>();
  return {
    tellApart(pieces) {
      // What the recording lacks is too short to tell.
      const there = pieces.map((piece) => inMediaOf(piece, timed));
      const key = JSON.stringify(there);
      const heard = told.get(key) ?? inMedia(there);
      told.set(key, heard);
      return heard;
    },
    quiets: quietsIn(division).map((quiet) => inEpisode(quiet, timed)),
    names,
  };
}

const inMediaOf = ({ start, end }: Span, timed: Timed): Span => ({
  start: toMediaEdge(clockMs(start), timed),
  end: toMediaEdge(clockMs(end), timed),
});

/** Pauses, silences and music of the media, in their order and joined where they touch. */
function quietsIn({ stretches, pauses }: Division): readonly Quiet[] {
  const silent = stretches.filter(({ kind }) => kind !== "speech");
  const all = [...pauses.map((pause) => ({ ...pause, kind: "pause" as const })), ...silent];
  all.sort((a, b) => a.start - b.start);
  const quiets: Quiet[] = [];
  for (const { kind, start, end } of all) {
    const music = kind === "music" ? end - start : 0;
    const last = quiets.at(-1);
    const isMore = last !== undefined && start - last.end <= TOUCH;
    const from = isMore ? last.start : start;
    const to = Math.max(end, isMore ? last.end : end);
    if (isMore) quiets.pop();
    quiets.push({
      start: from,
      end: to,
      length: to - from,
      music: music + (isMore ? last.music : 0),
      musicFrom: (isMore ? last.musicFrom : null) ?? (music > 0 ? start : null),
    });
  }
  return quiets;
}

function inEpisode(quiet: Quiet, timed: Timed): Quiet {
  const [start, end] = [toEpisode(mediaMs(quiet.start), timed), toEpisode(mediaMs(quiet.end), timed)];
  // Music before a cut leads to nothing after it.
  const isWhole = end - start === quiet.length;
  const musicFrom = quiet.musicFrom === null || !isWhole ? null : toEpisode(mediaMs(quiet.musicFrom), timed);
  return { ...quiet, start, end, musicFrom };
}
