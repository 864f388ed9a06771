import type { SpokenParagraph, SpokenPiece } from "../derive/turns.ts";
import { href, namePath, searchPath, segmentPath } from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import type { NameList } from "../model/nameLists.ts";
import { toMedia, toMediaEdge } from "../model/timeMap.ts";
import type { ClockMs } from "../model/units.ts";
import type { GivenChange, GivenLaid, GivenPiece, GivenRun, Giving } from "../record/given.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";
import { lineOf, markOf, type Numbering, noteOf } from "./notes.ts";
import type { PageContext } from "./site.ts";
import type { Block, CueText, Link, MarginNote, Paragraph, Run, SegmentView, Withheld } from "./types.ts";
import { namesOf } from "./walkEpisode.ts";
import { cautionText, dateLong, kindBeside } from "./words.ts";

/** What a page keeps while it is put together. */
export interface PageState {
  readonly shown: ShownEpisode;
  readonly context: PageContext;
  readonly numbers: Numbering;
  readonly ids: Ids;
  /** The corrections of the episode, by id. */
  readonly laid: ReadonlyMap<string, GivenLaid>;
  /** Words that other pages of the episode have already. */
  readonly plain: PlainWords;
}

/** Ids of paragraphs and sounds on one page. */
interface Ids {
  /** Gives one that the page does not have yet. */
  readonly idFor: (at: ClockMs) => { readonly id: string; readonly seconds: number | null };
  /** Takes some, where all of them are free. */
  readonly take: (ids: readonly string[]) => boolean;
}

/**
 * The words of segments without corrections, as one page of an episode shows them, and the ids in them: where those are
 * free on another page, it shows the very same, and they are set once for both.
 */
export type PlainWords = Map<ShownSegment, { readonly blocks: readonly Block[]; readonly ids: readonly string[] }>;

/** `t=221` from the media time, `aired=321` where the recording lacks it. */
export function idsOf(shown: ShownEpisode): Ids {
  const used = new Set<string>();
  /** Where to go on looking for a free id, by the first one that was looked for: thousands may begin at one moment. */
  const next = new Map<string, number>();
  return {
    idFor(at) {
      const media = toMedia(at, shown.episode);
      const ms = media ?? at;
      const name = media === null ? "aired" : "t";
      const whole = `${name}=${Math.floor(ms / 1000)}`;
      let [id, seconds] = [whole, Math.floor(ms / 1000)];
      if (used.has(id)) {
        let exact = next.get(`${name}=${ms}`) ?? ms;
        while (used.has(`${name}=${exact / 1000}`)) exact++;
        next.set(`${name}=${ms}`, exact + 1);
        [id, seconds] = [`${name}=${exact / 1000}`, exact / 1000];
      }
      used.add(id);
      return { id, seconds: media === null ? null : seconds };
    },
    take(ids) {
      if (ids.some((id) => used.has(id))) return false;
      for (const id of ids) used.add(id);
      return true;
    },
  };
}

export function segmentView(own: ShownSegment, state: PageState): SegmentView {
  const { segment, span } = own;
  const { shown, context } = state;
  const link = (path: string) => href(context.addresses, path);
  const start = toMediaEdge(segment.in, shown.episode);
  const title = own.segment.title;
  const gone = segment.withdrawn;
  const changes = changesById(segment.changes);
  const named = namesOf(own);
  /** To a name's page, where this segment is in it; what is in none is searched for. */
  const to = (list: NameList, name: string, query: Readonly<Record<string, string>>): Link => {
    const page = named[list].find((one) => one.name === name);
    return { title: name, href: link(page === undefined ? searchPath(query) : namePath(list, page.slug, null)) };
  };
  const headNotes = own.corrections.filter(({ marked }) => !marked).map(({ laid }) => headNote(laid, changes, state));
  return {
    slug: segment.slug,
    title,
    kind: segment.kind,
    kindName: kindBeside(segment.kind, title),
    href: link(segmentPath(shown.episode.id, segment.slug)),
    inClock: formatClock(start),
    in: start / 1000,
    proposed: segment.proposed === true,
    length: formatClock(span === null ? segment.out - segment.in : span.to - span.from),
    inRecording: span !== null,
    by: gone ? [] : segment.by.map((name) => to("speakers", name, { speaker: name })),
    places: gone ? [] : segment.places.map((place) => to("places", place, { place })),
    topics: gone ? [] : segment.topics.map((topic) => to("topics", topic, { topic })),
    summary: gone ? null : segment.summary,
    cautions: gone ? [] : segment.cautions.map(cautionText),
    withheld: gone ? null : withheldOf(own, state),
    silent: gone || !own.holding.withheld ? silentIn(own, state) : null,
    blocks: blocksOf(own, state),
    headNotes,
    corrections: own.corrections.map(({ laid, clock }) =>
      lineOf(laid, clock, { page: "segment", isWhole: clock === null }, state),
    ),
  };
}

/** What each correction changed, by its id. */
export const changesById = (changes: readonly GivenChange[]): ReadonlyMap<string, GivenChange> =>
  new Map(changes.toReversed().map((change) => [change.correction.id, change]));

function headNote(laid: GivenLaid, changes: ReadonlyMap<string, GivenChange>, state: PageState): MarginNote {
  state.numbers.firstNote(laid.correction);
  const change = changes.get(laid.correction.id);
  return noteOf(laid, change?.was ?? null, false, state.context, state.numbers);
}

