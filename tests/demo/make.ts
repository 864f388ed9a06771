import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { newEpisode } from "../../src/actions/new.ts";
import { retimeEpisode } from "../../src/actions/retime.ts";
import { cuts } from "../../src/cli/cuts.ts";
import { blocks, type Finding } from "../../src/model/finding.ts";
import { composeCaptions, cuePieces, parseVtt, wholeMs } from "../../src/webvtt/index.ts";
import { recordDemo } from "./record.ts";

/**
 * Makes the demo's transcripts as a producer would on the evening: a folder from the recogniser's words and the running
 * order, then the corrected words put in with their times. Then the recording that is silent where something was withdrawn,
 * made from the broadcast, and the demo's record anew.
 *
 *     npm run demo -- FOLDER content
 *
 * FOLDER holds a folder for each broadcast, with raw.words.json, order.csv, web.mp3, aired.mp3, aired.ogg, truth.txt and the
 * cuts in truth.json. ffmpeg is needed; the same version of it makes the same files.
 */

const EPISODES = ["2026-10-05", "2026-10-06", "2026-10-07"];

/** A slip of the desk's, so that the demo has something to correct. */
const SLIP = ["at about 25 knots around the Skerrow Bank", "at about 15 knots around the Skerrow Bank"] as const;

/** The episode of which a segment was withdrawn after publication. */
const WITHDRAWN = "2026-10-06";

interface Truth {
  /** What is heard and not said: the desk writes it in. */
  readonly sounds: readonly { readonly kind: string; readonly start: number; readonly end: number }[];
  readonly cuts: readonly { readonly from: number; readonly to: number; readonly why: string }[];
}

async function main([from, content]: readonly (string | undefined)[]): Promise<void> {
  if (from === undefined || content === undefined) throw new Error("npm run demo -- FOLDER CONTENT");
  for (const id of EPISODES) await makeTranscript(id, join(from, id), content);
  for (const ending of ["mp3", "ogg"]) await makeSilenced(ending, join(from, WITHDRAWN), content);
  await recordDemo(content);
}

async function makeTranscript(id: string, from: string, content: string): Promise<void> {
  const desk = await mkdtemp(join(tmpdir(), "demo-"));
  try {
    for (const own of ["programme.md", "poster.svg", "names"]) {
      await cp(join(content, own), join(desk, own), { recursive: true });
    }
    const { cuts, sounds } = JSON.parse(await readFile(join(from, "truth.json"), "utf8")) as Truth;
    const times = join(from, "raw.words.json");
    const made = await newEpisode({
      content: desk,
      id,
      transcript: times,
      runningOrder: join(from, "order.csv"),
      media: [join(from, "web.mp3")],
      cut: cuts.map(({ from: start, to, why }) => `${clock(start)}-${clock(to)}=${why}`),
      now: new Date("2026-10-12T12:00:00Z"),
      clock: "aired",
    });
    refuse(made.findings);
    const text = join(desk, "edited.txt");
    const words = await readFile(join(from, "truth.txt"), "utf8");
    await writeFile(text, words.replace(...SLIP));
    const retimed = await retimeEpisode({ content: desk, id, text, times, inPoints: false, dryRun: false });
    refuse(retimed.findings);
    const own = join("episodes", id.slice(0, 4), id, "transcript.vtt");
    await writeFile(join(content, own), withSounds(await readFile(join(desk, own), "utf8"), sounds));
  } finally {
    await rm(desk, { recursive: true });
  }
}

async function makeSilenced(ending: string, from: string, content: string): Promise<void> {
  const desk = await mkdtemp(join(tmpdir(), "demo-"));
  try {
    const own = join(content, "episodes", WITHDRAWN.slice(0, 4), WITHDRAWN, `web.2.${ending}`);
    // The episode can't be read while a file that it names is missing.
    await cp(join(from, `web.${ending}`), own, { force: false });
    const made = join(desk, `web.2.${ending}`);
    const wanted = {
      content,
      episode: WITHDRAWN,
      on: null,
      source: join(from, `aired.${ending}`),
      make: made,
    } as const;
    const io = { now: new Date(), out: console.log, err: console.error, status: null, ffmpeg: "ffmpeg" };
    const how = { from: "aired", silence: true, write: false, check: false, format: "text" } as const;
    if ((await cuts({ ...wanted, ...how }, io)) !== 0) throw new Error(`${made} could not be made`);
    await cp(made, own);
  } finally {
    await rm(desk, { recursive: true });
  }
}

function withSounds(transcript: string, sounds: Truth["sounds"]): string {
  const file = parseVtt(transcript);
  const speech = file.cues.map((cue) => ({
    start: wholeMs(cue.startTime),
    end: wholeMs(cue.endTime),
    pieces: cuePieces(file, cue),
  }));
  const heard = sounds.map(({ kind, start, end }) => ({
    start: Math.round(start * 1000),
    end: Math.round(end * 1000),
    pieces: [{ voice: null, language: null, words: `[${kind.charAt(0).toUpperCase()}${kind.slice(1)}]` }],
  }));
  return composeCaptions({ cues: [...speech, ...heard].toSorted((a, b) => a.start - b.start) });
}

const clock = (seconds: number): string => `${Math.floor(seconds / 60)}:${(seconds % 60).toFixed(3).padStart(6, "0")}`;

function refuse(findings: readonly Finding[]): void {
  const faults = findings.filter(blocks);
  if (faults.length > 0) throw new Error(JSON.stringify(faults, null, 1));
}

await main(process.argv.slice(2));
