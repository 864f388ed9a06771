import type { Correction } from "../../model/episode.ts";
import { byEffect } from "../../model/episode.ts";
import { clockMs } from "../../model/units.ts";
import type { LaidEpisode } from "../../record/laid.ts";
import { type Spoken, type Written, writtenSentence } from "../speech.ts";
import type { GivenEpisode, GivenText } from "./places.ts";

/**
 * The words of an episode that are given on the day, spoken and written. What is withdrawn is not in a laid episode.
 * @param spoken all that was said, withheld words too. @param held the places of cues that may not be given: see `heldOn`.
 */
export function givenOf(episode: LaidEpisode, spoken: Spoken, held: ReadonlySet<number>): GivenEpisode {
  const own = { at: episode.at, in: clockMs(0), slug: null };
  const texts = [
    given("title", episode.title, own),
    given("summary", episode.summary, own),
    ...episode.notes.split(/\n\s*\n/).map((paragraph) => given("notes", paragraph, own)),
    ...episode.segments.flatMap((segment) => [
      given("title", segment.title, segment),
      given("summary", segment.summary, segment),
    ]),
    ...episode.laid.map(({ correction, segment }) =>
      given("note", noteWords(correction), { at: correction.place, in: clockMs(0), slug: segment }, correction.id),
    ),
  ];
  return {
    id: episode.id,
    spoken: spoken.words.filter(({ cue }) => !held.has(cue.place)),
    texts: texts.filter(({ words }) => words.length > 0),
  };
}

const given = (
  kind: GivenText["kind"],
  text: string | null,
  where: Written,
  correction: string | null = null,
): GivenText => ({
  kind,
  segment: where.slug,
  correction,
  words: writtenSentence(text ?? "", where).flatMap(({ words }) => words),
});

/** All that a correction's entry shows: its note, and the words that it is about. */
const noteWords = (correction: Correction): string =>
  byEffect(correction, {
    "adds-note": ({ said, note }) => [said ?? "", note],
    "replaces-words": ({ said, now, note }) => [said, now, note],
    "replaces-field": ({ said, now, note }) => [said, now, note],
    "takes-away": ({ note }) => [note],
  }).join("\n\n");
