import type { Draft } from "./correctionDraft.ts";
import type { CorrectionKind } from "./correctionKinds.ts";
import type { DeskOrder, DeskOrderEdit } from "./deskOrder.ts";
import type { Caution, Cut, SegmentKind } from "./episode.ts";

/** What the desk's page and its server tell each other. Times in milliseconds of the episode's clock. */

/** An episode as the evening sees it. `draft`: nothing of it is published. */
export interface DeskEpisode {
  readonly id: string;
  readonly title: string;
  readonly aired: string;
  readonly state: "draft" | "published" | "unreadable";
  readonly proposals: number;
  /** The next thing to do, as a sentence. */
  readonly next: string;
}

export interface DeskTonight {
  readonly programme: string;
  /** The newest first; no more than the last few evenings. */
  readonly episodes: readonly DeskEpisode[];
}

export interface DeskWord {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

export interface DeskCaption {
  /** Its number in the file, from 0. */
  readonly n: number;
  readonly start: number;
  readonly end: number;
  readonly voice: string | null;
  readonly proposed: boolean;
  /** Its words between single blanks; of a sound the text in its brackets too. */
  readonly text: string;
  /** What is heard and not said. */
  readonly isSound: boolean;
  /** It holds more than the words of one voice, such as several voices or tags: it is shown, and edited in the file only. */
  readonly isMixed: boolean;
  readonly words: readonly DeskWord[];
}

export interface DeskSegment {
  readonly slug: string;
  readonly title: string;
  readonly kind: SegmentKind;
  readonly in: number;
  readonly out: number;
  readonly proposed: boolean;
}

/** A stretch that the recording lacks. */
export type DeskCut = Pick<Cut, "from" | "to">;

/** An episode's words, to be worked on. */
export interface DeskWords {
  readonly id: string;
  readonly title: string;
  /** Tells whether the files are still the ones that were seen. */
  readonly version: string;
  /** What is published is shown, and corrected elsewhere. */
  readonly published: boolean;
  readonly end: number;
  readonly clock: "aired" | "media";
  readonly cuts: readonly DeskCut[];
  readonly media: readonly { readonly src: string; readonly type: string }[];
  readonly segments: readonly DeskSegment[];
  readonly order: DeskOrder;
  /** Who may speak: those who do, the presenters, the names of the running order, then the register's people. */
  readonly speakers: readonly string[];
  /** Words a minute past which a caption can't be read. */
  readonly fastest: number;
  readonly captions: readonly DeskCaption[];
  readonly canUndo: boolean;
  readonly canRedo: boolean;
}

/** An episode after a change: of its captions those alone that are others now, in the place of `out` that stood at `from`. */
export interface DeskChanged extends Omit<DeskWords, "captions"> {
  readonly captions: { readonly from: number; readonly out: number; readonly now: readonly DeskCaption[] };
}

/** What somebody sees after a change to what they saw. Captions after it keep their words and get their new numbers. */
export function afterChange({ captions: before }: DeskWords, { captions, ...rest }: DeskChanged): DeskWords {
  const { from, out, now } = captions;
  const by = now.length - out;
  const later = before.slice(from + out);
  const moved = by === 0 ? later : later.map((caption) => ({ ...caption, n: caption.n + by }));
  return { ...rest, captions: out === 0 && by === 0 ? before : [...before.slice(0, from), ...now, ...moved] };
}

/** One change to the words. Captions by their numbers. */
export type DeskEdit =
  /** `isWhole`: somebody has gone on to something else; only then is a caption that holds too much cut into several. */
  | { readonly op: "words"; readonly caption: number; readonly text: string; readonly isWhole: boolean }
  | { readonly op: "split"; readonly caption: number; readonly word: number }
  | { readonly op: "join"; readonly caption: number }
  | { readonly op: "voice"; readonly from: number; readonly to: number; readonly voice: string | null }
  | { readonly op: "accept"; readonly from: number; readonly to: number }
  /** `at` null: the in point is right as it is proposed. */
  | { readonly op: "point"; readonly segment: string; readonly at: number | null }
  /** A finding that warns is let stand, with a reason; `at` as the finding has it. */
  | {
      readonly op: "let";
      readonly rule: string;
      readonly at: number | null;
      readonly why: string;
      readonly by: string;
    }
  /** All words, as a text of turns; `isSure`: much of what is there may go. */
  | { readonly op: "text"; readonly text: string; readonly isSure: boolean }
  | { readonly op: "replace"; readonly find: string; readonly by: string }
  | { readonly op: "names" }
  | DeskOrderEdit
  | { readonly op: "undo" }
  | { readonly op: "redo" };

/** What came of a change. `stale`: the file is another by now; `words` is how it is. */
export type DeskEdited =
  | { readonly is: "done"; readonly words: DeskChanged; readonly says: string | null }
  | { readonly is: "stale"; readonly words: DeskWords }
  | { readonly is: "refused"; readonly says: string };

export interface DeskFinding {
  readonly rule: string;
  readonly level: "blocks" | "warns";
  /** Milliseconds; null: of no moment. */
  readonly at: number | null;
  readonly says: string;
  readonly mend: string;
  /** The caption it is about; null: none. */
  readonly caption: number | null;
  /** Words of the caption and what they would become; null: the mend is another, or the words stand in several captions. */
  readonly change: { readonly was: string; readonly now: string } | null;
}

/** What publishing would do, or did. */
export interface DeskPublish {
  readonly state: "unread" | "blocked" | "refused" | "nothing" | "trial" | "entered";
  readonly refused: string | null;
  readonly findings: readonly DeskFinding[];
  readonly proposals: readonly { readonly what: string; readonly name: string; readonly at: number }[];
  /** Of the texts that the proposals stand in: what somebody confirms. */
  readonly digest: string | null;
  readonly entries: readonly string[];
}

/** A line of the answer to a long piece of work. */
export type DeskProgress =
  | { readonly is: "doing"; readonly says: string }
  | { readonly is: "done"; readonly says: string; readonly to: string | null }
  | { readonly is: "failed"; readonly says: string };

/** What the page of corrections begins with: an episode as it is published now. */
export interface DeskCorrect {
  readonly id: string;
  readonly title: string;
  readonly segments: readonly { readonly slug: string; readonly title: string }[];
  readonly captions: readonly {
    readonly start: number;
    readonly segment: string | null;
    readonly voice: string | null;
    readonly text: string;
  }[];
  readonly kinds: readonly {
    readonly kind: CorrectionKind;
    readonly name: string;
    readonly hint: string;
    readonly meaning: string;
    readonly does: string;
  }[];
  readonly fields: readonly string[];
}

/** A correction as far as it is written; `begun`: when, as ISO 8601. */
export interface DeskDraft {
  readonly begun: string;
  readonly draft: Draft;
}

/** A caption in a passage that is shown before and after. */
export interface DeskRow {
  readonly at: string;
  readonly isTouched: boolean;
  readonly voice: string | null;
  readonly runs: readonly { readonly text: string; readonly isMarked: boolean }[];
}

export type DeskChange =
  | { readonly what: "field"; readonly of: string; readonly before: string; readonly after: string }
  | { readonly what: "note"; readonly says: string }
  | { readonly what: "passages"; readonly before: readonly DeskRow[]; readonly after: readonly DeskRow[] };

/** The words that a correction is about, with a little before and after. `was`: what stood there; null where nothing did. */
export interface WordsConcerned {
  readonly before: string;
  readonly was: string | null;
  readonly words: string;
  readonly after: string;
}

/** A correction as the log of corrections and its feed will have it; `html` is its note. */
export interface DeskPublic {
  readonly log: {
    readonly kindName: string;
    readonly datedLong: string;
    readonly about: string;
    readonly where: string;
    readonly words: WordsConcerned | null;
    readonly html: string;
    readonly signed: string;
  };
  readonly feed: { readonly title: string; readonly html: string; readonly signed: string };
}

/** Where the matter of a withdrawal stands besides, or the words that a correction is about. */
export interface DeskPlace {
  readonly says: string;
  /** The page of the desk where something can be done about it; null: none. */
  readonly href: string | null;
}

export type DeskPreview =
  | { readonly is: "missing"; readonly names: readonly string[] }
  | {
      readonly is: "places";
      readonly places: readonly {
        readonly at: string;
        readonly before: string;
        readonly words: string;
        readonly after: string;
      }[];
    }
  | {
      readonly is: "shown";
      readonly isBlocked: boolean;
      readonly findings: readonly string[];
      /** The correction's file. */
      readonly text: string;
      readonly change: DeskChange | null;
      /** Null where it does nothing that can be shown. */
      readonly public: DeskPublic | null;
      readonly elsewhere: readonly DeskPlace[];
      readonly digest: string;
      /** The draft with the words as they are published, and where they stand. */
      readonly draft: Draft;
    };

/** A figure that was said, for a person to tick. */
export interface DeskFigure {
  /** Milliseconds of the episode's clock. */
  readonly at: number;
  readonly words: string;
  readonly value: string;
  readonly also: string;
}

/** What a second pair of eyes goes through. */
export interface DeskLook {
  readonly figures: readonly DeskFigure[];
  readonly findings: readonly (DeskFinding & { readonly group: string })[];
  /** Each label, what is usually done, and what the audience reads. */
  readonly cautions: readonly {
    readonly caution: Caution;
    readonly label: string;
    readonly usual: string;
    readonly shown: string;
  }[];
  /** The address of the station's own code; null: programme.md names none. */
  readonly code: string | null;
}

/** What an audit came to, as one line. */
export interface DeskAudit {
  readonly isSound: boolean;
  readonly says: string;
}

/** What came of entering a correction. */
export interface DeskEntered {
  /** Its name; null where it was not entered. */
  readonly id: string | null;
  readonly says: readonly string[];
}
