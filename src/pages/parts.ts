/**
 * What the templates are given: every word, address and number of a page, ready to be set. Addresses are root-relative
 * and already carry the base path; `html` fields hold rendered Markdown, the only markup there is; all else is text.
 * Times are in seconds of the media file unless a name says otherwise.
 */
import type { CorrectionKind } from "../model/correctionKinds.ts";
import type { Caution, SegmentKind } from "../model/episode.ts";

export type { Caution, CorrectionKind, SegmentKind };

/** The same on every page. */
export interface Site {
  readonly programme: string;
  /** null where programme.md doesn't say. */
  readonly station: string | null;
  readonly language: string;
  /** "The Evening Tide is broadcast on weeknights at 18:30 by Verrin Islands Broadcasting." without the programme's name; null: neither a slot nor a station is known. */
  readonly slotLine: string | null;
  /** Absolute, with a slash at its end: for canonical addresses. */
  readonly url: string;
  readonly home: string;
  readonly archive: string;
  readonly corrections: string;
  readonly search: string;
  /** The lists of names. */
  readonly speakers: string;
  readonly topics: string;
  readonly places: string;
  readonly stories: string;
  readonly record: string;
  /** The terms of the work of others that the site holds. */
  readonly notices: string;
  /** What the programme says of itself, then the pages written by hand, in the order of the footer. */
  readonly textPages: readonly Link[];
  /** The feeds of the whole programme, by what they bring. */
  readonly follow: readonly Link[];
  /** The mailto or https address to report errors at; null: none is given. */
  readonly reports: string | null;
  /** The Content-Security-Policy that pages carry themselves. */
  readonly policy: string;
  /** Shown where a recording has no picture; null: nothing is. */
  readonly poster: { readonly src: string; readonly alt: string } | null;
  readonly assets: {
    readonly style: string;
    /** The rules for paper alone: a screen does not wait for them. */
    readonly print: string;
    readonly mark: string;
    /** The fonts to fetch early. */
    readonly fonts: readonly string[];
    /** Module scripts. */
    readonly player: string;
    readonly search: string;
    /** What makes quotations: the player's script fetches it when words are selected, and its style sheet with it. */
    readonly quote: string;
    readonly quoteStyle: string;
    readonly searchStyle: string;
    /** What counts segments beside the filters: the search's script fetches it. */
    readonly counts: string;
    /** What suggests another word for a misspelt one: the search's script fetches it. */
    readonly suggest: string;
  };
}

export interface Link {
  readonly title: string;
  readonly href: string;
}

/** What every page carries for its head. */
export interface PageBase {
  readonly site: Site;
  /** For `<title>`, without the programme's name. */
  readonly title: string;
  readonly description: string;
  /** Absolute. */
  readonly canonical: string;
  /** schema.org JSON-LD, safe inside a script element; null where there is nothing to say. */
  readonly structured: string | null;
  /** The same matter in other forms: feeds, data. */
  readonly alternates?: readonly (Link & { readonly type: string })[];
}

export interface Day {
  /** `2026-10-05`, or with time and offset: for `datetime`. */
  readonly iso: string;
  /** `Monday 5 October 2026`. */
  readonly long: string;
  /** `Mon`, `5`, `Oct`, `2026`. */
  readonly weekday: string;
  readonly day: string;
  readonly month: string;
  readonly year: string;
}

/** One thread of the weave is a list of blocks, [start, length] in seconds from the strip's start. */
export interface Weave {
  readonly studio: readonly (readonly [number, number])[];
  readonly others: readonly (readonly [number, number])[];
}

/** A whole programme in a small strip. */
export interface FineStrip extends Weave {
  /** Seconds. */
  readonly runs: number;
  /** Where something is withheld, [start, length]. */
  readonly held: readonly (readonly [number, number])[];
  /** The corrections' places, in seconds. */
  readonly carets: readonly number[];
}

