import { renderMarkdown } from "../derive/markdown.ts";
import { correctionPath, href } from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import { correctionKindName, does, replaces } from "../model/correctionKinds.ts";
import { toMedia } from "../model/timeMap.ts";
import type { ClockMs } from "../model/units.ts";
import type { GivenCorrection, GivenLaid, GivenMark } from "../record/given.ts";
import type { ShownEpisode } from "../record/shown.ts";
import type { PageContext } from "./site.ts";
import type { CorrectionLine, MarginNote, Mark } from "./types.ts";
import { dateBeside, momentLong } from "./words.ts";

/** Numbers the corrections of one page in the order in which they are met, and remembers which have their note. */
export interface Numbering {
  /** The number of a correction on this page; the first asking gives it one. */
  readonly numberOf: (correction: GivenCorrection) => number;
  /** Which mark of a correction this is on the page, from 1. One occurrence within one paragraph is one mark. */
  readonly markNumber: (mark: GivenMark, paragraph: string) => number;
  /** True the first time that it is asked for a correction. */
  readonly firstNote: (correction: GivenCorrection) => boolean;
}

export function numbering(): Numbering {
  const numbers = new Map<string, number>();
  const noted = new Set<string>();
  const marks = new Map<string, Map<string, number>>();
  return {
    numberOf({ id }) {
      const number = numbers.get(id) ?? numbers.size + 1;
      numbers.set(id, number);
      return number;
    },
    markNumber({ correction: { id }, occurrence }, paragraph) {
      const places = marks.get(id) ?? new Map<string, number>();
      const place = `${occurrence} ${paragraph}`;
      const number = places.get(place) ?? places.size + 1;
      marks.set(id, places.set(place, number));
      return number;
    },
    firstNote({ id }) {
      const first = !noted.has(id);
      noted.add(id);
      return first;
    },
  };
}

export const correctionHref = (id: string, context: PageContext): string => href(context.addresses, correctionPath(id));

/** @param paragraph the id of the paragraph that it stands in. */
export function markOf(mark: GivenMark, paragraph: string, numbers: Numbering): Mark {
  const { correction, was } = mark;
  const number = numbers.numberOf(correction);
  const place = numbers.markNumber(mark, paragraph);
  return {
    number,
    kind: correction.kind,
    kindName: correctionKindName(correction.kind),
    id: place === 1 ? `mark-${number}` : `mark-${number}-${place}`,
    noteId: `note-${number}`,
    was,
  };
}

/** The note of a correction. `marked`: its words are marked on this page; `was` as first published, if replaced. */
export function noteOf(
  laid: GivenLaid,
  was: string | null,
  marked: boolean,
  context: PageContext,
  numbers: Numbering,
): MarginNote {
  const { correction, supersededBy } = laid;
  const number = numbers.numberOf(correction);
  const { kind } = correction;
  const replaced = replaces(correction);
  return {
    number,
    id: `note-${number}`,
    markId: marked ? `mark-${number}` : null,
    kind,
    kindName: correctionKindName(kind),
    dated: correction.dated,
    datedLong: momentLong(correction.dated, context.calendar),
    html: renderMarkdown(correction.note, context.addresses.base),
    signed: correction.signed,
    ref: correction.id,
    href: correctionHref(correction.id, context),
    was: replaced ? (was ?? correction.said) : null,
    now: replaced ? correction.now : null,
    supersededBy:
      supersededBy === null ? null : { title: supersededBy.id, href: correctionHref(supersededBy.id, context) },
  };
}

/** What a page is about, and whether a correction concerns all of it. */
interface Concern {
  readonly page: "episode" | "segment";
  readonly isWhole: boolean;
}

interface OnPage {
  readonly shown: ShownEpisode;
  readonly context: PageContext;
  readonly numbers: Numbering;
}

/** The line that leads to a correction's note on this page. */
export function lineOf(
  laid: GivenLaid,
  clock: ClockMs | null,
  concern: Concern,
  { shown, context, numbers }: OnPage,
): CorrectionLine {
  const { correction } = laid;
  const at = clock === null ? null : toMedia(clock, shown.episode);
  return {
    kind: correction.kind,
    kindName: correctionKindName(correction.kind),
    href: `#note-${numbers.numberOf(correction)}`,
    clock: at === null ? null : formatClock(at),
    dated: correction.dated,
    datedShort: dateBeside(correction.dated, shown.date.slice(0, 4), context.calendar),
    datedLong: momentLong(correction.dated, context.calendar),
    says: saidFirst(correction, concern),
  };
}

function saidFirst(correction: GivenCorrection, { page, isWhole }: Concern): string | null {
  if (does(correction, "takes-away"))
    return isWhole || page === "segment" ? `The ${page} is withdrawn` : "A segment is withdrawn";
  return isWhole ? `${correctionKindName(correction.kind)} on the whole ${page}` : null;
}
