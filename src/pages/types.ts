/**
 * What the templates are given: every word, address and number of a page, ready to be set. Addresses are root-relative
 * and already carry the base path; `html` fields hold rendered Markdown, the only markup there is; all else is text.
 * Times are in seconds of the media file unless a name says otherwise.
 */
import type { Caution, CorrectionKind, SegmentKind } from "../model/episode.ts";

export type { Caution, CorrectionKind, SegmentKind };

/** The same on every page. */
export interface Site {
  readonly programme: string;
  readonly station: string;
  readonly language: string;
  /** "The Evening Tide is broadcast on weeknights at 18:30 by Verrin Islands Broadcasting." without the programme's name. */
  readonly slotLine: string;
  /** Absolute, with a slash at its end: for canonical addresses. */
  readonly url: string;
  readonly home: string;
  readonly archive: string;
  readonly corrections: string;
  readonly search: string;
  readonly about: string;
  readonly record: string;
  /** Leaflets in the colophon, in order. */
  readonly leaflets: readonly Link[];
  /** The mailto or https address to report errors at. */
  readonly reports: string;
  /** The Content-Security-Policy that pages carry themselves. */
  readonly policy: string;
  readonly poster: string;
  readonly posterAlt: string;
  readonly assets: {
    readonly style: string;
    readonly mark: string;
    /** The fonts to fetch early. */
    readonly fonts: readonly string[];
    /** Module scripts. */
    readonly player: string;
    readonly search: string;
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
  /** `Package`; null where the title already says it (Headlines, Weather, Close): the look's `kind alone`. */
  readonly kindName: string | null;
  /** To the segment's place on the episode page. */
  readonly href: string;
  /** The in point in seconds; for a segment that the recording lacks, the moment where it would be. */
  readonly in: number;
  /** `1:10`. */
  readonly inClock: string;
  /** Seconds in the media; 0 where the recording lacks it. */
  readonly seconds: number;
  /** `6:15`; for a segment that the recording lacks, how long it was on air. */
  readonly length: string;
  readonly withheld: boolean;
  /** False where the recording does not have it at all (cut). */
  readonly inRecording: boolean;
  readonly weave: Weave;
  /** Places of corrections on the strip, each from 0 to 1. */
  readonly carets: readonly number[];
  readonly correctionCount: number;
  /** The segment whose page this is. */
  readonly current: boolean;
}

/** A running order: a list whose rows are as high as they are long, and the same as a lying strip in the deck. */
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
}

export interface Withheld {
  /** null: not foreseen. */
  readonly until: { readonly iso: string; readonly long: string } | null;
  readonly holder: string | null;
  readonly show: "transcript" | "nothing";
  /** As the recording has it (the player steps over it), or null where it was cut out. */
  readonly from: string | null;
  readonly to: string | null;
  readonly airedFrom: string;
  readonly airedTo: string;
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
  readonly length: string;
  readonly inRecording: boolean;
  readonly by: readonly Link[];
  readonly places: readonly Link[];
  readonly topics: readonly Link[];
  readonly summary: string | null;
  readonly cautions: readonly CautionText[];
  readonly withheld: Withheld | null;
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
}

export interface MediaLink {
  readonly src: string;
  readonly type: string;
}

/** A stretch that the player steps over, because what is there is withheld. */
export interface Skip {
  readonly from: number;
  readonly to: number;
  /** `Withheld until 14 October 2026: Farwater News Agency`. */
  readonly why: string;
}

export interface Deck {
  readonly label: string;
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
  /** Seconds. */
  readonly seconds: number;
  readonly length: string;
  /** From 0 to 1, of all speech in the segment or episode. */
  readonly part: number;
  /** `41%`. */
  readonly percent: string;
}

interface Playable extends PageBase {
  readonly episodeId: string;
  /** Not published yet: shown to those who work on it alone. */
  readonly draft: boolean;
  readonly day: Day;
  readonly deck: Deck;
  readonly order: RunningOrder;
  readonly boxes: readonly LogBox[];
  readonly corrections: readonly CorrectionLine[];
  /** `mailto:…` with episode in the subject; the script puts the moment in. */
  readonly report: string;
  /** Captions, plain text, data. */
  readonly files: readonly { readonly title: string; readonly ending: string; readonly href: string }[];
  /** How to cite, in one sentence, and the address. */
  readonly citation: { readonly text: string; readonly url: string };
  readonly shares: readonly Share[];
}

/** One line of an episode's history. */
export interface HistoryItem {
  readonly time: string;
  /** `6 October 2026, 9:40`. */
  readonly timeLong: string;
  /** `Published`, `On-air error corrected`. */
  readonly what: string;
  /** The correction's page. */
  readonly href: string | null;
  /** Why the text was replaced. */
  readonly reasonHtml: string | null;
  /** The text as it was published then. */
  readonly files: readonly Link[];
  /** The first characters of the entry's digest; null: it awaits entry. */
  readonly digest: string | null;
}

export interface EpisodePage extends Playable {
  /** Oldest first. */
  readonly history: readonly HistoryItem[];
  /** The record as it was published, and the page that says how to check it; null for a draft. */
  readonly record: { readonly file: string; readonly page: string } | null;
  readonly standfirst: string | null;
  readonly notesHtml: string | null;
  /** Notes on the whole episode: page kind, or a withdrawal. */
  readonly headNotes: readonly MarginNote[];
  /** Taken away: no player, no words, the notes alone. */
  readonly withdrawn: boolean;
  readonly segments: readonly SegmentView[];
  readonly earlier: Link | null;
  readonly later: Link | null;
}

