import { formatClock } from "../../model/clock.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtMendedBy, doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import type { KnownName } from "./known.ts";

export const nameNearMiss: Check = {
  name: "name-near-miss",
  level: "warns",
  group: "names",
  reason:
    "A name spelled wrong is the error that the person concerned always sees, and it hides them from every search.",
  looks:
    "Words with a capital, up to one more than the registered name has, that are like it in letters (Levenshtein) " +
    "and sound (Double Metaphone) without being it; a person's surname after another first name; and words that the register has under `misspelt`. Common words at the " +
    "beginning of a sentence are left out by a frequency list of spoken English.",
  example: "“Elsa Moraine” where the register has Ilse Marrane.",
  accept: "The words name somebody else, who is not in the register. Better still: enter them.",
  judge: (subject) =>
    subject.nearMisses().flatMap(({ words, name, meant, by }): readonly Doubt[] => {
      if (by === "surname") {
        const surname = name.entry.name.split(" ").at(-1) ?? "";
        const says = `“${quoted(words)}” is not in the register; with the surname ${surname}, ${name.entry.name} is.`;
        return doubtOf(words, subject, says, listenAgain(words, name, subject));
      }
      const says =
        by === "register"
          ? `“${quoted(words)}” is in the register as a misspelling of ${name.entry.name}.`
          : `“${quoted(words)}” is spelled like nobody in the register, and is near to ${meant}.`;
      return doubtMendedBy(
        meant,
        words,
        subject,
        says,
        `Write ${meant}, or enter the other name in the register. \`check --fix names\` can do the first.`,
      );
    }),
};

/** What to do with another first name before a known surname: only the recording knows who erred. */
export function listenAgain(words: readonly Word[], { entry }: KnownName, { episode }: Subject): string {
  const at = formatClock((words[0]?.seconds ?? 0) * 1000);
  const command = `afterair correct ${episode.id} --kind on-air --at ${at} --said "${quoted(words)}"`;
  return (
    `Listen again. If it was heard wrong, write ${entry.name}. If it was said so on air, let the words stand, and once the ` +
    `episode is published: \`${command}\`.`
  );
}
