import { renderMarkdown } from "../derive/markdown.ts";
import { absolute, episodeFilePath, episodePath, fileOf, href, segmentPath } from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import type { SegmentKind } from "../model/episode.ts";
import { grouped } from "../model/grouped.ts";
import { segmentKindName } from "../model/kinds.ts";
import { toMediaEdge } from "../model/timeMap.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";
import { historyOf, recordLinks } from "./history.ts";
import { lineOf, noteOf, numbering } from "./notes.ts";
import { isListed, runningOrder } from "./order.ts";
import { citationOf, filesOf, playerOf, proposalsOf, reportHref, sharesIn } from "./playable.ts";
import { changesById, idsOf, type PageState, type PlainWords, segmentView } from "./segment.ts";
import type { PageContext } from "./site.ts";
import { structuredEpisode, structuredSegment } from "./structured.ts";
import type {
  EditionLink,
  EpisodePage,
  EpisodeStories,
  Link,
  LogBox,
  Page,
  RunningOrder,
  SegmentPage,
  SegmentView,
  StoryLine,
} from "./types.ts";
import { hasPlace } from "./walkEpisode.ts";
import { dayOf, kindBeside, timeOf } from "./words.ts";

/** The episodes aired before and after, for the way on from an episode's page and from those of its segments. */
export interface Neighbours {
  readonly earlier: EditionLink | null;
  readonly later: EditionLink | null;
}

/** The segments of an episode that are the only one of their kind, as the weather is: an edition has its own of these. */
export function aloneOfKind(shown: ShownEpisode): readonly ShownSegment[] {
  if (shown.episode.withdrawn) return [];
  const byKind = grouped(shown.segments.filter(hasPlace), ({ segment }) => segment.kind);
  return [...byKind.values()].flatMap((own) => (own.length === 1 ? own : []));
}

/** All pages of an episode: its own, one a segment, and the small style sheet of its running order. */
export function episodePages(
  shown: ShownEpisode,
  neighbours: Neighbours,
  context: PageContext,
  stories: EpisodeStories = {},
): readonly Page[] {
  const { id } = shown.episode;
  const listed = shown.segments.filter(isListed);
  const order = runningOrder(shown, context);
  const laid = new Map(shown.episode.laid.map((own) => [own.correction.id, own]));
  const whole: Whole = { shown, context, plain: new Map(), laid };
  const alone = new Set(aloneOfKind(shown));
  const segments = listed.map((own, index): Page => {
    const path = segmentPath(id, own.segment.slug);
    const beside = { before: listed[index - 1], after: listed[index + 1] };
    const page = segmentPage(
      own,
      { ...beside, sameKind: alone.has(own) ? neighbours : null, story: stories[own.segment.slug] ?? null },
      order({ segment: own.segment.slug }),
      whole,
    );
    return { kind: "segment", path: fileOf(path), page };
  });
  return [
    { kind: "episode", path: fileOf(episodePath(id)), page: episodePage(whole, neighbours, order("episode")) },
    ...(!shown.episode.withdrawn ? segments : []),
    { kind: "order-sheet", path: episodeFilePath(id, "orderSheet"), page: { order: order("episode") } },
  ];
}

export const episodeTitle = ({ episode }: ShownEpisode): string => (!episode.withdrawn ? episode.title : "Withdrawn");

/** What the pages of an episode have alike. */
interface Whole {
  readonly shown: ShownEpisode;
  readonly context: PageContext;
  readonly plain: PlainWords;
  readonly laid: PageState["laid"];
}

/** A page to be put together. */
const stateOf = (whole: Whole): PageState => ({ ...whole, numbers: numbering(), ids: idsOf(whole.shown) });

function episodePage(whole: Whole, { earlier, later }: Neighbours, order: RunningOrder): EpisodePage {
  const { shown, context } = whole;
  const { episode } = shown;
  const state = stateOf(whole);
  const withdrawn = episode.withdrawn;
  const placed = new Set(shown.segments.flatMap(({ corrections }) => corrections.map(({ laid }) => laid)));
  const ofTheWhole = episode.laid.filter((laid) => !placed.has(laid));
  const changes = changesById(episode.changes);
  const headNotes = ofTheWhole.map((laid) =>
    noteOf(laid, changes.get(laid.correction.id)?.was ?? null, false, context, state.numbers),
  );
  const segments = withdrawn ? [] : shown.segments.filter(isListed).map((own) => segmentView(own, state));
  const day = dayOf(episode.aired, context.calendar);
  return {
    ...common(shown, episodePath(episode.id), episodeTitle(shown), context),
    description: `${shown.giving === "none" ? "Read" : "Play, read"} and search ${context.programme.title} of ${day.long}, with every correction since.`,
    structured: withdrawn ? null : structuredEpisode(shown, context),
    player: playerOf(shown, 0, episode.duration / 1000, context),
    order,
    boxes: episodeBoxes(shown, context),
    report: reportHref(shown, null, context),
    shares: withdrawn ? [] : sharesIn(shown.segments, context),
    proposals: withdrawn ? null : proposalsOf(shown.segments, episode.cuts),
    standfirst: withdrawn ? null : episode.summary,
    notesHtml: withdrawn || episode.notes.trim() === "" ? null : renderMarkdown(episode.notes, context.addresses.base),
    headNotes,
    withdrawn,
    history: historyOf(shown, context),
    record: recordLinks(shown, context),
    segments,
    earlier,
    later,
    corrections: episode.laid.map((laid) =>
      lineOf(laid, laid.clock, { page: "episode", isWhole: !placed.has(laid) }, state),
    ),
  };
}

