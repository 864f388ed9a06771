import { soundIn } from "../derive/turns.ts";
import type { Addresses } from "../model/address.ts";
import { absolute, correctionPath, episodePath, segmentPath } from "../model/address.ts";
import type { Programme } from "../model/programme.ts";
import { toMedia } from "../model/timeMap.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";

/** What every data file is made with. */
export interface FeedContext {
  readonly programme: Programme;
  readonly addresses: Addresses;
}

/** The episode as data, in the words and with the corrections of the day. Times are seconds of the media file. */
export function episodeJson(shown: ShownEpisode, { programme, addresses }: FeedContext): string {
  const { episode } = shown;
  const value = {
    programme: programme.title,
    id: episode.id,
    url: absolute(addresses, episodePath(episode.id)),
    title: !episode.withdrawn ? episode.title : null,
    aired: episode.aired,
    language: programme.language,
    duration: episode.duration / 1000,
    withdrawn: episode.withdrawn,
    segments: !episode.withdrawn ? shown.segments.map((own) => segmentData(own, shown, addresses)) : [],
    corrections: episode.laid.map(({ correction, segment, clock, supersededBy }) => ({
      id: correction.id,
      url: absolute(addresses, correctionPath(correction.id)),
      dated: correction.dated,
      kind: correction.kind,
      segment,
      at: clock === null ? null : secondsOf(toMedia(clock, episode)),
      note: correction.note.trim(),
      signed: correction.signed,
      supersededBy: supersededBy?.id ?? null,
    })),
  };
  return `${JSON.stringify(value, null, 1)}\n`;
}

const secondsOf = (ms: number | null): number | null => (ms === null ? null : ms / 1000);

function segmentData(own: ShownSegment, shown: ShownEpisode, addresses: Addresses): object {
  const { segment, span, holding, cues } = own;
  const gone = segment.withdrawn;
  return {
    slug: segment.slug,
    url: absolute(addresses, segmentPath(shown.episode.id, segment.slug)),
    kind: segment.kind,
    title: gone ? null : segment.title,
    summary: gone ? null : segment.summary,
    in: span === null ? null : span.from / 1000,
    out: span === null ? null : span.to / 1000,
    by: gone ? [] : segment.by,
    topics: gone ? [] : segment.topics,
    places: gone ? [] : segment.places,
    cautions: segment.cautions,
    withheld: holding.withheld,
    withdrawn: gone,
    cues: cues.map((cue) => {
      const [start, end] = [cue.start, cue.end].map((at) => secondsOf(toMedia(at, shown.episode)));
      const sound = soundIn(cue);
      if (sound !== null) return { start, end, sound };
      return { start, end, parts: cue.pieces.map(({ voice, words }) => ({ voice, words })) };
    }),
  };
}
