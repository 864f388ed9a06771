import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { NothingMeasured } from "../../support/broadcasts.ts";
import type { Voice } from "./voices.ts";

/** Samples a second of what is made. */
export const RATE = 24_000;

/** How much slower everybody speaks than the synthesisers do by themselves, which is over 200 words a minute. */
const PACE = 0.88;

/** What is used, and the Debian package that has it. */
const TOOLS: Readonly<Record<string, string>> = {
  "espeak-ng": "espeak-ng",
  ffmpeg: "ffmpeg",
  flite: "flite",
  sox: "sox",
  text2wave: "festival",
};
const FESTIVAL_VOICES: Readonly<Record<string, string>> = {
  "us/cmu_us_slt_arctic_hts": "festvox-us-slt-hts",
  "english/kal_diphone": "festvox-kallpc16k",
  "english/ked_diphone": "festvox-kdlpc16k",
};
const FESTIVAL_FOLDER = "/usr/share/festival/voices";

/** Runs a program. @returns what it printed. @throws where it fails. */
export function run(command: string, args: readonly string[], input?: string | Uint8Array): Promise<Buffer> {
  const child = spawn(command, args, { stdio: ["pipe", "pipe", "pipe"] });
  const [out, told]: [Buffer[], Buffer[]] = [[], []];
  child.stdout.on("data", (bytes: Buffer) => out.push(bytes));
  child.stderr.on("data", (bytes: Buffer) => told.push(bytes));
  child.stdin.on("error", () => {}); // a program that ends early says why itself
  child.stdin.end(input);
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (code) => {
      if (code === 0) resolve(Buffer.concat(out));
      else reject(new Error(`${command} ended with ${code}: ${Buffer.concat(told).toString().slice(-400)}`));
    });
  });
}

/** @throws where a synthesiser is missing, saying which packages to install. */
export function needSynthesisers(): void {
  const isThere = (command: string) =>
    (process.env.PATH ?? "").split(":").some((folder) => existsSync(join(folder, command)));
  const missing = [
    ...Object.entries(TOOLS).flatMap(([command, own]) => (isThere(command) ? [] : [own])),
    ...Object.entries(FESTIVAL_VOICES).flatMap(([path, own]) => (existsSync(join(FESTIVAL_FOLDER, path)) ? [] : [own])),
  ];
  if (missing.length > 0)
    throw new NothingMeasured(`Nothing was made: install the Debian packages ${missing.join(", ")}.`);
}

/** One sentence in a voice, trimmed, at `RATE`; as loud as the others. */
export async function synthesise(text: string, voice: Voice): Promise<Float32Array> {
  const folder = await mkdtemp(join(tmpdir(), "voice-"));
  try {
    const wave = join(folder, "own.wav");
    const [engine = "", own = ""] = voice.voice.split(" ");
    if (engine === "flite") await run("flite", ["-voice", own, "-t", text, "-o", wave]);
    else if (engine === "festival") await run("text2wave", ["-eval", `(voice_${own})`, "-o", wave], text);
    else await run("espeak-ng", ["-v", own, "-w", wave, text]);
    const effects = [
      ...(voice.size === undefined ? [] : ["speed", String(voice.size)]),
      ...(voice.pitch === undefined ? [] : ["pitch", String(voice.pitch)]),
      "tempo",
      "-s",
      String(PACE * (voice.tempo ?? 1)),
      "rate",
      String(RATE),
      ...(voice.from === "phone" ? ["sinc", "300-3400"] : []),
    ];
    const raw = join(folder, "own.raw");
    await run("sox", ["-D", wave, "-t", "raw", "-e", "signed", "-b", "16", "-c", "1", raw, "gain", "-6", ...effects]);
    const bytes = await readFile(raw);
    return leveled(
      trimmed(Float32Array.from({ length: bytes.length >> 1 }, (_, n) => bytes.readInt16LE(n * 2) / 32768)),
    );
  } finally {
    await rm(folder, { recursive: true });
  }
}

/** Without the quiet before and after. */
function trimmed(samples: Float32Array): Float32Array {
  const most = samples.reduce((top, own) => Math.max(top, Math.abs(own)), 0);
  const isLoud = (own: number) => Math.abs(own) > most / 80;
  const [first, last] = [samples.findIndex(isLoud), samples.findLastIndex(isLoud)];
  const edge = Math.round(0.01 * RATE);
  return samples.slice(Math.max(0, first - edge), last + edge);
}

function leveled(samples: Float32Array): Float32Array {
  const energy = samples.reduce((sum, own) => sum + own * own, 0) / Math.max(1, samples.length);
  const most = samples.reduce((top, own) => Math.max(top, Math.abs(own)), 0);
  const gain = Math.min(0.08 / Math.sqrt(energy + 1e-12), 0.9 / (most + 1e-9));
  return samples.map((own) => own * gain);
}
