import { planEpisode } from "../../src/build/episodePlan.ts";
import { asRecordFolder, recordFolderOf } from "../../src/build/recordFolder.ts";
import { NO_ASSETS, pageContextOf } from "../../src/pages/site.ts";
import { archived } from "../../src/read/archive.ts";
import { parseEpisode } from "../../src/read/episode.ts";
import type { EpisodeSources, Source } from "../../src/read/source.ts";
import { auditEpisode } from "../../src/record/audit.ts";
import { episodeOn } from "../../src/record/day.ts";
import { entriesDue } from "../../src/record/enter.ts";
import { entryLine, readRecord } from "../../src/record/entry.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { showEpisode } from "../../src/record/shown.ts";
import { spanOf } from "../../src/record/spanOf.ts";
import { programmeOf } from "../checks/measure/archive.ts";
import type { Grown, Steps } from "./doubling.ts";
import { inventedWord, times } from "./doublingWords.ts";

const FOLDER = "episodes/2026/2026-10-05";
const NOW = "2027-01-01T00:00:00.000Z";
const ZONE = "Europe/London";
const CUE_S = 3;
/** An evening's: every segment's page shows all of them. */
const SEGMENTS = 12;

const source = (file: string, text: string): Source => ({ file: `${FOLDER}/${file}`, bytes: Buffer.from(text) });
const clock = (seconds: number): string =>
  `${Math.floor(seconds / 3600)}:${String(Math.floor(seconds / 60) % 60).padStart(2, "0")}:${String(seconds % 60).padStart(2, "0")}`;
const stamp = (seconds: number): string => `${clock(seconds).padStart(8, "0")}.000`;

/** One correction: its front matter without what all have. @param n from 0. @param cues how many there are. */
type Correct = (n: number, cues: number) => string;

/** The date of a correction, later with each: two an hour over the year would not do for tens of thousands. */
const dated = (n: number): string => new Date(Date.parse("2026-10-06T08:00:00Z") + n * 1000).toISOString();

/** An episode of so many cues, a word of each of its own, with so many corrections. */
export function correctedSources(cues: number, corrections: number, correct: Correct): EpisodeSources {
  const segments = times(SEGMENTS, (n) => {
    const start = clock(Math.ceil((n * cues) / SEGMENTS) * CUE_S);
    return `  - slug: part-${n}\n    kind: reader\n    title: Part ${n}\n    in: ${start}`;
  });
  const front = [
    "title: An evening",
    "aired: 2026-10-05T18:30:00",
    `duration: ${clock(cues * CUE_S)}`,
    'media:\n  - { src: "https://audio.example.org/web.mp3", type: audio/mpeg }',
    "clock: media",
    `segments:\n${segments.join("\n")}`,
  ];
  const spoken = times(cues, (n) => {
    const words = `The harbour of ${inventedWord(n)} has nine sailings a week.`;
    return `${stamp(n * CUE_S)} --> ${stamp((n + 1) * CUE_S)}\n<v Ilse Marrane>${words}\n`;
  });
  const written = times(corrections, (n) => {
    const date = dated(n);
    const text = `---\ndated: ${date}\nsigned: Online desk\n${correct(n, cues)}\n---\nThis was put right, as note ${n} says.\n`;
    return source(`corrections/${nameOf(n)}.md`, text);
  });
  return {
    id: "2026-10-05",
    year: "2026",
    folder: FOLDER,
    episode: source("episode.md", `---\n${front.join("\n")}\n---\n`),
    transcript: source("transcript.vtt", `WEBVTT\n\n${spoken.join("\n")}`),
    translations: [],
    corrections: written,
    asPublished: [],
    merged: [],
    record: null,
    files: written.map(({ file, bytes }) => ({ file, bytes: bytes.length, modified: 0 })),
  };
}

/** The name that a correction has: its day in the programme's zone, and its number. */
function nameOf(n: number): string {
  const day = new Intl.DateTimeFormat("en-CA", { timeZone: ZONE }).format(new Date(dated(n)));
  return `${day}-${n + 1}`;
}

