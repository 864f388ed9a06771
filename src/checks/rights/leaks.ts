import { holdingOf } from "../../derive/holdings.ts";
import type { Place } from "../../model/finding.ts";
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
  judge: (subject) =>
    subject.episode.segments.flatMap((segment) =>
      holdingOf(segment, subject.episode, subject.day).words ? [] : leaksOf(segment.slug, segment.title, subject),
    ),
};

interface Published {
  readonly text: string;
  readonly at: Place;
  readonly what: string;
}

function leaksOf(slug: string, title: string, subject: Subject): readonly Doubt[] {
  const { episode, spoken } = subject;
  const withheld = spoken.words.filter(({ segment }) => segment === slug).map(({ fold }) => fold);
  const runs = new Set(
    withheld.slice(0, Math.max(0, withheld.length - RUN + 1)).map((_, n) => withheld.slice(n, n + RUN).join(" ")),
  );
  const published: Published[] = [
    { text: episode.title, at: episode.at, what: "the episode's title" },
    { text: episode.summary ?? "", at: episode.at, what: "the episode's summary" },
    { text: episode.notes, at: episode.at, what: "the programme notes" },
    ...episode.segments.flatMap((segment) => [
      { text: segment.title, at: segment.at, what: `the title of ${segment.slug}` },
      { text: segment.summary ?? "", at: segment.at, what: `the summary of ${segment.slug}` },
    ]),
  ];
  return published.flatMap(({ text, at, what }) => {
    const folds = tokensOf(text).map((token) => foldWord(token.text));
    const leak = folds
      .slice(0, Math.max(0, folds.length - RUN + 1))
      .map((_, n) => folds.slice(n, n + RUN))
      .find(
        (run) =>
          runs.has(run.join(" ")) && run.reduce((sum, word) => sum + tellingOf(subject.lexicon, word), 0) >= TELLING,
      );
    if (leak === undefined) return [];
    const says = `“${leak.join(" ")}” stands in ${what}, and in “${title}”, which is withheld.`;
    return [{ ...doubtAt(at, null, says, "Say it in other words, or leave it out."), words: leak.join(" ") }];
  });
}
