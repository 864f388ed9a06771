import type { Made } from "../actions/retime.ts";
import { changeText } from "../actions/retimeFindings.ts";
import type { WordErrors } from "../derive/align/wordErrors.ts";
import type { Points } from "../derive/propose/again.ts";
import { formatClock } from "../model/clock.ts";

/** Runs of this many words are told one by one. */
const A_LINE = 4;

/** What was made, for people. */
export function retimedText(made: Made, dryRun: boolean): string {
  const { file, changes, errors, words, cues, points, kept, changed, listened } = made;
  const told = changes.filter((change) => change.words >= A_LINE);
  const few = changes.length - told.length;
  const state = dryRun ? " (not written)" : changed ? "" : " (as it was: nothing was written)";
  return [
    `${file}: ${words} words in ${cues} cues${state}.`,
    ...(listened === null ? [] : [listened]),
    errorsText(errors),
    ...told.map(changeText),
    ...pointTexts(points),
    ...(few > 0 ? [`${few} shorter runs of words were put in or left out.`] : []),
    ...(kept === null
      ? []
      : [`What was there is kept in ${kept} until it is published; \`retime --undo\` puts it back.`]),
  ].join("\n");
}

function errorsText({ words, substitutions, deletions, insertions, rate }: WordErrors): string {
  if (rate === null) return "There is no word error rate: the new text has no words.";
  return (
    `Word error rate of the old words: ${(rate * 100).toFixed(1)} % of ${words} (${substitutions} wrong, ` +
    `${deletions} missing, ${insertions} too many; small letters, no punctuation, numerals as words).`
  );
}

/** In points that moved by more than this are told: milliseconds. */
const MOVED = 500;

const pointTexts = (points: Points | null): readonly string[] =>
  [...(points ?? [])]
    .filter(([, { in: start, was }]) => Math.abs(start - was) > MOVED)
    .map(([slug, { in: start, was }]) => {
      return `In point of ${slug}: ${formatClock(was)}, but the new words speak for ${formatClock(start)}.`;
    });
