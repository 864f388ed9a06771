import { readFileSync } from "node:fs";
import { join } from "node:path";
import { loadLexicon } from "../../../src/actions/lexicon.ts";
import { placesBelow } from "../../../src/actions/places.ts";
import { type Subject, type Surroundings, subjectOf, summaryOf, surroundingsOf } from "../../../src/checks/subject.ts";
import type { Episode, TranscriptCue } from "../../../src/model/episode.ts";
import { NAME_KINDS, type Programme, type RegisteredName } from "../../../src/model/programme.ts";
import { clockMs, mediaMs } from "../../../src/model/units.ts";
import { parseTranscript } from "../../../src/read/transcript.ts";
import { layCorrections } from "../../../src/record/lay.ts";
import { segment } from "../../support/episodes.ts";

export const SOMEWHERE = { file: "programme.md", line: 1, column: 1 };

export function programmeOf(names: readonly RegisteredName[], more: Partial<Programme> = {}): Programme {
  return {
    title: "The Evening Tide",
    station: "Verrin Islands Broadcasting",
    language: "en-GB",
    timezone: "Europe/London",
    url: "https://tide.example.org/",
    slots: [{ at: "18:30", runs: 480_000, days: "weeknights", edition: null }],
    frameRate: 25,
    reports: "mailto:corrections@tide.example.org",
    mediaHosts: [],
    presenters: ["Tamsin Hathersay"],
    poster: { file: "poster.svg", alt: "A harbour" },
    about: "",
    names,
    textPages: [],
    at: SOMEWHERE,
    ...more,
  };
}

/** A register from lines of `name,kind,…`, as names.csv has them. */
export function registerFrom(csv: string): readonly RegisteredName[] {
  return csv
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => {
      const [name = "", kind = ""] = line.split(",");
      const known = NAME_KINDS.find((own) => own === kind) ?? "person";
      return {
        slug: name.toLowerCase().replace(/\W+/g, "-"),
        name,
        kind: known,
        role: null,
        say: null,
        misspelt: [],
        about: "",
        at: SOMEWHERE,
      };
    });
}

export const around = async (programme: Programme, root = ""): Promise<Surroundings> =>
  surroundingsOf({
    programme,
    day: "2026-10-12",
    lexicon: await loadLexicon(),
    archive: summaryOf([]),
    placeOf: placesBelow(root),
  });

export const subjectFrom = (episode: Episode, own: Surroundings): Subject =>
  subjectOf(layCorrections(episode, "2027-01-01T00:00:00Z"), own);

export interface Turn {
  readonly voice: string | null;
  readonly segment: string;
  readonly text: string;
}

/** Common pace of news: words a minute. */
const PACE = 165;
/** Words of a caption. */
const CAPTION = 10;

/** An episode of turns, in captions of ten words at an even pace; one segment for each slug, in order. */
export function episodeOf(turns: readonly Turn[], more: Partial<Episode> = {}): Episode {
  let at = 0;
  const cues: TranscriptCue[] = [];
  const ends = new Map<string, { from: number; to: number }>();
  for (const { voice, segment: slug, text } of turns) {
    const words = text.split(/\s+/);
    const from = ends.get(slug)?.from ?? at;
    for (let n = 0; n < words.length; n += CAPTION) {
      const own = words.slice(n, n + CAPTION);
      const end = at + Math.round((own.length * 60_000) / PACE);
      const place = { file: "transcript.vtt", line: 3 + cues.length * 3, column: 1 };
      cues.push({
        id: "",
        start: clockMs(at),
        end: clockMs(end),
        pieces: [{ voice, language: null, words: own.join(" ") }],
        settings: "",
        at: place,
      });
      at = end;
    }
    ends.set(slug, { from, to: at });
  }
  const segments = [...ends].map(([slug, { from, to }]) => ({
    ...segment(slug, "0:00", "0:01"),
    title: "A segment",
    kind: slug === "headlines" ? ("headlines" as const) : ("reader" as const),
    in: clockMs(from),
    out: clockMs(to),
  }));
  return {
    id: "2026-10-05",
    title: "An evening",
    summary: null,
    aired: "2026-10-05T18:30:00.000+01:00",
    duration: mediaMs(at),
    media: [],
    clock: "aired",
    cuts: [],
    segments,
    cues,
    notes: "",
    corrections: [],
    folder: "episodes/2026/2026-10-05",
    at: SOMEWHERE,
    ...more,
  };
}

interface Truth {
  readonly aired: string;
  readonly duration: number;
  readonly segments: readonly { slug: string; kind: Episode["segments"][number]["kind"]; in: number; out: number }[];
  readonly turns: readonly {
    segment: string;
    speaker: string;
    sentences: readonly { start: number; end: number; text: string }[];
  }[];
}

/** A broadcast's transcript as an episode whose segments are the true ones. */
export function broadcastOf(folder: string, transcript: string): { episode: Episode; truth: Truth } {
  const truth: Truth = JSON.parse(readFileSync(join(folder, "truth.json"), "utf8"));
  const read = parseTranscript({ file: transcript, bytes: readFileSync(join(folder, transcript)) });
  if (!read.ok) throw new Error(`${transcript} can't be read: ${read.findings[0]?.says ?? ""}`);
  const ms = (seconds: number) => clockMs(Math.round(seconds * 1000));
  const segments = truth.segments.map((own) => ({
    ...segment(own.slug, "0:00", "0:01"),
    title: own.slug,
    kind: own.kind,
    in: ms(own.in),
    out: ms(own.out),
  }));
  const episode = episodeOf([], {
    aired: `${truth.aired}.000+01:00`,
    duration: mediaMs(truth.duration * 1000),
    segments,
    cues: read.value,
  });
  return { episode, truth };
}
