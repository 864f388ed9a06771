import type { Correction } from "../model/episode.ts";
import { tokensOf } from "./fold.ts";
import type { GivenCorrection, GivenLaid } from "./given.ts";
import type { Held } from "./held.ts";
import type { LaidCorrection, LaidCue, LaidEpisode } from "./laid.ts";

/** So many words in a row are the held words themselves, in a note about them. */
const RUN = 3;
/** The same in a note about something else: three words in a row are often anybody's. */
const LONG_RUN = 5;

/** What stands in the place of a note that repeats what may not be given. */
export const HELD_NOTE = "This note repeats words that are withheld, and is withheld with them.";
export const GONE_NOTE = "This note was about what has been withdrawn since, and went with it.";

/** The corrections of a text as the public may have them. `silent`: the slugs of segments whose words may not be given. */
export function giveCorrections(episode: LaidEpisode, held: Held, silent: ReadonlySet<string>): readonly GivenLaid[] {
  const words = wordsHeld(episode, held);
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

function giveOne({ correction, hidden }: LaidCorrection, isHeld: boolean, words: WordsHeld): GivenCorrection {
  const { id, dated, kind, segment, signed, supersedes, note, place } = correction;
  const { field, said, now } = fieldsOf(correction);
  // A title or a summary is the station's own, and is given with the segment.
  const isOfWords = kind !== "page";
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
    note: hidden ? GONE_NOTE : quotes(note, isHeld, words) ? HELD_NOTE : note,
    place,
  };
}

function fieldsOf(correction: Correction): Pick<GivenCorrection, "field" | "said" | "now"> {
  switch (correction.kind) {
    case "transcript":
      return { field: correction.field ?? null, said: correction.said, now: correction.now };
    case "page":
      return { field: correction.field, said: correction.said, now: correction.now };
    case "on-air":
    case "clarification":
    case "update":
      return { field: null, said: correction.said, now: null };
    case "withdrawal":
      return { field: null, said: null, now: null };
  }
}

/** What is looked for in notes: the held words, as they stand and as first published, and those given elsewhere. */
interface WordsHeld {
  /** Each an unbroken run of folded words, with a space at both ends. */
  readonly held: readonly string[];
  readonly given: string;
}

function wordsHeld(episode: LaidEpisode, { cues }: Held): WordsHeld {
  if (cues.size === 0) return { held: [], given: "" };
  const runs: LaidCue[][] = [];
  let open = false;
  for (const cue of episode.cues) {
    const own = cues.has(cue.place);
    if (own && open) runs.at(-1)?.push(cue);
    else if (own) runs.push([cue]);
    open = own;
  }
  const now = ({ parts }: LaidCue) => parts.map(({ words }) => words).join(" ");
  const then = ({ parts }: LaidCue) =>
    parts.map(({ runs: own }) => own.map(({ text, mark }) => mark?.was ?? text).join("")).join(" ");
  const held = runs.flatMap((run) => [folded(run.map(now).join(" ")), folded(run.map(then).join(" "))]);
  return { held, given: folded(episode.cues.flatMap((cue) => (cues.has(cue.place) ? [] : [now(cue)])).join(" ")) };
}

const folded = (text: string): string =>
  ` ${tokensOf(text)
    .map((token) => token.text)
    .join(" ")} `;

/** What stands in quotation marks, code or emphasis. */
const QUOTED = /“([^”]+)”|"([^"]+)"|‘([^’]+)’|«([^»]+)»|„([^“”]+)[“”]|`([^`]+)`|\*+([^*]+)\*+|_+([^_]+)_+|^>(.+)$/gm;

/** Whether a note repeats held words: any quotation of them in a note about them, or many of them in a row in any note. */
function quotes(note: string, isHeld: boolean, { held, given }: WordsHeld): boolean {
  if (held.length === 0) return false;
  const isQuoted = (words: string): boolean =>
    words.trim() !== "" && held.some((run) => run.includes(words)) && (isHeld || !given.includes(words));
  if (isHeld) {
    for (const found of note.matchAll(QUOTED))
      if (isQuoted(folded(found.slice(1).find((text) => text !== undefined) ?? ""))) return true;
  }
  const length = isHeld ? RUN : LONG_RUN;
  const tokens = tokensOf(note).map((token) => token.text);
  return tokens.some(
    (_, from) => from + length <= tokens.length && isQuoted(` ${tokens.slice(from, from + length).join(" ")} `),
  );
}
