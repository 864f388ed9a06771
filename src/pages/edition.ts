import { markdownWords, renderMarkdown } from "../derive/markdown.ts";
import { toMedia } from "../derive/timeMap.ts";
import { episodePath, href, segmentPath } from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import { correctionKindName, does } from "../model/correctionKinds.ts";
import { tenths } from "../model/strip.ts";
import type { GivenLaid } from "../record/given.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";
import { episodeTitle } from "./episode.ts";
import { correctionHref } from "./notes.ts";
import { runningOrder } from "./order.ts";
import { quotedWords } from "./quoted.ts";
import type { Setting } from "./site.ts";
import type { Edition, Entry, RunningOrder } from "./types.ts";
import { stripOf } from "./weave.ts";
import { dateShort, dayOf, momentLong, timeShort } from "./words.ts";

/** What lists need of an episode: little, so that an archive of thousands can be listed from it. */
export interface EpisodeSummary {
  readonly id: string;
  /** ISO with offset. */
  readonly aired: string;
  readonly withdrawn: boolean;
  readonly draft: boolean;
  readonly edition: Edition;
  readonly entries: readonly Entry[];
  readonly speakers: readonly string[];
  readonly topics: readonly string[];
  /** For the head of the home page. */
  readonly runs: string;
  readonly order: RunningOrder;
}

export function summaryOf(shown: ShownEpisode, setting: Setting): EpisodeSummary {
  const { episode } = shown;
  const voices = shown.segments
    .flatMap(({ speech }) => speech)
    .flatMap((turn) => (turn.is === "turn" ? [turn.voice] : []));
  return {
    id: episode.id,
    aired: episode.aired,
    withdrawn: episode.withdrawn,
    draft: shown.draft,
    edition: editionOf(shown, setting),
    entries: entriesOf(shown, setting),
    speakers: [...new Set(voices.filter((voice) => voice !== null))],
    topics: [...new Set(shown.segments.flatMap(({ segment }) => (!segment.withdrawn ? segment.topics : [])))],
    runs: formatClock(episode.duration),
    order: runningOrder(shown, setting)("elsewhere"),
  };
}

function editionOf(shown: ShownEpisode, setting: Setting): Edition {
  const { episode } = shown;
  const carets = episode.laid.flatMap(({ clock }) => {
    const at = clock === null ? null : toMedia(clock, episode);
    return at === null ? [] : [tenths(at / 1000)];
  });
  return {
    title: episodeTitle(shown),
    href: href(setting.addresses, episodePath(episode.id)),
    day: dayOf(episode.aired, setting.calendar),
    summary: !episode.withdrawn ? episode.summary : null,
    strip: stripOf(shown, setting.programme.presenters, carets),
    correctionCount: episode.laid.length,
    draft: shown.draft,
  };
}

/** The corrections for the log. */
function entriesOf(shown: ShownEpisode, setting: Setting): readonly Entry[] {
  const segments = new Map(shown.segments.map((own) => [own.segment.slug, own]));
  const wordsOf = quotedWords(shown);
  return shown.episode.laid.map((laid) => {
    const segment = laid.segment === null ? undefined : segments.get(laid.segment);
    return entryOf(laid, segment, wordsOf(laid), shown, setting);
  });
}

function entryOf(
  laid: GivenLaid,
  segment: ShownSegment | undefined,
  words: Entry["words"],
  shown: ShownEpisode,
  setting: Setting,
): Entry {
  const { correction, clock } = laid;
  const { episode } = shown;
  const own = (id: string) => ({ title: id, href: correctionHref(id, setting) });
  const at = clock === null ? null : toMedia(clock, episode);
  const broadcast = `Broadcast ${dayOf(episode.aired, setting.calendar).long}`;
  return {
    ref: correction.id,
    id: `c-${correction.id}`,
    href: correctionHref(correction.id, setting),
    kind: correction.kind,
    kindName: correctionKindName(correction.kind),
    dated: correction.dated,
    day: dateShort(correction.dated, setting.calendar),
    time: timeShort(correction.dated, setting.calendar),
    datedLong: momentLong(correction.dated, setting.calendar),
    about:
      segment === undefined
        ? { title: episodeTitle(shown), href: href(setting.addresses, episodePath(episode.id)) }
        : {
            title: segment.segment.title,
            href: href(setting.addresses, segmentPath(episode.id, segment.segment.slug)),
          },
    where: at === null ? broadcast : `${broadcast}, at ${formatClock(at)}`,
    words,
    gone: does(correction, "takes-away"),
    html: renderMarkdown(correction.note, setting.addresses.base),
    plain: markdownWords(correction.note),
    signed: correction.signed,
    supersedes: correction.supersedes === null ? null : own(correction.supersedes),
    supersededBy: laid.supersededBy === null ? null : own(laid.supersededBy.id),
  };
}
