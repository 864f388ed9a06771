import { formatClock } from "../../model/clock.ts";
import type { MisheardName } from "../../model/misheardNames.ts";
import type { Check } from "../check.ts";
import { doubtMendedBy } from "../doubts.ts";
import { foldWord, quoted, tokensOf, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

/** So far from where it was heard the words may stand by now: captions are made from words, and moved. Milliseconds; no source. */
const NEAR = 5000;

export const nameHeard: Check = {
  name: "name-heard",
  level: "warns",
  group: "names",
  reason:
    "A recogniser that doesn't know a name writes other words, and whoever reads them can't tell that somebody was named.",
  looks:
    "Places where `new` heard the name of somebody in the register, while other words stand there. They are kept in a note of " +
    "transcript.vtt, and told as long as these words stand there.",
  example: "“leave the core risk” where the recording says Lieve Corrisk.",
  accept: "You listened there, and the words are right.",
  judge: (subject) =>
    namesHeard(subject).flatMap(({ words, name }) =>
      doubtMendedBy(
        name,
        words,
        subject,
        `The recording says ${name} where “${quoted(words)}” stands.`,
        mendOf(name, words, subject),
      ),
    ),
};

/** What is published is corrected, not written. */
export function mendOf(name: string, words: readonly Word[], { published, episode }: Subject): string {
  if (!published) return `Listen there, and write ${name} if that is right.`;
  const at = formatClock((words[0]?.seconds ?? 0) * 1000);
  return `Listen there. If that is right: \`afterair correct ${episode.id} --kind transcript --at ${at} --said "${quoted(words)}" --now "${name}"\`.`;
}

/** A name that is heard, and the words that stand there. */
export interface HeardThere {
  readonly words: readonly Word[];
  readonly name: string;
}

/** Those whose words still stand where they were, and that no misspelling accounts for. In the order of the cues. */
export function namesHeard(subject: Subject): readonly HeardThere[] {
  const { episode, spoken } = subject;
  const known = new Map(
    subject.nearMisses().flatMap(({ words, name }) => words.map((word) => [word, name.entry.name])),
  );
  return episode.cues.flatMap(({ heard = [] }) =>
    heard.flatMap((one): readonly HeardThere[] => {
      const words = wordsOf(one, spoken.words);
      if (words === null || words.some((word) => known.get(word) === one.name)) return [];
      return [{ words, name: one.name }];
    }),
  );
}

/** The words of a note where they stand nearest to its moment; null: they stand there no more. */
function wordsOf({ at, words: noted }: MisheardName, spoken: readonly Word[]): readonly Word[] | null {
  const folds = tokensOf(noted).map(({ text }) => foldWord(text));
  const off = (from: number) => Math.abs((spoken[from]?.seconds ?? 0) * 1000 - at);
  const [nearest] = spoken
    .flatMap((_, from) =>
      off(from) <= NEAR && folds.every((fold, k) => spoken[from + k]?.fold === fold) ? [from] : [],
    )
    .sort((a, b) => off(a) - off(b));
  return nearest === undefined || folds.length === 0 ? null : spoken.slice(nearest, nearest + folds.length);
}
