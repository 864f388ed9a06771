import type { SiteDay } from "../build/day.ts";
import type { Progress } from "../build/progress.ts";
import { wordPlace } from "../checks/doubts.ts";
import { spokenIn } from "../checks/speech.ts";
import type { Surroundings } from "../checks/subject.ts";
import { hintsOf, mayStandIn } from "../checks/withdrawn/files.ts";
import { givenOf } from "../checks/withdrawn/given.ts";
import { placesIn, type SamePlace, type WithdrawnMatters } from "../checks/withdrawn/places.ts";
import type { Acceptance } from "../model/episode.ts";
import type { Place } from "../model/finding.ts";
import type { ArchivedEpisode } from "../model/programme.ts";
import type { Timed } from "../model/timeMap.ts";
import { type EpisodeFolder, readTexts } from "../read/index.ts";
import { episodeOn } from "../record/day.ts";
import { heldOn } from "../record/held.ts";

/** A place where a withdrawn matter stands, with what must be known to do something about it. */
export interface PlaceElsewhere {
  readonly place: SamePlace;
  /** Where in the content. Asked for only where it is told: the transcript is read once more for it. */
  at(): Place;
  readonly published: boolean;
  readonly timed: Timed;
  readonly accepted: readonly Acceptance[];
}

/** What was looked through. */
export interface ElsewhereResult {
  /** The likeliest first, of one likelihood the newest. */
  readonly places: readonly PlaceElsewhere[];
  /** How many episodes. */
  readonly episodes: number;
  /** Ids of those that could not be read. */
  readonly unread: readonly string[];
}

/** Where to look, and how. */
export interface Search {
  readonly content: string;
  readonly folders: readonly EpisodeFolder[];
  /** An episode as it is read; null where it can't be. */
  read(folder: EpisodeFolder): ArchivedEpisode | null;
  readonly day: SiteDay;
  readonly around: Surroundings;
  readonly progress: Progress;
}

/**
 * Every place in the episodes of `folders` where withdrawn matters stand. The files of each are looked through as text
 * first, and only those in which something may stand are read: of a large archive a few.
 */
export function findElsewhere(withdrawn: WithdrawnMatters, search: Search): ElsewhereResult {
  const { content, folders, progress, day, around } = search;
  const hints = hintsOf(withdrawn.index.matters, withdrawn.language.stems);
  const isOwn = (id: string) => withdrawn.index.matters.some(({ from }) => from.episode === id);
  const [places, unread]: [PlaceElsewhere[], string[]] = [[], []];
  progress.begin(folders.length);
  for (const folder of folders) {
    const files = isOwn(folder.id) ? null : readTexts(content, folder);
    if (files === null || files.some((file) => mayStandIn(file, hints))) {
      const episode = search.read(folder);
      if (episode === null) unread.push(folder.id);
      else places.push(...placesOf(episode, withdrawn, day, around));
    }
    progress.done(1);
  }
  progress.end();
  places.sort((a, b) => b.place.score - a.place.score || (a.place.episode < b.place.episode ? 1 : -1));
  return { places, episodes: folders.length, unread };
}

function placesOf(
  episode: ArchivedEpisode,
  withdrawn: WithdrawnMatters,
  day: SiteDay,
  around: Surroundings,
): readonly PlaceElsewhere[] {
  const then = episodeOn(episode, day.until);
  const given = givenOf(then.episode, spokenIn(then.episode), heldOn(then, day.date).cues);
  const { clock, cuts, accepted = [] } = episode;
  return placesIn(withdrawn, given).flatMap((place) => {
    const [first] = place.words;
    if (first === undefined) return [];
    return [{ place, at: () => wordPlace(first, around), published: !then.draft, timed: { clock, cuts }, accepted }];
  });
}
