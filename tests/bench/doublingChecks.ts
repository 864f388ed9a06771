import { type Worded, withoutAccepted } from "../../src/checks/accept.ts";
import { CHECKS } from "../../src/checks/index.ts";
import { type Subject, subjectOf, summaryOf, surroundingsOf } from "../../src/checks/subject.ts";
import type { Acceptance, Episode, Segment, TranscriptCue } from "../../src/model/episode.ts";
import type { Programme, RegisteredName } from "../../src/model/programme.ts";
import { clockMs } from "../../src/model/units.ts";
import type { LaidEpisode } from "../../src/record/laid.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { showText } from "../../src/record/shown.ts";
import { around, episodeOf, programmeOf, SOMEWHERE } from "../checks/measure/archive.ts";
import { speechesSince } from "../checks/measure/speeches.ts";
import type { Grown, Steps } from "./doubling.ts";
import { inventedWord, times } from "./doublingWords.ts";

const CUE_MS = 3000;
/** There is no file. */
const PLACE_OF: Subject["placeOf"] = ({ at }) => at;

interface Given {
  /** A cue for each. */
  readonly words: readonly string[];
  /** Cues of a segment; not given: all are in one. */
  readonly perSegment?: number;
  readonly voices?: (n: number) => string | null;
  readonly episode?: Partial<Episode>;
  readonly segment?: (n: number) => Partial<Segment>;
  readonly programme?: Partial<Programme>;
  readonly topics?: Parameters<typeof summaryOf>[0];
}

function made({ words, perSegment = words.length, voices = () => "A Speaker", episode, segment }: Given): Episode {
  const cues = words.map(
    (text, n): TranscriptCue => ({
      id: "",
      start: clockMs(n * CUE_MS),
      end: clockMs((n + 1) * CUE_MS - 100),
      pieces: [{ voice: voices(n), language: null, words: text }],
      settings: "",
      at: { file: "transcript.vtt", line: 3 + n * 3, column: 1 },
    }),
  );
  const segments = times(Math.max(1, Math.ceil(words.length / perSegment)), (n): Segment => {
    const [from, to] = [n * perSegment * CUE_MS, Math.min(words.length, (n + 1) * perSegment) * CUE_MS];
    return { ...SEGMENT, slug: `part-${n}`, title: `Part ${n}`, in: clockMs(from), out: clockMs(to), ...segment?.(n) };
  });
  return episodeOf([], { segments, cues, ...episode });
}

const SEGMENT: Omit<Segment, "slug" | "title" | "in" | "out"> = {
  kind: "reader",
  by: [],
  topics: [],
  places: [],
  summary: null,
  rights: null,
  cautions: [],
  planned: null,
  at: SOMEWHERE,
};

/** Every check of an episode, and what they need first. */
function stepsOf(given: Given, own: Awaited<ReturnType<typeof around>>): Steps {
  const episode = made(given);
  const surroundings = { ...own, archive: summaryOf(given.topics ?? []), placeOf: PLACE_OF };
  let [laid, subject]: [LaidEpisode | null, Subject | null] = [null, null];
  const found: Worded[] = [];
  const checks = CHECKS.map(({ name, judge }) => [
    name,
    () => {
      for (const { words, answered: _, ...doubt } of subject === null ? [] : judge(subject))
        found.push({ finding: { rule: name, level: "warns", ...doubt }, words });
    },
  ]);
  return {
    "laid and shown": () => {
      laid = layCorrections(episode, "2027-01-01T00:00:00Z");
      showText({ episode: laid, also: [] }, own.day);
    },
    "words and figures": () => {
      subject = laid === null ? null : subjectOf(laid, surroundings);
    },
    ...Object.fromEntries(checks),
    acceptances: () => withoutAccepted(found, episode.accepted ?? []),
  };
}

const registered = (name: string, kind: RegisteredName["kind"] = "person"): RegisteredName => ({
  slug: name.toLowerCase().replace(" ", "-"),
  name,
  kind,
  role: null,
  say: null,
  misspelt: [],
  about: "",
  at: SOMEWHERE,
});

const HEADLINES = (n: number): Partial<Segment> => (n === 0 ? { kind: "headlines" } : {});
const SMALL = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
const numbered = (n: number): string => SMALL[n % SMALL.length] ?? "";

