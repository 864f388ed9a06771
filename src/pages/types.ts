/**
 * What each template is given, page by page; `parts.ts` has what the pages have in common. Times are in seconds of the
 * media file unless a name says otherwise.
 */
import type { CorrectionKind } from "../model/correctionKinds.ts";
import type { SegmentKind } from "../model/episode.ts";
import type {
  CorrectionLine,
  Day,
  FineStrip,
  Link,
  LogBox,
  MarginNote,
  PageBase,
  Player,
  RunningOrder,
  SegmentView,
  Share,
} from "./parts.ts";

export type * from "./parts.ts";

/** How many of each are only proposed. */
export interface Proposals {
  /** People that turns are given to by a guess. */
  readonly speakers: number;
  readonly points: number;
  readonly cuts: number;
}

interface Playable extends PageBase {
  readonly episodeId: string;
  /** Not published yet: shown to those who work on it alone. */
  readonly draft: boolean;
  /** How much of the page nobody has accepted yet; null: nothing, as on every page that is published. */
  readonly proposals: Proposals | null;
  readonly day: Day;
  readonly player: Player;
  readonly order: RunningOrder;
  readonly boxes: readonly LogBox[];
  readonly corrections: readonly CorrectionLine[];
  /** `mailto:…` with episode in the subject; the script puts the moment in. */
  /** null: the programme gives no address for it. */
  readonly report: string | null;
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
  /** The same part of the programme in the editions before and after; null: it is not one that each has once. */
  readonly sameKind: { readonly earlier: Link | null; readonly later: Link | null } | null;
  readonly story: StoryLine | null;
}

/** The way from a segment to its story's page, and to the segments before and after it in the story. */
export interface StoryLine {
  readonly story: Link;
  readonly earlier: Link | null;
  readonly later: Link | null;
}

/** The stories of an episode's segments, by slug; none that is in no story. */
export type EpisodeStories = Readonly<Record<string, StoryLine>>;

/** The way to an edition from its neighbours' pages. */
export interface EditionLink extends Link {
  /** Such as `Monday 5 October 2026`, and `18:30`. */
  readonly day: string;
  readonly time: string;
  /** Those of its segments that are the only one of their kind, by kind; none that is withheld or withdrawn. */
  readonly alone: Readonly<Partial<Record<SegmentKind, Link>>>;
}

/** An episode in a list. */
export interface EpisodeCard {
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
  readonly statement: Statement;
}

/** A place where corrected words stand; the time is null where nothing of it may be heard. */
export interface CorrectionPlace extends Link {
  readonly clock: string | null;
}

/** What the page of a correction says besides. */
export interface Statement {
  /** `5 October 2026`. */
  readonly aired: string;
  /** It concerns the whole episode. */
  readonly isWhole: boolean;
  /** What it concerns is withdrawn, by itself or since. */
  readonly isGone: boolean;
  readonly places: readonly CorrectionPlace[];
  /** The digest of its entry (null: it awaits entry), the record and how to check it; null for a draft. */
  readonly record: { readonly digest: string | null; readonly file: string; readonly page: string } | null;
}

interface Latest {
  readonly runs: string;
  /** There is a recording to play. */
  readonly plays: boolean;
  readonly order: RunningOrder;
}

export interface HomePage extends PageBase {
  readonly latest: (EpisodeCard & Latest) | null;
  readonly earlier: readonly EpisodeCard[];
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
  /** What it is about: `On-air error: Headlines, 5 October 2026`. */
  readonly heading: string;
  readonly entry: Entry;
}

export interface SearchPage extends PageBase {
  /** The folder of the search index, and its tiers in it, newest first. */
  readonly index: { readonly folder: string; readonly tiers: readonly string[] };
  readonly hint: string;
  /** Filters as they are in the archive, so that the form works before the index is loaded. */
  readonly years: readonly string[];
  readonly speakers: readonly string[];
  readonly topics: readonly string[];
  readonly places: readonly string[];
  readonly kinds: readonly { readonly kind: SegmentKind; readonly name: string }[];
}

export interface YearCell {
  /** `2026-10-05`. */
  readonly iso: string;
  readonly day: string;
  readonly month: string;
  readonly cards: readonly EpisodeCard[];
}

