import { does, replaces } from "../model/correctionKinds.ts";
import type { Correction, Episode, Segment } from "../model/episode.ts";
import type { Place } from "../model/finding.ts";
import type { ArchivedEpisode } from "../model/programme.ts";
import { heldIn, holdsNothing, type Matter, matterOf, type ScanDay } from "./cues.ts";
import { until } from "./points.ts";
import { RUN, runsIn, wordsIn } from "./words.ts";

/** Digests of an episode's held runs. */
export type HeldDigests = readonly number[];

/** What of an episode may not stand in the site of a day. */
export interface HeldRuns {
  /** Runs of three words, and where they are written. */
  readonly runs: ReadonlyMap<string, Place>;
  /** Titles, summaries, names and notes of the episode that may be shown. */
  readonly shown: readonly string[];
}

/** Words in a row, and where they are written. */
interface Stand {
  readonly words: readonly string[];
  readonly at: Place;
}

/** So many words in a row are no chance: a note with them quotes; a note about held words does with as many as are looked for. */
const QUOTE = 5;

/**
 * Runs of three words of an episode that are withheld or withdrawn on a day and that nothing of the episode may say, with
 * the places where they are written: from its files alone, by rules written a second time. It shares nothing with what
 * makes the site; where the two could differ in what is held, this one holds less, so that a sound site has no hit.
 * @param language BCP 47, for the names of days and months.
 */
export function heldRuns(archived: ArchivedEpisode, day: ScanDay, language: string): HeldRuns {
  const matter = matterOf(archived, day);
  if (holdsNothing(matter)) return HOLDS_NOTHING;
  const held = new Map<string, Place>();
  const texts = [archived, ...archived.earlier.flatMap(({ episode }) => episode ?? [])];
  const pieces = divide(texts, matter);
  const shown = shownTexts(texts, matter, pieces);
  const byRight = new Set([
    ...pieces.given.flatMap(({ words }) => runsIn(words)),
    ...shown.flatMap((text) => runsIn(wordsIn(text))),
  ]);
  const isDate = datesIn(language);
  for (const { words, at } of [...pieces.held, ...takenAway(texts, matter)]) {
    for (const run of runsIn(words)) if (!held.has(run) && !byRight.has(run) && !isDate(run)) held.set(run, at);
  }
  return { runs: held, shown };
}

export const HOLDS_NOTHING: HeldRuns = { runs: new Map(), shown: [] };

interface Divided {
  readonly held: readonly Stand[];
  readonly given: readonly Stand[];
}

/** The words of all texts, held and given, as first published and after each correction of them. */
function divide(texts: readonly Episode[], matter: Matter): Divided {
  const corrections = until(matter.archived.corrections, "9999-12-31T00:00:00Z");
  const [held, given]: [Stand[], Stand[]] = [[], []];
  for (const text of texts) {
    const [own, rest] = sides(text, matter);
    held.push(...own, ...corrected(own, corrections));
    given.push(...rest, ...corrected(rest, corrections));
  }
  return { held, given };
}

/** Held cues that follow one another are one run of words; those that are given are read over the gaps. */
function sides(text: Episode, matter: Matter): readonly [readonly Stand[], readonly Stand[]] {
  const isHeld = heldIn(text, matter);
  const held: { words: string[]; at: Place }[] = [];
  const given: string[] = [];
  let open = false;
  for (const cue of text.cues) {
    const words = cue.pieces.flatMap((piece) => wordsIn(piece.words));
    const own = isHeld(cue);
    if (!own) given.push(...words);
    else if (open) held.at(-1)?.words.push(...words);
    else held.push({ words: [...words], at: cue.at });
    open = own;
  }
  return [held, [{ words: given, at: text.at }]];
}

/** What corrections of words make of runs of words: each step, where it is another. */
function corrected(stands: readonly Stand[], corrections: readonly Correction[]): readonly Stand[] {
  const steps: Stand[] = [];
  let now = stands;
  for (const correction of corrections) {
    if (!does(correction, "replaces-words") || correction.field === "speaker") continue;
    const [said, becomes] = [wordsIn(correction.said), wordsIn(correction.now)];
    now = now.map((stand) => {
      const words = replaced(stand.words, said, becomes);
      if (words === stand.words) return stand;
      const next = { words, at: stand.at };
      steps.push(next);
      return next;
    });
  }
  return steps;
}

function replaced(words: readonly string[], said: readonly string[], now: readonly string[]): readonly string[] {
  if (indexOf(words, said, 0) < 0) return words;
  const next: string[] = [];
  let from = 0;
  for (let at = indexOf(words, said, 0); at >= 0; at = indexOf(words, said, from)) {
    next.push(...words.slice(from, at), ...now);
    from = at + said.length;
  }
  return [...next, ...words.slice(from)];
}

