import { does } from "../model/correctionKinds.ts";
import { byEffect, type Correction } from "../model/episode.ts";
import type { GivenCorrection, GivenLaid } from "./given.ts";
import type { Held } from "./held.ts";
import type { LaidCorrection, LaidCue, LaidEpisode } from "./laid.ts";
import { quotes, type Spoken, type WordsHeld, wordsHeld } from "./quotes.ts";

/** What stands in the place of a note that repeats what may not be given. */
export const HELD_NOTE = "This note repeats words that are withheld, and is withheld with them.";
export const GONE_NOTE = "This note was about what has been withdrawn since, and went with it.";

/** The corrections of a text as the public may have them. `silent`: the slugs of segments whose words may not be given. */
export function giveCorrections(episode: LaidEpisode, held: Held, silent: ReadonlySet<string>): readonly GivenLaid[] {
  const words = wordsHeld(held.cues.size === 0 ? [] : episode.cues.map(spokenIn), held.cues);
  const isGiven = new Set(episode.cues.flatMap(({ place }) => (held.cues.has(place) ? [] : [place])));
  const given = episode.laid.map((laid) =>
    giveOne(laid, speaksOfHeld(laid, episode, { held, silent, isGiven }), words),
  );
  const byId = new Map(given.map((correction) => [correction.id, correction]));
  return episode.laid.flatMap(({ clock, segment, supersededBy }, index): readonly GivenLaid[] => {
    const correction = given[index];
    const later = supersededBy === null ? null : (byId.get(supersededBy.id) ?? null);
    return correction === undefined ? [] : [{ correction, clock, segment, supersededBy: later }];
  });
}

const spokenIn = ({ place, pieces }: LaidCue): Spoken => ({
  place,
  now: pieces.map(({ words }) => words).join(" "),
  was: pieces.map(({ runs }) => runs.map(({ text, mark }) => mark?.was ?? text).join("")).join(" "),
});

interface Silent {
  readonly held: Held;
  readonly silent: ReadonlySet<string>;
  /** The places of all other cues. */
  readonly isGiven: ReadonlySet<number>;
}

/** Whether a correction is about words that may not be given, and about no others. */
function speaksOfHeld(
  { correction, touches }: LaidCorrection,
  episode: LaidEpisode,
  { held, silent, isGiven }: Silent,
): boolean {
  if (held.cues.size === 0 && silent.size === 0) return false;
  if (touches.length > 0) return touches.every((place) => !isGiven.has(place));
  if (correction.segment !== null) return silent.has(correction.segment);
  const { at } = correction;
  return at !== null && episode.cues.some((cue) => held.cues.has(cue.place) && cue.start <= at && at < cue.end);
}

function giveOne({ correction, noteHidden }: LaidCorrection, isHeld: boolean, words: WordsHeld): GivenCorrection {
  const { id, dated, kind, segment, signed, supersedes, note, place } = correction;
  const { field, said, now } = fieldsOf(correction);
  // A title or a summary is the station's own, and is given with the segment.
  const isOfWords = !does(correction, "replaces-field");
  return {
    id,
    dated,
    kind,
    segment,
    signed,
    supersedes,
    field,
    said: isHeld && isOfWords ? null : said,
    now: isHeld && isOfWords ? null : now,
    note: noteHidden ? GONE_NOTE : quotes(note, isHeld, words) ? HELD_NOTE : note,
    place,
  };
}

const fieldsOf = (correction: Correction) =>
  byEffect<Pick<GivenCorrection, "field" | "said" | "now">>(correction, {
    "adds-note": ({ said }) => ({ field: null, said, now: null }),
    "replaces-words": ({ field = null, said, now }) => ({ field, said, now }),
    "replaces-field": ({ field, said, now }) => ({ field, said, now }),
    "takes-away": () => ({ field: null, said: null, now: null }),
  });
