import type { Change } from "../derive/align/changes.ts";
import type { HeardFault } from "../listen/heldAgainst.ts";
import { formatClock } from "../model/clock.ts";
import { shortened } from "../model/excerpt.ts";
import type { Finding, Place } from "../model/finding.ts";
import { blocking, findingAt } from "../read/findings.ts";
import { parseVtt, wholeMs } from "../webvtt/index.ts";
import type { RetimedText } from "./retimed.ts";

/** More of the words that are there than this may not go unless somebody says that it is right. */
const MUCH = 0.2;
/** So many of the passages that would go are shown. */
const SHOWN = 5;

/** So much of what is there would go that somebody must say that it is right; null: it is little. A trial only tells it. */
export function wordsWouldGo({ gone, present, changes }: RetimedText, dryRun: boolean, file: string): Finding | null {
  if (gone <= present * MUCH) return null;
  const longest = changes
    .filter(({ kind }) => kind === "deleted")
    .toSorted((a, b) => b.words - a.words)
    .slice(0, SHOWN);
  const says = `${gone} of the ${present} words that are there would go. The longest passages:\n${longest.map(changeText).join("\n")}`;
  const mend = "Give the whole text, or --segment for a part of it. Where it is right that they go: --yes.";
  const seconds = longest[0] ? longest[0].at / 1000 : null;
  return findingAt({ file, line: 1, column: 1 }, dryRun ? "warns" : "blocks", "words-would-go", says, mend, seconds);
}

/** The words need more time than there is. */
export function noRoom(segment: string | undefined, file: string): Finding {
  const says = `These words can't be spoken in the time of ${segment ?? "the episode"}: nothing was changed.`;
  const times = segment === undefined ? "`duration` and `cuts` in episode.md" : "its in and out points";
  return blocking("words-without-room", { file, line: 1, column: 1 }, says, `Correct ${times}, or the text.`);
}

/** What a person should look at in the new transcript. */
export function told({ text, unplaced, isLeast, crowded, heard }: RetimedText, file: string): readonly Finding[] {
  const at = { file, line: 1, column: 1 };
  const { cues } = parseVtt(text);
  const placeAt = (ms: number): Place => {
    const cue = cues.findLast(({ startTime }) => wholeMs(startTime) <= ms);
    return cue === undefined ? at : { ...at, line: cue.line + 1 };
  };
  const sounds = unplaced.map(({ text: sound, from }) => {
    const says = `There is no room between the words for [${sound}].`;
    return findingAt(
      placeAt(from),
      "warns",
      "sound-unplaced",
      says,
      "It is kept in a note: put it in by hand.",
      from / 1000,
    );
  });
  const missing = (heard?.missing ?? []).map(({ text: words, at: after }) => {
    const says = `“${shortened(words, 70)}” is not heard in the recording, after ${formatClock(after)}.`;
    const mend = "Listen there: take the words out, or leave them if they are said too faintly to be found.";
    return findingAt(placeAt(after), "warns", "words-not-heard", says, mend, after / 1000);
  });
  const unsure = "The two texts are too long to be sure that no better alignment of them exists.";
  const drift = "Look at a few captions towards the end; where they drift, retime the text in parts.";
  return [
    ...sounds,
    ...missing,
    ...againstFindings(heard?.against ?? [], placeAt),
    ...(isLeast ? [] : [findingAt(at, "warns", "alignment-unsure", unsure, drift)]),
    ...(crowded === null ? [] : [crowdedFinding(crowded, text, file)]),
  ];
}

/** Where words and sound disagree. @param placeAt where the words of a moment stand, in milliseconds of the episode's clock. */
export const againstFindings = (against: readonly HeardFault[], placeAt: (ms: number) => Place): readonly Finding[] =>
  against.map(({ rule, says, mend, at: ms }) => findingAt(placeAt(ms), "warns", rule, says, mend, ms / 1000));

function crowdedFinding({ start, pieces }: NonNullable<RetimedText["crowded"]>, text: string, file: string): Finding {
  const words = pieces.map((piece) => piece.words.replace(/\s+/g, " ")).join(" ");
  const says = `The words have no room outside the break: “${words}” stands in it, at ${formatClock(start)}.`;
  const mend = "Correct the points of the break, or `cuts`, in episode.md; then retime again.";
  const cue = parseVtt(text).cues.find(({ startTime }) => wholeMs(startTime) === start);
  const at = { file, line: cue === undefined ? 1 : cue.line + 1, column: 1 };
  return findingAt(at, "blocks", "words-in-break", says, mend, start / 1000);
}

const SAYS: Readonly<Record<Change["kind"], string>> = { deleted: "left out", inserted: "put in", moved: "moved" };

/** A run of words that changed, in a line. */
export function changeText({ kind, text, words, at }: Change): string {
  return `${formatClock(at).padStart(8)}  ${SAYS[kind]}, ${words} words: ${shortened(text, 70)}`;
}
