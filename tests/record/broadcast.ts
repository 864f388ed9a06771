import type { CorrectionKind } from "../../src/model/correctionKinds.ts";
import type {
  CuePiece,
  Episode,
  NoteCorrection,
  PageCorrection,
  Segment,
  TranscriptCorrection,
  TranscriptCue,
  Withdrawal,
} from "../../src/model/episode.ts";
import { clockMs, mediaMs } from "../../src/model/units.ts";

const PLACE = { file: "episodes/2026/2026-10-05/episode.md", line: 1, column: 1 };

export const segment = (slug: string, from: number, to: number, rest: Partial<Segment> = {}): Segment => ({
  slug,
  kind: "package",
  title: `About ${slug}`,
  in: clockMs(from * 1000),
  out: clockMs(to * 1000),
  by: ["Ilse Marrane"],
  topics: [],
  places: [],
  summary: null,
  rights: null,
  cautions: [],
  planned: null,
  at: PLACE,
  ...rest,
});

/** A cue of five seconds; `words` in one voice, or several voices' pieces. */
export const cue = (start: number, words: string | readonly CuePiece[], voice = "Tamsin Hathersay"): TranscriptCue => ({
  id: "",
  start: clockMs(start * 1000),
  end: clockMs(start * 1000 + 5000),
  pieces: typeof words === "string" ? [{ voice, language: null, words }] : words,
  settings: "",
  at: PLACE,
});

export const CUES: readonly TranscriptCue[] = [
  cue(0, "Good evening. The ferry from Sollen will make eleven"),
  cue(5, "sailings a week,\nnot fourteen."),
  cue(10, "Osric Tarrick has kept Hallan light for forty years."),
  cue(15, [
    { voice: "Tamsin Hathersay", language: null, words: "Ilse Marrane reports." },
    { voice: "Ilse Marrane", language: null, words: "Eleven sailings – that’s what’s left, says the “company”." },
  ]),
  cue(20, "The harbour master, Rowan Skelland, would not be drawn.", "Ilse Marrane"),
  cue(25, "Rowan Skelland’s office did not answer.", "Ilse Marrane"),
  cue(30, "[music]", ""),
  cue(35, "That is all from us. Good night."),
];

export const episode = (rest: Partial<Episode> = {}): Episode => ({
  id: "2026-10-05",
  title: "Fewer ferries",
  summary: "The timetable, and a light.",
  aired: "2026-10-05T18:30:00.000+01:00",
  duration: mediaMs(40_000),
  media: [{ src: "https://media.example.org/a.mp3", type: "audio/mpeg", bytes: null }],
  clock: "aired",
  cuts: [],
  segments: [
    segment("headlines", 0, 15, { kind: "headlines", by: [] }),
    segment("ferry-timetable", 15, 30, { summary: "What is left of the timetable." }),
    segment("close", 30, 40, { kind: "close", by: [] }),
  ],
  cues: CUES,
  notes: "With thanks.",
  corrections: [],
  folder: "episodes/2026/2026-10-05",
  at: PLACE,
  ...rest,
});

type Given<T> = Partial<Omit<T, "kind">> & { readonly id: string };
const base = ({ id }: { readonly id: string }) => ({
  id,
  dated: `${id.slice(0, 10)}T09:00:00.000+01:00`,
  segment: null,
  at: null,
  signed: "Standards editor",
  supersedes: null,
  note: `Note ${id}.`,
  place: { file: `episodes/2026/2026-10-05/corrections/${id}.md`, line: 1, column: 1 },
});

export const noted = (
  kind: Extract<CorrectionKind, "on-air" | "clarification" | "update">,
  given: Given<NoteCorrection>,
): NoteCorrection => ({ ...base(given), said: null, every: false, ...given, kind });
export const transcript = (
  given: Given<TranscriptCorrection> & { said: string; now: string },
): TranscriptCorrection => ({ ...base(given), every: false, ...given, kind: "transcript" });
export const page = (
  given: Given<PageCorrection> & Pick<PageCorrection, "field" | "said" | "now">,
): PageCorrection => ({
  ...base(given),
  ...given,
  kind: "page",
});
export const withdrawal = (given: Given<Withdrawal>): Withdrawal => ({ ...base(given), ...given, kind: "withdrawal" });

export const at = (seconds: number) => clockMs(seconds * 1000);
