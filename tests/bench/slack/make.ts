import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { saidWords } from "../../../src/derive/align/said.ts";
import { NothingMeasured } from "../../support/broadcasts.ts";
import { readScript } from "./script.ts";
import { music, RATE, speak } from "./voices.ts";

const HERE = import.meta.dirname;
/** The day that the programme says it is. */
const ID = "2026-11-05";
/** Pauses in seconds: after a sentence, between two speakers, around music. */
const PAUSE = { sentence: 0.35, turn: 0.5, music: 0.4 } as const;

interface SaidSentence {
  readonly start: number;
  readonly end: number;
  readonly text: string;
  readonly spoken: string;
}

/**
 * `npm run bench -- slack OUT`: makes the sound of the scripts here, with what was said when, into a folder that the
 * other benches take. The recogniser's words of that sound lie beside the script, as they came.
 */
export function makeSlack(out?: string): void {
  if (out === undefined) throw new NothingMeasured("Nothing was made: name the folder to make it in.");
  const work = mkdtempSync(join(tmpdir(), "slack-"));
  const folder = join(out, ID);
  mkdirSync(folder, { recursive: true });
  try {
    make(work, folder);
  } catch (error) {
    throw new NothingMeasured(`Nothing was made: ${error instanceof Error ? error.message : String(error)}`);
  } finally {
    rmSync(work, { recursive: true });
  }
  cpSync(join(HERE, "names.csv"), join(out, "names.csv"));
  process.stdout.write(`${folder}\n`);
}

function make(work: string, folder: string): void {
  const script = readScript(readFileSync(join(HERE, "morning-slack.txt"), "utf8"));
  const pieces: Float32Array[] = [];
  let at = 0;
  const lay = (samples: Float32Array) => {
    pieces.push(samples);
    at += samples.length / RATE;
  };
  const rest = (seconds: number) => lay(new Float32Array(Math.round(seconds * RATE)));
  const sounds: { kind: string; start: number; end: number }[] = [];
  const play = (kind: string, seconds: number) => {
    sounds.push({ kind, start: at, end: at + seconds });
    lay(music(seconds));
    rest(PAUSE.music);
  };
  const turns: { segment: string; speaker: string; start: number; end: number; sentences: SaidSentence[] }[] = [];
  const ins: number[] = [];
  play("opening music", 4);
  script.forEach(({ slug, kind, turns: own }, n) => {
    ins.push(n === 0 ? 0 : at);
    if (kind === "break") play("break music", 20);
    for (const { speaker, sentences } of own) {
      const said: SaidSentence[] = [];
      for (const text of sentences) {
        const samples = speak(speaker, text, work);
        const start = at;
        lay(samples);
        const spoken = saidWords(text.split(" "))
          .map((word) => word.said)
          .join(" ");
        said.push({ start, end: at, text, spoken });
        rest(PAUSE.sentence);
      }
      turns.push({ segment: slug, speaker, start: said[0]?.start ?? at, end: said.at(-1)?.end ?? at, sentences: said });
      rest(PAUSE.turn - PAUSE.sentence);
    }
  });
  play("closing music", 4);
  const round = (_: string, value: unknown) => (typeof value === "number" ? Math.round(value * 1000) / 1000 : value);
  const segments = script.map(({ turns: own, ...segment }, n) => ({
    ...segment,
    in: ins[n] ?? 0,
    out: ins[n + 1] ?? at,
    speakers: [...new Set(own.map(({ speaker }) => speaker))],
  }));
  const truth = {
    episode: ID,
    programme: "The Morning Slack",
    station: "Verrin Islands Radio",
    language: "en-GB",
    aired: `${ID}T07:00:00`,
    duration: at,
    cuts: [],
    segments,
    sounds,
    turns,
  };
  writeFileSync(join(folder, "truth.json"), JSON.stringify(truth, round, 1));
  writeFileSync(
    join(folder, "truth.txt"),
    turns.map((turn) => `${turn.speaker}: ${turn.sentences.map(({ text }) => text).join(" ")}\n`).join("\n"),
  );
  const quoted = (text: string) => (/[",]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  const rows = script.map(({ slug, title, kind, planned, by }) =>
    [slug, title, kind, planned, by.join(", ")].map(quoted).join(","),
  );
  writeFileSync(join(folder, "order.csv"), `slug,title,kind,planned,by\n${rows.join("\n")}\n`);
  sound(pieces, folder, work);
  raws(folder);
}

/** The recording as mp3, 32 kbit/s, and as the recogniser takes it. */
function sound(pieces: readonly Float32Array[], folder: string, work: string): void {
  const raw = join(work, "aired.s16");
  const samples = pieces.flatMap((piece) => [
    Buffer.from(Int16Array.from(piece, (value) => Math.max(-1, Math.min(1, value)) * 32_767).buffer),
  ]);
  writeFileSync(raw, Buffer.concat(samples));
  const input = ["-f", "s16le", "-ar", String(RATE), "-ac", "1", "-i", raw];
  execFileSync("ffmpeg", ["-v", "error", "-y", ...input, "-b:a", "32k", join(folder, "aired.mp3")]);
  execFileSync("ffmpeg", ["-v", "error", "-y", ...input, join(folder, "aired.wav")]);
}

interface Word {
  readonly start: number;
  readonly end: number;
  readonly word: string;
}

/** The recogniser's words in the shapes that benches read: lumps of about 22 seconds, with a full stop at a gap. */
function raws(folder: string): void {
  const text = readFileSync(join(HERE, "morning-slack.words.json"), "utf8");
  const words: readonly Word[] = JSON.parse(text);
  writeFileSync(join(folder, "raw.words.json"), text);
  const lumps: Word[][] = [];
  for (const word of words) {
    const last = lumps.at(-1);
    if (last === undefined || word.end - (last[0]?.start ?? 0) > 22) lumps.push([word]);
    else last.push(word);
  }
  const written = lumps.map((lump) => ({ start: lump[0]?.start ?? 0, end: lump.at(-1)?.end ?? 0, text: prose(lump) }));
  const clock = (seconds: number) => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;
  const exact = (seconds: number) => new Date(seconds * 1000).toISOString().slice(11, 23);
  writeFileSync(
    join(folder, "raw.txt"),
    written.map(({ start, text: own }) => `[${clock(start)}] ${own}\n`).join("\n"),
  );
  const cues = written.map(({ start, end, text: own }) => `${exact(start)} --> ${exact(end)}\n${own}\n`);
  writeFileSync(join(folder, "raw.vtt"), `WEBVTT\n\n${cues.join("\n")}`);
}

/** Capitals and full stops put in mechanically, as the demo's raw text has them. */
function prose(lump: readonly Word[]): string {
  let text = "";
  lump.forEach(({ word, end }, n) => {
    const begins = text === "" || text.endsWith(". ");
    const next = lump[n + 1];
    text += begins ? word.charAt(0).toUpperCase() + word.slice(1) : word;
    text += next === undefined || next.start - end >= 0.27 ? ". " : " ";
  });
  return text.trim();
}