function withheldOf(own: ShownSegment, { shown, context }: PageState): Withheld | null {
  const { segment, holding, span } = own;
  const { rights } = segment;
  if (!holding.withheld || rights === null) return null;
  return {
    until: rights.until === null ? null : { iso: rights.until, long: dateLong(rights.until, context.calendar) },
    holder: rights.holder,
    show: rights.show,
    from: span === null ? null : formatClock(toMediaEdge(segment.in, shown.episode)),
    to: span === null ? null : formatClock(toMediaEdge(segment.out, shown.episode)),
    airedFrom: formatClock(segment.in),
    airedTo: formatClock(segment.out),
    sound: soundOf(own, shown.giving),
  };
}

function soundOf({ segment, span }: ShownSegment, giving: Giving): Withheld["sound"] {
  if (span === null) return "cut";
  if (giving === "off" || giving === "none") return "away";
  return segment.rights?.sound === "silenced" ? "silent" : "stepped";
}

/** A segment that was withdrawn, or may be given again, and that the recording has silence for. */
function silentIn(own: ShownSegment, { shown }: PageState): SegmentView["silent"] {
  const { span } = own;
  if (span === null || shown.episode.media.length === 0 || own.segment.rights?.sound !== "silenced") return null;
  return { from: formatClock(span.from), to: formatClock(span.to) };
}

function blocksOf(own: ShownSegment, state: PageState): readonly Block[] {
  if (own.corrections.length > 0) return newBlocks(own, state);
  const known = state.plain.get(own);
  if (known !== undefined && state.ids.take(known.ids)) return known.blocks;
  const blocks = newBlocks(own, state);
  const ids = blocks.flatMap((block) => (block.is === "sound" ? [block.id] : block.paragraphs.map(({ id }) => id)));
  if (known === undefined) state.plain.set(own, { blocks, ids });
  return blocks;
}

function newBlocks(own: ShownSegment, state: PageState): readonly Block[] {
  const met = new Set<string>();
  return own.speech.map((speech): Block => {
    if (speech.is === "sound") {
      const { id } = state.ids.idFor(speech.cue.start);
      const at = toMedia(speech.cue.start, state.shown.episode);
      return { is: "sound", id, text: speech.text, in: at === null ? null : at / 1000 };
    }
    const { voice } = speech;
    const role = voice === null || met.has(voice) ? null : (state.context.roles.get(voice) ?? null);
    if (voice !== null) met.add(voice);
    return {
      is: "turn",
      speaker: voice === null ? null : { name: voice, role, proposed: speech.proposed === true },
      paragraphs: speech.paragraphs.flatMap(splitAtMarks).map((paragraph) => paragraphOf(paragraph, state)),
    };
  });
}

type Spoken = SpokenPiece<GivenPiece>;

const runsOf = ({ piece }: Spoken): readonly GivenRun[] => piece.runs;
const marksIn = (spoken: Spoken): readonly string[] =>
  runsOf(spoken).flatMap(({ mark }) => (mark === null || mark.occurrence > 1 ? [] : [mark.correction.id]));

/** A paragraph whose cues carry two corrections is split before the second, so that each note stands beside its line. */
function splitAtMarks(paragraph: SpokenParagraph<GivenPiece>): readonly SpokenParagraph<GivenPiece>[] {
  const groups: Spoken[][] = [];
  let marked = new Set<string>();
  for (const spoken of paragraph.pieces) {
    const own = marksIn(spoken);
    const group = groups.at(-1);
    const another = marked.size > 0 && own.some((id) => !marked.has(id));
    if (group === undefined || another) {
      groups.push([spoken]);
      marked = new Set(own);
    } else {
      group.push(spoken);
      for (const id of own) marked.add(id);
    }
  }
  return groups.flatMap((pieces) => {
    const [first, last] = [pieces[0], pieces.at(-1)];
    return first === undefined || last === undefined ? [] : [{ start: first.cue.start, end: last.cue.end, pieces }];
  });
}

function paragraphOf(paragraph: SpokenParagraph<GivenPiece>, state: PageState): Paragraph {
  const { id, seconds } = state.ids.idFor(paragraph.start);
  return {
    id,
    seconds,
    clock: seconds === null ? null : formatClock(seconds * 1000),
    cues: paragraph.pieces.map((spoken) => cueText(spoken, id, state)),
    notes: paragraph.pieces.flatMap((spoken) => notesOf(spoken, state)),
  };
}

function cueText({ cue, piece, index }: Spoken, paragraph: string, { shown, numbers }: PageState): CueText {
  const at = toMedia(cue.start, shown.episode);
  return {
    in: at === null || index > 0 ? null : at / 1000,
    runs: piece.runs.map(
      ({ text, mark }): Run => ({
        text: text.replace(/\s+/g, " "),
        language: piece.language,
        mark: mark === null ? null : markOf(mark, paragraph, numbers),
      }),
    ),
  };
}

function notesOf(spoken: Spoken, { laid: all, context, numbers }: PageState): readonly MarginNote[] {
  return runsOf(spoken).flatMap(({ mark }) => {
    if (mark === null || !numbers.firstNote(mark.correction)) return [];
    const laid = all.get(mark.correction.id);
    return laid === undefined ? [] : [noteOf(laid, mark.was, true, context, numbers)];
  });
}