export interface SegmentPage extends Playable {
  readonly episode: Link;
  readonly segment: SegmentView;
  readonly outClock: string;
  readonly earlier: Link | null;
  readonly later: Link | null;
}

/** An episode in a list. */
export interface Edition {
  readonly title: string;
  readonly href: string;
  readonly day: Day;
  readonly summary: string | null;
  readonly strip: FineStrip;
  readonly correctionCount: number;
  readonly draft: boolean;
}

/** A correction in the log, and in "latest corrections". */
export interface Entry {
  /** `2026-10-06-1`: unique in the archive. */
  readonly ref: string;
  /** `c-2026-10-06-1`. */
  readonly id: string;
  /** Its own address. */
  readonly href: string;
  readonly kind: CorrectionKind;
  readonly kindName: string;
  readonly dated: string;
  readonly day: string; // `6 Oct`
  readonly time: string; // `9:40`
  readonly datedLong: string;
  /** The segment's title, or the episode's. */
  readonly about: Link;
  /** `Broadcast Monday 5 October 2026, at 3:41`. */
  readonly where: string;
  /** The words concerned, with a little before and after; null where there are none to show. */
  readonly words: {
    readonly before: string;
    readonly was: string | null;
    readonly words: string;
    readonly after: string;
  } | null;
  /** Withdrawn: the words are gone. */
  readonly gone: boolean;
  readonly html: string;
  /** The note without its markup. */
  readonly plain: string;
  readonly signed: string;
  readonly supersedes: Link | null;
  readonly supersededBy: Link | null;
}

export interface HomePage extends PageBase {
  readonly latest: (Edition & { readonly runs: string; readonly order: RunningOrder }) | null;
  readonly earlier: readonly Edition[];
  readonly latestCorrections: readonly Entry[];
  readonly correctionCount: number;
  /** `4,207 editions since 2010.` */
  readonly hint: string;
}

/** A way to see fewer corrections: a page of its own. */
export interface Narrowing {
  readonly name: string;
  readonly kind: CorrectionKind | null;
  /** null: not said on this page. */
  readonly count: number | null;
  readonly href: string;
  readonly current: boolean;
}

export interface CorrectionsPage extends PageBase {
  /** `Corrections`, `Corrections of 2026`, `On-air errors of 2026`. */
  readonly heading: string;
  /** `212 corrections since 3 January 2010`. */
  readonly dateline: string;
  /** All kinds first, then each. */
  readonly kinds: readonly Narrowing[];
  /** All years first, then each, newest first. */
  readonly years: readonly Narrowing[];
  /** Where the page leaves out older ones: how many it shows. */
  readonly newest: number | null;
  readonly feed: string;
  readonly months: readonly { readonly id: string; readonly title: string; readonly entries: readonly Entry[] }[];
}

/** A correction's own page. */
export interface CorrectionPage extends PageBase {
  readonly entry: Entry;
  /** The words in their place, on the segment's or episode's page. */
  readonly place: Link;
}

export interface SearchPage extends PageBase {
  /** The folder of the search index, and its tiers in it, newest first. */
  readonly index: { readonly folder: string; readonly tiers: readonly string[] };
  readonly hint: string;
  /** Filters as they are in the archive, so that the form works before the index is loaded. */
  readonly years: readonly string[];
  readonly speakers: readonly string[];
  readonly topics: readonly string[];
  readonly kinds: readonly { readonly kind: SegmentKind; readonly name: string }[];
}

export interface YearCell {
  /** `2026-10-05`. */
  readonly iso: string;
  readonly day: string;
  readonly month: string;
  readonly editions: readonly Edition[];
}

export interface YearPage extends PageBase {
  readonly year: string;
  /** `188 editions, 31 corrections`. */
  readonly dateline: string;
  readonly years: readonly {
    readonly year: string;
    readonly href: string;
    /** null: not said on this page. */
    readonly count: number | null;
    readonly current: boolean;
  }[];
  /** Short and long names of the weekdays that the sheet has columns for. */
  readonly weekdays: readonly { readonly short: string; readonly long: string }[];
  /** Newest month first; weeks newest first; a cell a weekday, null outside the month. */
  readonly months: readonly {
    readonly id: string;
    readonly long: string;
    readonly short: string;
    readonly weeks: readonly (readonly (YearCell | null)[])[];
    readonly editions: readonly Edition[];
  }[];
}

/** How an outsider checks a copy of the site. */
export interface RecordPage extends PageBase {
  /** Checksum lists in the format of `sha256sum`, with what they cover. */
  readonly lists: readonly (Link & { readonly covers: string })[];
  /** An episode's record by way of example. */
  readonly example: (Link & { readonly path: string }) | null;
}

export interface LeafletPage extends PageBase {
  readonly heading: string;
  readonly summary: string | null;
  readonly html: string;
  readonly here: string;
}

export interface NotFoundPage extends PageBase {}

/** Each template by name with what it takes. */
export interface PageData {
  readonly home: HomePage;
  readonly episode: EpisodePage;
  readonly segment: SegmentPage;
  readonly corrections: CorrectionsPage;
  readonly correction: CorrectionPage;
  readonly search: SearchPage;
  readonly year: YearPage;
  readonly leaflet: LeafletPage;
  readonly record: RecordPage;
  readonly missing: NotFoundPage;
  readonly "order-sheet": { readonly order: RunningOrder };
}
export type PageKind = keyof PageData;

/** A page to be set: which template, at which path of the site (no leading slash), with what. */
export type Page = {
  readonly [K in PageKind]: { readonly kind: K; readonly path: string; readonly page: PageData[K] };
}[PageKind];
