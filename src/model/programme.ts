import type { CaptionFigures } from "./captions.ts";
import type { Episode } from "./episode.ts";
import type { Level, Place } from "./finding.ts";
import type { FrameRate } from "./timecode.ts";

export const NAME_KINDS = ["person", "place", "organisation", "programme", "vessel"] as const;
export type NameKind = (typeof NAME_KINDS)[number];

/** An entry of the register: a name that the programme spells one way. */
export interface RegisteredName {
  readonly slug: string;
  readonly name: string;
  readonly kind: NameKind;
  readonly role: string | null;
  /** How to say it: `TAM-zin`. */
  readonly say: string | null;
  /** How it gets misspelt or misheard: the whole of it, or one word of it. */
  readonly misspelt: readonly string[];
  /** Markdown. */
  readonly about: string;
  readonly at: Place;
}

/** The lists of words that the editorial checks watch for. */
export const WATCH_LISTS = ["stock", "court", "self-harm", "minors", "graphic", "allegation"] as const;
export type WatchList = (typeof WATCH_LISTS)[number];

/** What the programme adds to a list, and what it takes out of it. */
export interface WatchChange {
  readonly add: readonly string[];
  readonly drop: readonly string[];
}

/** A page written by hand: corrections policy, accessibility statement, contact. */
export interface TextPage {
  readonly slug: string;
  readonly title: string;
  readonly summary: string | null;
  /** Rises in the footer. */
  readonly order: number;
  /** Markdown. */
  readonly body: string;
  readonly at: Place;
}

/** One of the times at which a programme is broadcast. */
export interface Slot {
  /** Local time of day, `18:30`. */
  readonly at: string;
  /** Milliseconds. */
  readonly runs: number;
  /** As people say it: `weeknights`. */
  readonly days: string;
  /** The ending of the ids of its episodes: `late` for `2026-10-05-late`; null: the day's first edition, or any. */
  readonly edition: string | null;
}

/** A picture beside programme.md. */
export interface Poster {
  readonly file: string;
  /** What it shows, for people who can't see it; "" where nobody wrote that. */
  readonly alt: string;
}

export interface Programme {
  readonly title: string;
  /** Who broadcasts it; null where programme.md doesn't say. */
  readonly station: string | null;
  /** BCP 47. */
  readonly language: string;
  /** IANA zone. */
  readonly timezone: string;
  /** Where the site will stand, with a slash at its end; its path is the base path. */
  readonly url: string;
  /** When it is broadcast, as programme.md lists it; none where it doesn't say. */
  readonly slots: readonly Slot[];
  /** Frames a second of the programme's timecode; null where nobody said: then times with frames can't be read. */
  readonly frameRate: FrameRate | null;
  /** Where errors are reported: a mailto or https address; null: nowhere. */
  readonly reports: string | null;
  /** The https address of the station's own editorial code. */
  readonly code?: string;
  /** Origins of other hosts that recordings may stand on: `https://media.example.org`. */
  readonly mediaHosts: readonly string[];
  /** Web addresses that the programme gives on air, as people type them: `tide.example.org/pay`. */
  readonly addresses?: readonly string[];
  /** Editorial checks that have another level here, by name. */
  readonly checks?: Readonly<Record<string, Level | "off">>;
  readonly watch?: Readonly<Partial<Record<WatchList, WatchChange>>>;
  /** What captions are cut to and judged by; left out: the published figures. */
  readonly captions?: CaptionFigures;
  /** Who presents, as in the register: the weave's studio thread. None where programme.md names nobody. */
  readonly presenters: readonly string[];
  /** Shown where the recording has no picture; null: nothing is. */
  readonly poster: Poster | null;
  /** The folder of the station's own templates, from the content folder. */
  readonly own?: string;
  /** Markdown. */
  readonly about: string;
  readonly names: readonly RegisteredName[];
  readonly textPages: readonly TextPage[];
  readonly at: Place;
}

/** A text that stood in an episode until it was reissued. */
export interface EarlierText {
  /** The number of the record's entry that published it. */
  readonly seq: number;
  /** As it was; null where nothing is kept of it, because something in it was withdrawn. */
  readonly episode: Episode | null;
  /** Why it was replaced, Markdown. */
  readonly reason: string | null;
}

/** A record that became part of an episode's. */
export interface MergedRecord {
  readonly name: string;
  readonly text: string;
}

/** An episode with its record. */
export interface ArchivedEpisode extends Episode {
  /** The text of record.jsonl; null: never published. */
  readonly record: string | null;
  /** Records of other copies that became part of it, by the names of their files. */
  readonly merged: readonly MergedRecord[];
  /** Oldest first. */
  readonly earlier: readonly EarlierText[];
}