/** Where words stand in a row among others; -1: nowhere. */
function indexOf(words: readonly string[], sought: readonly string[], from: number): number {
  if (sought.length === 0) return -1;
  for (let at = from; at + sought.length <= words.length; at++) {
    if (sought.every((word, index) => words[at + index] === word)) return at;
  }
  return -1;
}

const standsIn = (stands: readonly Stand[], words: readonly string[]): boolean =>
  stands.some((stand) => indexOf(stand.words, words, 0) >= 0);

/** Whether a segment, or the whole episode (null), is among what withdrawals name. */
const awayIn =
  (withdrawn: Matter["withdrawn"]) =>
  (slug: string | null): boolean =>
    withdrawn.has(null) || (slug !== null && withdrawn.has(slug));

/** Titles and summaries that went with what is withdrawn, and notes about nothing else. */
function takenAway(texts: readonly Episode[], { archived, withdrawn }: Matter): readonly Stand[] {
  const isAway = awayIn(withdrawn);
  const fields = texts.flatMap((text) => [
    ...(withdrawn.has(null) ? [text.title, text.summary, text.notes].map((own) => ({ own, at: text.at })) : []),
    ...text.segments.flatMap(({ slug, title, summary, at }) =>
      isAway(slug) ? [title, summary].map((own) => ({ own, at })) : [],
    ),
  ]);
  const corrections = archived.corrections.flatMap((correction) =>
    does(correction, "replaces-field") && isAway(correction.segment)
      ? [correction.said, correction.now, correction.note].map((own) => ({ own, at: correction.place }))
      : [],
  );
  return [...fields, ...corrections].map(({ own, at }) => ({ words: wordsIn(own ?? ""), at }));
}

/** All that pages may say of an episode beside its words. */
function shownTexts(texts: readonly Episode[], matter: Matter, pieces: Divided): readonly string[] {
  const { archived, withdrawn } = matter;
  const isAway = awayIn(withdrawn);
  const own = texts.flatMap(({ id, title, summary, notes, segments, cues }) => [
    id,
    ...(withdrawn.has(null) ? [] : [title, summary ?? "", notes]),
    ...segments.flatMap((segment) => (isAway(segment.slug) ? [segment.slug] : fieldsOf(segment))),
    ...new Set(cues.flatMap((cue) => cue.pieces.map(({ voice }) => voice ?? ""))),
  ]);
  const reasons = archived.earlier.map(({ reason }) => reason ?? "");
  const silent = new Set(matter.silent.map(({ segment }) => segment.slug));
  const isAbout = (slug: string | null) => isAway(slug) || (slug !== null && silent.has(slug));
  const told = archived.corrections.flatMap((correction) =>
    does(correction, "replaces-field") && isAway(correction.segment)
      ? []
      : toldOf(correction, isAbout(correction.segment), pieces),
  );
  return [...own, ...reasons, ...told];
}

const fieldsOf = ({
  slug,
  title,
  summary,
  by,
  topics,
  places,
  rights,
  cautions,
  story,
}: Segment): readonly string[] => [
  slug,
  title,
  summary ?? "",
  by.join(", "),
  ...topics,
  ...places,
  rights?.holder ?? "",
  story ?? "",
  ...cautions,
];

/**
 * What of a correction may be told: its note unless it quotes held words, and its words unless they are held. Of a
 * withdrawal, the note is all there is, and says in public what was taken away.
 * @param isAbout it names a segment that may not be given.
 */
function toldOf(correction: Correction, isAbout: boolean, { held, given }: Divided): readonly string[] {
  const { id, signed, note } = correction;
  if (does(correction, "takes-away")) return [id, signed, note];
  const words = [correction.said ?? "", ...(replaces(correction) ? [correction.now] : [])];
  const isField = does(correction, "replaces-field");
  const isHeld = !isField && words.some((own) => standsIn(held, wordsIn(own)) && !standsIn(given, wordsIn(own)));
  const length = isHeld || (isAbout && (isField || correction.said === null)) ? RUN : QUOTE;
  const noted = wordsIn(note);
  const quotes = noted.some((_, at) => {
    const run = noted.slice(at, at + length);
    return run.length === length && standsIn(held, run) && !standsIn(given, run);
  });
  return [id, signed, ...(quotes ? [] : [note]), ...(isHeld ? [] : words)];
}

/** Whether a run is of numbers and names of days and months: dates stand on every page. */
function datesIn(language: string): (run: string) => boolean {
  // Twelve days a month apart are on every weekday.
  const days = Array.from({ length: 12 }, (_, month) => Date.UTC(2026, month, 1));
  const format = new Intl.DateTimeFormat(language, { weekday: "long", month: "long", timeZone: "UTC" });
  const names = new Set(days.flatMap((day) => wordsIn(format.format(day))));
  return (run) => run.split(" ").every((word) => names.has(word) || /^\d+$/.test(word));
}
