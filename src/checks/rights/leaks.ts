import { holdingOf } from "../../derive/holdings.ts";
import type { Place } from "../../model/finding.ts";
import { grouped } from "../../model/grouped.ts";
import type { LaidSegment } from "../../record/laid.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtAt } from "../doubts.ts";
import { tellingOf } from "../lexicon.ts";
import { foldWord, tokensOf } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** So many words in a row, with so much telling among them, are the withheld words themselves. No source. */
const RUN = 5;
const TELLING = 1;

export const withheldLeaks: Check = {
  name: "withheld-leaks",
  level: "blocks",
  group: "rights",
  reason:
    "What may not be shown must not come out by the back door: a summary, a chapter title or the notes are published all the same.",
  looks:
    "Five words in a row of a segment that shows nothing on the day, with telling words among them, in a title, a summary or the " +
    "notes of the episode.",
  example: "The summary says “the closing gap between the two fleets”, and so does the withheld report.",
  accept:
    "The words are the station's own, or everybody's. What blocks can't be accepted: let the programme set it to `warns` first.",
  judge: (subject) => {
    const withheld = subject.episode.segments.filter(
      (segment) => !holdingOf(segment, subject.episode, subject.day).words,
    );
    if (withheld.length === 0) return [];
    const published = publishedRuns(subject);
    return withheld.flatMap((segment) => leaksOf(segment, published, subject));
  },
};

interface Published {
  readonly text: string;
  readonly at: Place;
  readonly what: string;
}

/** Words in a row that are published, and tell something. */
interface Run {
  readonly words: string;
  /** Which of the published texts they stand in, and where in it. */
  readonly text: number;
  readonly place: number;
  readonly of: Published;
}

function publishedIn({ episode }: Subject): readonly Published[] {
  return [
    { text: episode.title, at: episode.at, what: "the episode's title" },
    { text: episode.summary ?? "", at: episode.at, what: "the episode's summary" },
    { text: episode.notes, at: episode.at, what: "the programme notes" },
    ...episode.segments.flatMap((segment) => [
      { text: segment.title, at: segment.at, what: `the title of ${segment.slug}` },
      { text: segment.summary ?? "", at: segment.at, what: `the summary of ${segment.slug}` },
    ]),
  ];
}

/** All telling runs that are published, by their words. */
function publishedRuns(subject: Subject): ReadonlyMap<string, readonly Run[]> {
  const runs = publishedIn(subject).flatMap((of, text) => {
    const folds = tokensOf(of.text).map((token) => foldWord(token.text));
    return runsIn(folds).flatMap((run, place): readonly Run[] => {
      const isTelling = run.reduce((sum, word) => sum + tellingOf(subject.lexicon, word), 0) >= TELLING;
      return isTelling ? [{ words: run.join(" "), text, place, of }] : [];
    });
  });
  return grouped(runs, ({ words }) => words);
}

const runsIn = (folds: readonly string[]): readonly (readonly string[])[] =>
  folds.slice(0, Math.max(0, folds.length - RUN + 1)).map((_, n) => folds.slice(n, n + RUN));

/** The first run of each published text that stands in a segment's words. */
function leaksOf(
  { slug, title }: LaidSegment,
  published: ReadonlyMap<string, readonly Run[]>,
  { spoken }: Subject,
): readonly Doubt[] {
  const withheld = (spoken.inSegment.get(slug)?.words ?? []).map(({ fold }) => fold);
  const first = new Map<number, Run>();
  for (const words of new Set(runsIn(withheld).map((run) => run.join(" ")))) {
    for (const run of published.get(words) ?? []) {
      const known = first.get(run.text);
      if (known === undefined || run.place < known.place) first.set(run.text, run);
    }
  }
  return [...first.values()]
    .sort((a, b) => a.text - b.text)
    .map(({ words, of }) => {
      const says = `“${words}” stands in ${of.what}, and in “${title}”, which is withheld.`;
      return { ...doubtAt(of.at, null, says, "Say it in other words, or leave it out."), words };
    });
}