export interface YearPage extends PageBase {
  readonly year: string;
  /** `188 editions, 31 corrections`. */
  readonly dateline: string;
  /** The presenters are known: strips tell the studio from everybody else. */
  readonly hasStudio: boolean;
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
    /** The month's own page. */
    readonly href: string;
    readonly weeks: readonly (readonly (YearCell | null)[])[];
    readonly cards: readonly EpisodeCard[];
  }[];
}

/** A correction on a page that shows no words: when, of which kind, and where it stands. */
export interface WalkNote {
  readonly kind: CorrectionKind;
  readonly kindName: string;
  readonly href: string;
  readonly dated: string;
  /** `6 October 2026`. */
  readonly datedLong: string;
}

/** An evening on the page of a month or a name. */
export interface WalkItem {
  readonly day: Day;
  /** When it was on air, `18:30`, where the page has several editions of that day. */
  readonly time: string | null;
  readonly episode: Link;
  readonly draft: boolean;
  /** Those on the whole episode; none on a name's page. */
  readonly corrections: readonly WalkNote[];
  readonly segments: readonly (Link & {
    /** null where the title already says it. */
    readonly kindName: string | null;
    readonly length: string;
    /** The name as it is written there, where the page is called otherwise: another person may be meant. */
    readonly as: string | null;
    readonly corrections: readonly WalkNote[];
  })[];
}

/** Where one may go on from a page of a month or names. */
export interface Ways {
  readonly title: string;
  readonly links: readonly (Link & { readonly count: number | null; readonly current: boolean })[];
}

/** What a month or a name has, newest first. */
export interface WalkPage extends PageBase {
  /** The list or the year that it is one of. */
  readonly up: Link;
  readonly heading: string;
  /** `12 segments in 9 editions since 2024`. */
  readonly dateline: string;
  readonly items: readonly WalkItem[];
  readonly ways: readonly Ways[];
}

/** All names of a kind. */
export interface NamesPage extends PageBase {
  /** `Topics`. */
  readonly heading: string;
  readonly dateline: string;
  /** What is to be known of it. */
  readonly note: string;
  /** By first letter; null where they are so few that all stand together. */
  readonly groups: readonly {
    readonly letter: string | null;
    readonly names: readonly (Link & { readonly count: number })[];
  }[];
  readonly ways: readonly Ways[];
}

/** How an outsider checks a copy of the site. */
export interface RecordPage extends PageBase {
  /** Checksum lists in the format of `sha256sum`, with what they cover. */
  readonly lists: readonly (Link & { readonly covers: string })[];
  /** An episode's record by way of example. */
  readonly example: (Link & { readonly path: string }) | null;
}

export interface TextPageData extends PageBase {
  readonly heading: string;
  readonly summary: string | null;
  readonly html: string;
  readonly here: string;
}

export interface NotFoundPage extends PageBase {}

/** A page of the station's own folder. */
export interface StationPage extends PageBase {
  /** null: its content has one. */
  readonly heading: string | null;
  readonly html: string;
  readonly here: string;
}

/** Each template by name with what it takes. */
export interface PageData {
  readonly home: HomePage;
  readonly episode: EpisodePage;
  readonly segment: SegmentPage;
  readonly corrections: CorrectionsPage;
  readonly correction: CorrectionPage;
  readonly search: SearchPage;
  readonly year: YearPage;
  readonly walk: WalkPage;
  readonly names: NamesPage;
  readonly text: TextPageData;
  readonly record: RecordPage;
  readonly missing: NotFoundPage;
  readonly own: StationPage;
  readonly "order-sheet": { readonly order: RunningOrder };
}
export type PageKind = keyof PageData;

/** A page to be set: which template, at which path of the site (no leading slash), with what. */
export type Page<Kind extends PageKind = PageKind> = {
  readonly [K in Kind]: { readonly kind: K; readonly path: string; readonly page: PageData[K] };
}[Kind];

/** A page of HTML as the templates set it, in the parts that a station's own templates may place. All of it is HTML. */
export interface PageParts {
  /** `<html …>`, alone. */
  readonly root: string;
  /** What stands between `<head>` and `</head>`. */
  readonly head: string;
  /** The first in the body: signs, and the link that skips to the words. */
  readonly opening: string;
  readonly masthead: string;
  /** Classes of `<main>`: which page this is. */
  readonly sheet: string;
  /** What stands in `<main>`, by name, in its order; "" where this page has none of it. */
  readonly main: Readonly<Record<string, string>>;
  readonly footer: string;
}
