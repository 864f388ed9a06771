import type { Check } from "../check.ts";
import { doubtAt, doubtOf } from "../doubts.ts";
import { foldWord, tokensOf, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

export const twoWayOneVoice: Check = {
  name: "two-way-one-voice",
  level: "warns",
  group: "structure",
  reason: "A conversation with one voice means that the answers carry the asker's name.",
  looks:
    "Two-ways and interviews in whose words only one speaker is named. A transcript that names nobody is left alone.",
  example: "A two-way in which only Tamsin Hathersay speaks.",
  accept: "The other's words may not be published.",
  judge: (subject) =>
    subject.episode.segments.flatMap((segment) => {
      if (segment.kind !== "two-way" && segment.kind !== "interview") return [];
      const words = subject.spoken.words.filter((word) => word.segment === segment.slug);
      const [voice, second] = new Set(words.map((word) => word.voice));
      if (voice === undefined || voice === null || second !== undefined) return [];
      const says = `Only ${voice} speaks in “${segment.title}”, a ${segment.kind}.`;
      return [doubtAt(segment.at, segment.in, says, "Name who answers, in the transcript.")];
    }),
};

export const speakerNotInRegister: Check = {
  name: "speaker-not-in-register",
  level: "warns",
  group: "structure",
  reason: "A speaker outside the register has no page, and the next transcript will spell the name as it likes.",
  looks: "Speakers of the transcript that no entry of the register is called, once each.",
  example: "“Ferry passenger”.",
  accept: "It is nobody's name, or a name that will not come again.",
  judge: (subject) => {
    const registered = new Set(subject.programme.names.map(({ name }) => name));
    const first = new Map<string, Word>();
    for (const word of subject.spoken.words) {
      if (word.voice !== null && !registered.has(word.voice) && !first.has(word.voice)) first.set(word.voice, word);
    }
    return [...first].flatMap(([voice, word]) =>
      doubtOf(
        [word],
        subject,
        `The speaker ${voice} is not in the register.`,
        "Enter the name, or spell it as the register does.",
      ).map((doubt) => ({ ...doubt, words: voice })),
    );
  },
};

/** Where a package is expected to be signed off: this last share of its words, and the first words after it. */
const ENDING = 0.4;
const AFTER = 12;

export const creditWithoutSignOff: Check = {
  name: "credit-without-sign-off",
  level: "warns",
  group: "structure",
  reason:
    "A reporter who is credited and never named may be the wrong one, or the sign-off was cut and the words of the next went in.",
  looks:
    "Packages and agency reports whose credited reporter is named neither in the last two fifths of the words nor in the twelve that " +
    "follow. A report whose transcript names no speaker is left alone.",
  example: "A package by Ilse Marrane that ends without “Ilse Marrane, on Gannet Quay”.",
  accept: "The report had no sign-off.",
  judge: (subject) =>
    subject.episode.segments.flatMap((segment) => {
      if (segment.kind !== "package" && segment.kind !== "agency") return [];
      return segment.by
        .filter((credited) => isUnsigned(credited, segment.slug, subject))
        .map((credited) =>
          doubtAt(
            segment.at,
            segment.in,
            `${credited} is credited with “${segment.title}”, and nobody says the name at its end.`,
            "Check who reported, and where the segment ends.",
          ),
        );
    }),
};

function isUnsigned(credited: string, slug: string, { spoken, programme }: Subject): boolean {
  const from = spoken.words.findIndex(({ segment }) => segment === slug);
  const to = spoken.words.findLastIndex(({ segment }) => segment === slug) + 1;
  if (from === -1 || programme.presenters.includes(credited)) return false;
  if (spoken.words.slice(from, to).every(({ voice }) => voice === null)) return false;
  const surname = foldWord(tokensOf(credited).at(-1)?.text ?? "");
  const ending = spoken.words.slice(Math.floor(to - (to - from) * ENDING), to + AFTER);
  return !ending.some(({ fold }) => fold === surname);
}