interface Beside {
  readonly before: ShownSegment | undefined;
  readonly after: ShownSegment | undefined;
  /** The editions in which its kind is looked for. */
  readonly sameKind: Neighbours | null;
  readonly story: StoryLine | null;
}

function segmentPage(own: ShownSegment, beside: Beside, order: RunningOrder, whole: Whole): SegmentPage {
  const { segment } = own;
  const { shown, context } = whole;
  const { episode } = shown;
  const state = stateOf(whole);
  const path = segmentPath(episode.id, segment.slug);
  const title = own.segment.title;
  const view = segmentView(own, state);
  const [from, to] = [toMediaEdge(segment.in, episode), toMediaEdge(segment.out, episode)];
  const today = dayOf(episode.aired, context.calendar).long;
  const hasEditions = context.programme.slots.some(({ edition }) => edition !== null);
  const isTimed = (day: string) => hasEditions || day === today;
  const way = (other: ShownSegment | undefined): Link | null =>
    other === undefined
      ? null
      : { title: other.segment.title, href: href(context.addresses, segmentPath(episode.id, other.segment.slug)) };
  return {
    ...common(shown, path, title, context),
    description:
      view.summary ??
      `From ${context.programme.title} of ${dayOf(episode.aired, context.calendar).long}: ${shown.giving === "none" ? "" : "play it and "}read every word.`,
    structured: structuredSegment(own, shown, context),
    player: playerOf(shown, from / 1000, to / 1000, context),
    order,
    boxes: segmentBoxes(view, beside.story),
    report: reportHref(shown, segment.slug, context),
    shares: sharesIn([own], context),
    proposals: proposalsOf([own], []),
    episode: { title: episode.title, href: href(context.addresses, episodePath(episode.id)) },
    segment: view,
    outClock: formatClock(to),
    earlier: way(beside.before),
    later: way(beside.after),
    sameKind: beside.sameKind === null ? null : sameKindIn(segment.kind, beside.sameKind, isTimed),
    story: beside.story,
    corrections: view.corrections,
  };
}

/** @param isTimed whether the time is told of an edition of that day beside its day: there may be several. */
function sameKindIn(
  kind: SegmentKind,
  { earlier, later }: Neighbours,
  isTimed: (day: string) => boolean,
): NonNullable<SegmentPage["sameKind"]> {
  const wayTo = (edition: EditionLink | null): Link | null => {
    const own = edition?.alone[kind];
    if (edition === null || own === undefined) return null;
    const when = [segmentKindName(kind), edition.day, isTimed(edition.day) ? edition.time : []].flat().join(", ");
    return { title: kindBeside(kind, own.title) === null ? when : `${when}: ${own.title}`, href: own.href };
  };
  return { earlier: wayTo(earlier), later: wayTo(later) };
}

/** What an episode's page and a segment's have alike. */
function common(shown: ShownEpisode, path: string, title: string, context: PageContext) {
  return {
    site: context.site,
    title,
    canonical: absolute(context.addresses, path),
    episodeId: shown.episode.id,
    draft: shown.draft,
    day: dayOf(shown.episode.aired, context.calendar),
    files: filesOf(shown, context),
    citation: citationOf(title, path, shown, context),
  };
}

function episodeBoxes(shown: ShownEpisode, context: PageContext): readonly LogBox[] {
  const { episode } = shown;
  const presenters = context.programme.presenters.filter((name) =>
    shown.segments.some(({ cues }) => cues.some(({ pieces }) => pieces.some(({ voice }) => voice === name))),
  );
  return [
    box("Broadcast", timeOf(episode.aired, context.calendar)),
    box("Runs", formatClock(episode.duration)),
    ...recordBox(shown, context),
    ...(presenters.length === 0
      ? []
      : [box(presenters.length === 1 ? "Presenter" : "Presenters", presenters.join(", "))]),
  ];
}

/** The newest entry of the episode's record. */
function recordBox(shown: ShownEpisode, context: PageContext): readonly LogBox[] {
  const entries = shown.history.filter(({ seq }) => seq !== null).length;
  const to = recordLinks(shown, context);
  return to === null ? [] : [{ label: "Record", entries: [{ text: `entry ${entries}`, href: to.file }] }];
}

const box = (label: string, text: string): LogBox => ({ label, entries: [{ text, href: null }] });

function segmentBoxes(view: SegmentView, story: StoryLine | null): readonly LogBox[] {
  const linked = (label: string, links: readonly Link[]): readonly LogBox[] =>
    links.length === 0 ? [] : [{ label, entries: links.map(({ title, href: to }) => ({ text: title, href: to })) }];
  return [
    box("Kind", segmentKindName(view.kind)),
    box(view.inRecording ? "Runs" : "Ran on air", view.length),
    ...linked("By", view.by),
    ...linked("About", [...view.places, ...view.topics]),
    ...linked("Story", story === null ? [] : [story.story]),
  ];
}
