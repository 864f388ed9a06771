import type { Check } from "../check.ts";
import { doubtAt, doubtOf } from "../doubts.ts";
import { foldWord, quoted, tokensOf, type Word } from "../speech.ts";
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
      const words = subject.spoken.inSegment.get(segment.slug)?.words ?? [];
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

/** So many words of what nobody is named for are quoted. */
const QUOTED = 20;

export const speakerNotNamed: Check = {
  name: "speaker-not-named",
  level: "warns",
  group: "structure",
  reason: "Words without a name stand on the page as “Speaker not named”, and are found under nobody.",
  looks:
    "Turns that name no speaker, each segment's by themselves. A transcript that names nobody is left alone, and so are breaks.",
  example: "A clip between two turns of Ilse Marrane, begun without a voice.",
  accept: "The person may not be named, or nobody knows who it was.",
  judge: (subject) => {
    const { words } = subject.spoken;
    if (words.every(({ voice }) => voice === null)) return [];
    const breaks = new Set(subject.episode.segments.flatMap(({ kind, slug }) => (kind === "break" ? slug : [])));
    return words.flatMap((word, n) => {
      const before = words[n - 1];
      const begins = before === undefined || before.voice !== null || before.segment !== word.segment;
      if (word.voice !== null || !begins || breaks.has(word.segment ?? "")) return [];
      let end = n;
      while (words[end]?.voice === null && words[end]?.segment === word.segment) end++;
      const own = words.slice(n, end);
      return doubtOf(
        own,
        subject,
        `Nobody is named for “${quoted(own.slice(0, QUOTED))}${own.length > QUOTED ? " …" : ""}”.`,
        "Listen, and write `<v Name>` before these words in transcript.vtt.",
      );
    });
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
  judge: (subject) => {
    const presenters = new Set(subject.programme.presenters);
    const endingOf = endingsIn(subject);
    return subject.episode.segments.flatMap((segment) => {
      if (segment.kind !== "package" && segment.kind !== "agency") return [];
      const ending = endingOf(segment.slug);
      if (ending === null) return [];
      return segment.by
        .filter((credited) => !presenters.has(credited) && !ending.has(surnameOf(credited)))
        .map((credited) =>
          doubtAt(
            segment.at,
            segment.in,
            `${credited} is credited with “${segment.title}”, and nobody says the name at its end.`,
            "Check who reported, and where the segment ends.",
          ),
        );
    });
  },
};

const surnameOf = (name: string): string => foldWord(tokensOf(name).at(-1)?.text ?? "");

/** The words among which a segment's sign-off is expected; null where its words name no speaker. */
function endingsIn({ spoken }: Subject): (slug: string) => ReadonlySet<string> | null {
  const places = new Map<string | null, { from: number; to: number; isNamed: boolean }>();
  for (const [n, { segment, voice }] of spoken.words.entries()) {
    const { from = n, isNamed = false } = places.get(segment) ?? {};
    places.set(segment, { from, to: n + 1, isNamed: isNamed || voice !== null });
  }
  return (slug) => {
    const own = places.get(slug);
    if (own === undefined || !own.isNamed) return null;
    const ending = spoken.words.slice(Math.floor(own.to - (own.to - own.from) * ENDING), own.to + AFTER);
    return new Set(ending.map(({ fold }) => fold));
  };
}