/** All that is done with the corrections of an episode, from its files to the plan of its pages. */
function stepsOf(sources: EpisodeSources): Steps {
  const programme = programmeOf([]);
  const setting = pageContextOf(programme, NO_ASSETS);
  const needed = <T>(value: T | null, what: string): T => {
    if (value === null) throw new Error(`no ${what}`);
    return value;
  };
  const read = recordFolderOf(sources, ZONE, new Date(NOW));
  const faults = read.findings.filter(({ level }) => level === "blocks");
  if (faults[0] !== undefined) throw new Error(`${faults[0].at.file}: ${faults[0].says}`);
  const episode = needed(read.episode, "episode");
  let record = "";
  let entered = readRecord(record);
  let shown: ReturnType<typeof showEpisode> | null = null;
  let then: ReturnType<typeof episodeOn> | null = null;
  let laid: ReturnType<typeof layCorrections> | null = null;
  const published = () => ({ ...sources, record: source("record.jsonl", record) });
  return {
    "episode parsed": () => parseEpisode(sources, ZONE),
    "corrections laid": () => {
      laid = layCorrections(episode, NOW);
    },
    "corrections entered": () => {
      const due = entriesDue({
        record: readRecord(""),
        content: needed(read.content, "content"),
        laid: needed(laid, "laid episode"),
        corrections: new Map([...read.input.corrections].map(([id, { digest }]) => [id, digest])),
        reissue: null,
        now: NOW,
      });
      record = due.map(entryLine).join("");
    },
    "record read": () => {
      entered = readRecord(record);
    },
    "record audited": () => {
      const { input } = asRecordFolder(published(), { ok: true, value: episode, findings: [] }, ZONE, new Date(NOW));
      auditEpisode(input, entered);
    },
    "span told": () => spanOf(archived(episode, published(), ZONE), NOW, "2027-01-01", entered),
    "shown on the day": () => {
      then = episodeOn(archived(episode, published(), ZONE), NOW, "written", entered);
    },
    "given to the public": () => {
      shown = showEpisode(needed(then, "episode of the day"), "2027-01-01");
    },
    "pages planned": () => planEpisode(needed(shown, "shown episode"), { earlier: null, later: null }, setting),
  };
}

/** The segment and the time of one of so many cues. */
const AT_ITS_CUE = (n: number, cues: number): string =>
  `segment: part-${Math.floor((n * SEGMENTS) / cues)}\nat: ${clock(n * CUE_S + 1)}`;

/** Everything that is done with corrections, with more and more of them. */
export async function grownRecord(): Promise<readonly Grown[]> {
  const grown = (name: string, cues: (size: number) => number, correct: Correct): Grown => ({
    name: `corrections, ${name}`,
    from: 1250,
    make: (size) => stepsOf(correctedSources(cues(size), size, correct)),
  });
  const asMany = (size: number) => size;
  const some = () => 600;
  const cycle = (n: number) => n % some();
  return [
    grown("a note on each cue", asMany, (n, cues) => `kind: on-air\n${AT_ITS_CUE(n, cues)}\nsaid: ${inventedWord(n)}`),
    grown("a word of each cue replaced", asMany, (n, cues) => {
      return `kind: transcript\n${AT_ITS_CUE(n, cues)}\nsaid: harbour of ${inventedWord(n)}\nnow: port of ${inventedWord(n)}`;
    }),
    grown("notes on the words of an evening", some, (n, cues) => {
      return `kind: on-air\n${AT_ITS_CUE(cycle(n), cues)}\nsaid: ${inventedWord(cycle(n))}`;
    }),
    grown(
      "notes on the same words",
      some,
      (_, cues) => `kind: on-air\n${AT_ITS_CUE(3, cues)}\nsaid: ${inventedWord(3)}`,
    ),
    grown("notes on the same words, each in the place of the one before", some, (n, cues) => {
      const supersedes = n === 0 ? "" : `\nsupersedes: ${nameOf(n - 1)}`;
      return `kind: on-air\n${AT_ITS_CUE(3, cues)}\nsaid: ${inventedWord(3)}${supersedes}`;
    }),
    grown("words of an evening in many places", some, (n, cues) => {
      return `kind: on-air\n${AT_ITS_CUE(cycle(n), cues)}\nsaid: nine sailings a week`;
    }),
    grown("a title again and again", some, (n) => {
      const [was, now] = [n === 0 ? "Part 3" : `Title ${n}`, `Title ${n + 1}`];
      return `kind: page\nsegment: part-3\nfield: title\nsaid: ${was}\nnow: ${now}`;
    }),
    grown("speakers of an evening", some, (n, cues) => {
      const [was, now] =
        Math.floor(n / cues) % 2 === 0 ? ["Ilse Marrane", "Tovar Quenby"] : ["Tovar Quenby", "Ilse Marrane"];
      return `kind: transcript\nfield: speaker\n${AT_ITS_CUE(cycle(n), cues)}\nsaid: ${was}\nnow: ${now}`;
    }),
    grown("updates of the whole", some, () => "kind: update"),
    grown("words that are not there", some, (n, cues) => {
      return `kind: on-air\n${AT_ITS_CUE(cycle(n), cues)}\nsaid: The harbour of X${inventedWord(n)}`;
    }),
  ];
}