export interface OrderItem {
  readonly slug: string;
  readonly title: string;
  readonly kind: SegmentKind;
  /** `Package`; null where the title already says it (Headlines, Weather, Close): the class is `kind alone`. */
  readonly kindName: string | null;
  /** To the segment's place on the episode page. */
  readonly href: string;
  /** The in point in seconds; for a segment that the recording lacks, the moment where it would be. */
  readonly in: number;
  /** `1:10`. */
  readonly inClock: string;
  /** The in point is a guess that nobody has accepted. Never in what is published. */
  readonly proposed: boolean;
  /** Seconds in the media; 0 where the recording lacks it. */
  readonly seconds: number;
  /** `6:15`; for a segment that the recording lacks, how long it was on air. */
  readonly length: string;
  readonly withheld: boolean;
  readonly withdrawn: boolean;
  /** False where the recording does not have it at all (cut). */
  readonly inRecording: boolean;
  readonly weave: Weave;
  /** Places of corrections on the strip, each from 0 to 1. */
  readonly carets: readonly number[];
  readonly correctionCount: number;
  /** The segment whose page this is. */
  readonly current: boolean;
}

/** A running order: a list whose rows are as high as they are long, and the same as a lying strip in the player. */
export interface RunningOrder {
  readonly items: readonly OrderItem[];
  /** Seconds. */
  readonly runs: number;
  readonly endClock: string;
  /** The small style sheet that gives the rows their `--dur` and `--phase`; one an episode. */
  readonly sheet: string;
}

/** A piece of a cue's words. */
export interface Run {
  readonly text: string;
  /** BCP 47 where it differs from the programme's. */
  readonly language: string | null;
  /** The correction that marks these words. */
  readonly mark: Mark | null;
}

export interface Mark {
  /** Counts through the page from 1. */
  readonly number: number;
  readonly kind: CorrectionKind;
  /** `On-air error`. */
  readonly kindName: string;
  /** `mark-1` and `note-1`: ids on this page; a mark on further places of one correction has the id `mark-1-2`. */
  readonly id: string;
  readonly noteId: string;
  /** What stood there as first published (transcript kind); null where the words stand. */
  readonly was: string | null;
}

export interface CueText {
  /** Start in seconds, three decimals; null where the recording lacks it. */
  readonly in: number | null;
  readonly runs: readonly Run[];
}

export interface MarginNote {
  readonly number: number;
  readonly id: string;
  readonly markId: string | null;
  readonly kind: CorrectionKind;
  readonly kindName: string;
  readonly dated: string;
  /** `6 October 2026, 9:40`. */
  readonly datedLong: string;
  readonly html: string;
  readonly signed: string;
  /** `2026-10-06-1` and its own page. */
  readonly ref: string;
  readonly href: string;
  readonly was: string | null;
  readonly now: string | null;
  /** Set when a later correction took this one's place. */
  readonly supersededBy: Link | null;
}

export interface Paragraph {
  /** Stable: `t=221` from the media time; `aired=321` where the recording lacks it. Unique on the page. */
  readonly id: string;
  /** The clock beside it: `3:41`; null where the recording lacks it. */
  readonly clock: string | null;
  /** Whole seconds, for the stamp's `#t=221`; null likewise. */
  readonly seconds: number | null;
  readonly cues: readonly CueText[];
  readonly notes: readonly MarginNote[];
}

export type Block =
  | { readonly is: "turn"; readonly speaker: Speaker | null; readonly paragraphs: readonly Paragraph[] }
  | { readonly is: "sound"; readonly id: string; readonly text: string; readonly in: number | null };

export interface Speaker {
  readonly name: string;
  /** At the first turn in a segment: `reporter`. */
  readonly role: string | null;
  /** A guess that nobody has accepted. Never in what is published. */
  readonly proposed: boolean;
}

export interface Withheld {
  /** null: not foreseen. */
  readonly until: { readonly iso: string; readonly long: string } | null;
  readonly holder: string | null;
  readonly show: "transcript" | "nothing";
  /** Where the recording would have it, or null where it was cut out. */
  readonly from: string | null;
  readonly to: string | null;
  readonly airedFrom: string;
  readonly airedTo: string;
  /** What became of its sound: `away` where the whole recording is not given. */
  readonly sound: "cut" | "silent" | "stepped" | "away";
}