/** Every check with each of these growing. */
export async function grownChecks(): Promise<readonly Grown[]> {
  const register = times(100, (n) => registered(`${inventedWord(n)} ${inventedWord(n + 5000)}`));
  const usual = await around(programmeOf(register));
  const speech = speechesSince(1900).flatMap(({ sentences }) => sentences);
  const spoken = (n: number): string => speech[n % speech.length] ?? "";
  const grown = (name: string, given: (size: number) => Given, from = 500): Grown => ({
    name: `checks, ${name}`,
    from,
    make: (size) => stepsOf(given(size), usual),
  });
  const withProgramme = (
    name: string,
    programme: (size: number) => Programme,
    given: (size: number) => Given,
  ): Grown => ({
    name: `checks, ${name}`,
    from: 250,
    make: (size) => {
      const lexicon = usual.lexicon;
      return stepsOf(given(size), { ...usual, ...surroundingsOf({ ...usual, lexicon, programme: programme(size) }) });
    },
  });
  return [
    grown("cues of speech in one segment", (size) => ({ words: times(size, spoken) })),
    grown("cues of speech in segments of 50", (size) => ({
      words: times(size, spoken),
      perSegment: 50,
      segment: HEADLINES,
    })),
    grown("cues of speech in small letters without a full stop", (size) => ({
      words: times(size, (n) =>
        spoken(n)
          .toLowerCase()
          .replace(/[.!?,;:]/g, ""),
      ),
    })),
    grown("cues without a speaker under sounds", (size) => ({
      words: times(size, (n) => (n % 2 === 0 ? "[Music]" : spoken(n))),
      voices: () => null,
    })),
    grown("words of one cue", (size) => ({ words: [times(size, (n) => spoken(n)).join(" ")] })),
    grown("numbers of one cue", (size) => ({ words: [times(size, () => "twenty one").join(" ")] })),
    grown("numbers said one by one", (size) => ({ words: [`two point ${times(size, () => "one").join(" ")}`] })),
    grown("millions", (size) => ({ words: [times(size, () => "two million three thousand and").join(" ")] })),
    grown("capitals of one cue", (size) => ({ words: [times(size, (n) => inventedWord(n)).join(" ")] })),
    grown("hyphens of one word", (size) => ({ words: [times(size, () => "twenty").join("-")] })),
    grown("letters of one word", (size) => ({
      words: [
        "A".repeat(size * 10),
        "x1.".repeat(size * 3),
        "8".repeat(size * 10),
        `${"a.".repeat(size * 5)}`,
        ".".repeat(size * 10),
        "a-".repeat(size * 5),
      ],
    })),
    grown("figures of one thing", (size) => ({
      words: times(size, (n) => `There are ${n + 2} sailings a week to ${inventedWord(n)}.`),
    })),
    grown("figures of one thing in headlines and reports", (size) => ({
      words: times(size, (n) => `There are ${n + 2} sailings a week to Sollen harbour.`),
      perSegment: Math.ceil(size / 2),
      segment: HEADLINES,
    })),
    grown("figures of one thing by two voices", (size) => ({
      words: times(size, (n) => `There are ${n + 2} sailings a week to the harbour of ${inventedWord(n % 7)}.`),
      voices: (n) => ["One Speaker", "Other Speaker"][n % 2] ?? null,
    })),
    grown("rates", (size) => ({
      words: times(
        size,
        (n) => ["It is 30 crowns a crate.", "They do two crates an hour.", "It is 90 crowns an hour."][n % 3] ?? "",
      ),
    })),
    grown("rates of many things", (size) => ({
      words: times(
        size,
        (n) => `They count ${n + 2} ${inventedWord(n).toLowerCase()}s a ${inventedWord(n + 1).toLowerCase()}.`,
      ),
    })),
    grown("shares and counts", (size) => ({
      words: times(
        size,
        (n) =>
          ["A third of members voted against it.", `Now ${n + 2} of the ${n * 5 + 20} members voted against it.`][
            n % 2
          ] ?? "",
      ),
    })),
    grown("speeds and journeys", (size) => ({
      words: times(
        size,
        (n) =>
          [`It runs at ${n + 3} kilometres every hour.`, `It covered ${n + 30} kilometres in two hours.`][n % 2] ?? "",
      ),
    })),
    grown("totals", (size) => ({
      words: times(size, (n) => `It costs ${n + 3} crowns a week for ${n + 2} weeks, ${n + 5} crowns in all.`),
    })),
    grown("totals of one cue", (size) => ({
      words: [times(size, (n) => `it costs ${n + 3} crowns a week for two weeks ${n + 5} crowns in all`).join(" and ")],
    })),
    grown("scores", (size) => ({
      words: times(
        size,
        (n) => `Sollen Town won by ${numbered(n)} goals to ${numbered(n + 5)} against ${inventedWord(n)}.`,
      ),
    })),
    grown("superlatives", (size) => ({
      words: times(size, (n) => `It was the coldest ${inventedWord(n).toLowerCase()} in ${n + 2} years.`),
    })),
    grown("ages and years of birth", (size) => ({
      words: times(size, (n) => `She is ${20 + (n % 60)} years old, and was born in ${1900 + (n % 90)}.`),
    })),
    grown("percentages", (size) => ({ words: [times(size, (n) => `${n} percent said so`).join(" and ")] })),
    grown("dates", (size) => ({ words: times(size, (n) => `It is on Monday, ${1 + (n % 28)} October.`) })),
    grown("names that are spelled alike", (size) => ({
      words: times(size, (n) => `They met ${inventedWord(Math.floor(n / 2))}${n % 2 === 0 ? "o" : "i"}n there.`),
    })),
    grown("names that are almost registered", (size) => ({
      words: times(size, (n) => `They met ${register[n % 100]?.name.replace(/a/, "e")} there.`),
    })),
    grown("addresses", (size) => ({
      words: times(size, (n) => `See ${inventedWord(n)}.example and tide dot sample slash ${inventedWord(n)}.`),
    })),
    grown("a phrase again and again", (size) => ({ words: times(size, () => "Stay with us awhile.") })),
    grown("a phrase of many words again and again", (size) => ({ words: times(size, (n) => inventedWord(n % 23)) })),
    grown("segments", (size) => ({ words: times(size, spoken), perSegment: 1, segment: HEADLINES }), 250),
    grown(
      "segments of packages and agencies",
      (size) => ({
        words: times(size, spoken),
        perSegment: 1,
        segment: (n) => ({ kind: n % 2 === 0 ? "package" : "agency", by: ["Ilse Marrane"] }),
      }),
      250,
    ),
    grown("breaks", (size) => ({ words: times(size, spoken), perSegment: 2, segment: () => ({ kind: "break" }) }), 250),
    grown(
      "segments withheld whole",
      (size) => ({
        words: times(size, spoken),
        perSegment: 2,
        segment: () => ({ rights: { withheld: true, until: null, holder: null, show: "nothing" } }),
      }),
      250,
    ),
    grown(
      "segments that lie over one another",
      (size) => ({
        words: times(size, spoken),
        perSegment: 1,
        segment: () => ({ in: clockMs(0), out: clockMs(size * CUE_MS) }),
      }),
      250,
    ),
    grown("cuts", (size) => ({
      words: times(size, spoken),
      episode: {
        cuts: times(size, (n) => ({
          from: clockMs(n * CUE_MS + 2950),
          to: clockMs(n * CUE_MS + 2960),
          why: "break",
          at: SOMEWHERE,
        })),
      },
    })),
    grown("speakers", (size) => ({ words: times(size, spoken), voices: inventedWord })),
    grown("topics", (size) => ({
      words: times(size, spoken),
      perSegment: 2,
      segment: (n) => ({ topics: [inventedWord(n)] }),
      topics: [{ id: "2026-10-04", topics: times(size, (n) => ({ topic: inventedWord(n + 1), at: SOMEWHERE })) }],
    })),
    grown("acceptances", (size) => ({
      words: times(size, (n) => `See ${inventedWord(n)} dot example.`),
      episode: {
        accepted: times(
          size,
          (n): Acceptance => ({
            rule: "address-misheard",
            at: clockMs(n * CUE_MS),
            words: inventedWord(n),
            dated: "2026-10-06",
            why: "-",
            by: "-",
            place: SOMEWHERE,
          }),
        ),
      },
    })),
    withProgramme(
      "names in the register",
      (size) => programmeOf(times(size, (n) => registered(`${inventedWord(n)} ${inventedWord(n + 7)}`))),
      () => ({ words: times(200, (n) => `${spoken(n)} They met ${inventedWord(n).replace(/a/, "e")} there.`) }),
    ),
    withProgramme(
      "watched words",
      (size) =>
        programmeOf(register, {
          watch: {
            court: { add: times(size, inventedWord), drop: [] },
            stock: { add: times(size, inventedWord), drop: [] },
            allegation: { add: times(size, inventedWord), drop: [] },
          },
        }),
      () => ({ words: times(200, spoken) }),
    ),
  ];
}
