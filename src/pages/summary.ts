import { markdownWords, renderMarkdown } from "../derive/markdown.ts";
import { episodePath, href, segmentPath } from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import { correctionKindName, does } from "../model/correctionKinds.ts";
import { tenths } from "../model/strip.ts";
import { toMedia } from "../model/timeMap.ts";
import type { GivenLaid } from "../record/given.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";
import { episodeTitle } from "./episode.ts";
import { recordLinks } from "./history.ts";
import { correctionHref } from "./notes.ts";
import { runningOrder } from "./order.ts";
import { placesOfCorrections } from "./places.ts";
import { quotedWords } from "./quoted.ts";
import type { PageContext } from "./site.ts";
import type { Entry, EpisodeCard, RunningOrder, Statement } from "./types.ts";
import { stripOf } from "./weave.ts";
import { dateLong, dateShort, dayOf, momentLong, timeShort } from "./words.ts";

/** What lists need of an episode: little, so that an archive of thousands can be listed from it. */
export interface EpisodeSummary {
  readonly id: string;
  /** ISO with offset. */
  readonly aired: string;
  readonly withdrawn: boolean;
  readonly draft: boolean;
  readonly card: EpisodeCard;
  readonly entries: readonly Entry[];
  readonly speakers: readonly string[];
  readonly topics: readonly string[];
  readonly places: readonly string[];
  /** For the head of the home page. */
  readonly runs: string;
  readonly plays: boolean;
  readonly order: RunningOrder;
}

export function summaryOf(shown: ShownEpisode, context: PageContext): EpisodeSummary {
  const { episode } = shown;
  const voices = shown.segments
    .flatMap(({ speech }) => speech)
    .flatMap((turn) => (turn.is === "turn" ? [turn.voice] : []));
  return {
    id: episode.id,
    aired: episode.aired,
    withdrawn: episode.withdrawn,
    draft: shown.draft,
    card: cardOf(shown, context),
    entries: entriesOf(shown, context),
    speakers: [...new Set(voices.filter((voice) => voice !== null))],
    topics: [...new Set(shown.segments.flatMap(({ segment }) => (!segment.withdrawn ? segment.topics : [])))],
    places: [...new Set(shown.segments.flatMap(({ segment }) => (!segment.withdrawn ? segment.places : [])))],
    runs: formatClock(episode.duration),
    plays: episode.media.length > 0,
    order: runningOrder(shown, context)("elsewhere"),
  };
}

function cardOf(shown: ShownEpisode, context: PageContext): EpisodeCard {
  const { episode } = shown;
  const carets = episode.laid.flatMap(({ clock }) => {
    const at = clock === null ? null : toMedia(clock, episode);
    return at === null ? [] : [tenths(at / 1000)];
  });
  return {
    title: episodeTitle(shown),
    href: href(context.addresses, episodePath(episode.id)),
    day: dayOf(episode.aired, context.calendar),
    summary: !episode.withdrawn ? episode.summary : null,
    strip: stripOf(shown, context.programme.presenters, carets),
    correctionCount: episode.laid.length,
    draft: shown.draft,
  };
}

/** The corrections for the log. */
function entriesOf(shown: ShownEpisode, context: PageContext): readonly Entry[] {
  const segments = new Map(shown.segments.map((own) => [own.segment.slug, own]));
  const wordsOf = quotedWords(shown);
  const places = placesOfCorrections(shown, context);
  const digests = new Map(shown.history.map(({ correction, digest }) => [correction?.id, digest]));
  const record = recordLinks(shown, context);
  return shown.episode.laid.map((laid) => {
    const segment = laid.segment === null ? undefined : segments.get(laid.segment);
    const { id } = laid.correction;
    return entryOf(laid, segment, wordsOf(laid), shown, context, {
      aired: dateLong(shown.episode.aired, context.calendar),
      isWhole: segment === undefined,
      isGone: shown.episode.withdrawn || segment?.segment.withdrawn === true,
      places: places.get(id) ?? [],
      record: record === null ? null : { ...record, digest: digests.get(id) ?? null },
    });
  });
}

function entryOf(
  laid: GivenLaid,
  segment: ShownSegment | undefined,
  words: Entry["words"],
  shown: ShownEpisode,
  context: PageContext,
  statement: Statement,
): Entry {
  const { correction, clock } = laid;
  const { episode } = shown;
  const own = (id: string) => ({ title: id, href: correctionHref(id, context) });
  const at = clock === null ? null : toMedia(clock, episode);
  const broadcast = `Broadcast ${dayOf(episode.aired, context.calendar).long}`;
  return {
    ref: correction.id,
    id: `c-${correction.id}`,
    href: correctionHref(correction.id, context),
    kind: correction.kind,
    kindName: correctionKindName(correction.kind),
    dated: correction.dated,
    day: dateShort(correction.dated, context.calendar),
    time: timeShort(correction.dated, context.calendar),
    datedLong: momentLong(correction.dated, context.calendar),
    about:
      segment === undefined
        ? { title: episodeTitle(shown), href: href(context.addresses, episodePath(episode.id)) }
        : {
            title: segment.segment.title,
            href: href(context.addresses, segmentPath(episode.id, segment.segment.slug)),
          },
    where: at === null ? broadcast : `${broadcast}, at ${formatClock(at)}`,
    words,
    gone: does(correction, "takes-away"),
    html: renderMarkdown(correction.note, context.addresses.base),
    plain: markdownWords(correction.note),
    signed: correction.signed,
    supersedes: correction.supersedes === null ? null : own(correction.supersedes),
    supersededBy: laid.supersededBy === null ? null : own(laid.supersededBy.id),
    statement,
  };
}