export interface CautionText {
  readonly caution: Caution;
  readonly label: string;
  /** One sentence for the public. */
  readonly says: string;
}

export interface SegmentView {
  readonly slug: string;
  readonly title: string;
  readonly kind: SegmentKind;
  readonly kindName: string | null;
  /** The segment's own page. */
  readonly href: string;
  readonly inClock: string;
  readonly in: number;
  /** The in point is a guess that nobody has accepted. Never in what is published. */
  readonly proposed: boolean;
  readonly length: string;
  readonly inRecording: boolean;
  readonly by: readonly Link[];
  readonly places: readonly Link[];
  readonly topics: readonly Link[];
  readonly summary: string | null;
  readonly cautions: readonly CautionText[];
  readonly withheld: Withheld | null;
  /** Where the recording is silent instead of this segment (`4:22`), though nothing more withholds it; null: nowhere. */
  readonly silent: { readonly from: string; readonly to: string } | null;
  /** Empty where the words may not be shown. */
  readonly blocks: readonly Block[];
  /** Notes that no words on this page carry: page kind, or a note on the whole segment. Shown at the segment's head. */
  readonly headNotes: readonly MarginNote[];
  readonly corrections: readonly CorrectionLine[];
}

/** For the summary box of a page and the line at a segment's head. */
export interface CorrectionLine {
  readonly kind: CorrectionKind;
  readonly kindName: string;
  /** To the note on this page. */
  readonly href: string;
  /** `3:41`, null for the whole segment or episode. */
  readonly clock: string | null;
  readonly dated: string;
  /** `6 October`, with the year where it isn't the episode's. */
  readonly datedShort: string;
  readonly datedLong: string;
  /** What must be read before one reads on, `A segment is withdrawn`; null: it is told at its words, in good time. */
  readonly says: string | null;
}

export interface MediaLink {
  readonly src: string;
  readonly type: string;
}

/** A stretch that the player steps over, because what is there is withheld, or silence. */
export interface Skip {
  readonly from: number;
  readonly to: number;
  /** `Withheld until 14 October 2026: Farwater News Agency`. */
  readonly why: string;
}

/** A segment that the recording has, as the player's script is given it. */
export interface Chapter {
  readonly title: string;
  readonly from: number;
  readonly to: number;
  /** As its row in the running order leads. */
  readonly href: string;
  /** Why it is not heard; null: it is. */
  readonly held: "withheld" | "withdrawn" | null;
}

export interface Player {
  readonly label: string;
  /**
   * `whole`: the media stand in the page for everybody. `stepped`: only the script may be given them, because it steps
   * over what they hold and may not be given. `off`: there are none, because they hold what was withdrawn.
   * `none`: there never were any.
   */
  readonly giving: "whole" | "stepped" | "off" | "none";
  /** The recording has a picture. */
  readonly hasPicture: boolean;
  readonly media: readonly MediaLink[];
  readonly captions: string;
  readonly captionsLabel: string;
  readonly chapters: string;
  readonly text: string;
  readonly skips: readonly Skip[];
  /** Where the page's own stretch begins and ends, in seconds: the segment's, or the whole. */
  readonly from: number;
  readonly to: number;
}

/** A label and words, with an optional link: the ruled boxes under a title. */
export interface LogBox {
  readonly label: string;
  readonly entries: readonly { readonly text: string; readonly href: string | null }[];
}

export interface Share {
  readonly who: string;
  /** The page of who it is; null: there is none. */
  readonly href: string | null;
  /** Some of it is a guess that nobody has accepted. Never in what is published. */
  readonly proposed: boolean;
  /** Seconds. */
  readonly seconds: number;
  readonly length: string;
  /** From 0 to 1, of all speech in the segment or episode. */
  readonly fraction: number;
  /** `41%`. */
  readonly percent: string;
}
