import type { TranscriptCue } from "../model/episode.ts";
import type { Place } from "../model/finding.ts";
import type { Programme } from "../model/programme.ts";
import type { LaidEpisode } from "../record/laid.ts";
import type { Figure } from "./figures/line.ts";
import { figuresIn } from "./figures/read.ts";
import type { Lexicon } from "./lexicon.ts";
import { type KnownNames, knownNames } from "./names/known.ts";
import { type NearMiss, nearMisses } from "./names/nearMisses.ts";
import { once } from "./once.ts";
import { type Spoken, spokenIn } from "./speech.ts";
import { likeTopics } from "./structure/likeTopics.ts";
import type { WithdrawnMatters } from "./withdrawn/places.ts";

/** Where a character of a cue's words stands in transcript.vtt: which piece of the cue, and where in the piece's words. */
export type PlaceOfWords = (cue: TranscriptCue, piece: number, offset: number) => Place;

/** What rules that look beyond one episode need of all of them. */
export interface ArchiveSummary {
  /** Every topic as it is spelled, and where it is given first, oldest episode first. */
  readonly topics: ReadonlyMap<string, SeenTopic>;
  /** Those that are one with a topic but for its spelling, in the same order; the topic itself is among them. */
  readonly likeTopic: (topic: string) => readonly (readonly [topic: string, seen: SeenTopic])[];
  /** What was withdrawn anywhere; null: nothing, or it is not asked. */
  readonly withdrawn: WithdrawnMatters | null;
}

interface SeenTopic {
  readonly episode: string;
  readonly at: Place;
  readonly times: number;
}

/** All that a check may look at. */
export interface Subject {
  readonly programme: Programme;
  /** With the corrections of the day laid over it. */
  readonly episode: LaidEpisode;
  /** The local date it was aired, `2026-10-05`. */
  readonly date: string;
  /** The local date that is checked for. */
  readonly day: string;
  readonly lexicon: Lexicon;
  readonly archive: ArchiveSummary;
  readonly spoken: Spoken;
  readonly figures: readonly Figure[];
  readonly known: KnownNames;
  /** What is spelled almost as the register has it. Several checks ask for it. */
  readonly nearMisses: () => readonly NearMiss[];
  /** What is published is never edited: it is corrected, or replaced by a reissue. */
  readonly published: boolean;
  /** Every doubt is told by itself, also where many of one kind would be told as one. */
  readonly each: boolean;
  /** Where words of a cue stand in transcript.vtt; `offset` counts in the words of the piece as first published. */
  readonly placeOf: PlaceOfWords;
}

/** What is the same for every episode of one run. */
export type Surroundings = Pick<Subject, "programme" | "day" | "lexicon" | "archive" | "placeOf" | "known" | "each">;

export function surroundingsOf({
  each = false,
  ...given
}: Omit<Surroundings, "known" | "each"> & Partial<Pick<Surroundings, "each">>): Surroundings {
  return { ...given, each, known: knownNames(given.programme, given.lexicon) };
}

/** An episode to be checked: `laid` with the corrections of the day. */
export function subjectOf(laid: LaidEpisode, around: Surroundings, published = false): Subject {
  const spoken = spokenIn(laid);
  return {
    ...around,
    date: laid.aired.slice(0, 10),
    episode: laid,
    spoken,
    published,
    figures: figuresIn(spoken.sentences),
    nearMisses: once(() => nearMisses({ ...around, spoken })),
  };
}

/** What is known of an archive: its topics, oldest episode first, and what was withdrawn. */
export function summaryOf(
  episodes: readonly {
    readonly id: string;
    readonly topics: readonly { readonly topic: string; readonly at: Place }[];
  }[],
  withdrawn: WithdrawnMatters | null = null,
): ArchiveSummary {
  const topics = new Map<string, { episode: string; at: Place; times: number }>();
  for (const { id, topics: own } of episodes) {
    for (const { topic, at } of own) {
      const seen = topics.get(topic);
      if (seen === undefined) topics.set(topic, { episode: id, at, times: 1 });
      else seen.times += 1;
    }
  }
  const like = once(() => likeTopics([...topics]));
  return { topics, likeTopic: (topic) => like()(topic), withdrawn };
}
