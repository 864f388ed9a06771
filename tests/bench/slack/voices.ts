import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";

/** Samples a second of all sound here. */
export const RATE = 16_000;

/** How somebody sounds: a synthesiser, and what sox does to it (pitch in cents, pace as a factor). */
interface Voice {
  readonly by: readonly [program: "flite" | "festival" | "espeak-ng", voice: string];
  readonly pitch: number;
  readonly tempo: number;
}

/** Debian's packages: flite, festival with festvox-us-slt-hts, festvox-kallpc16k and festvox-kdlpc16k, espeak-ng. */
export const VOICES: Readonly<Record<string, Voice>> = {
  "Wendeline Orrick": { by: ["flite", "slt"], pitch: -120, tempo: 1 },
  "Piers Haldersby": { by: ["flite", "rms"], pitch: 0, tempo: 1.02 },
  "Corin Ashlock": { by: ["flite", "awb"], pitch: -60, tempo: 1 },
  "Maudie Tresk": { by: ["festival", "cmu_us_slt_arctic_hts"], pitch: -200, tempo: 0.94 },
  "Anders Vole": { by: ["flite", "kal16"], pitch: -150, tempo: 0.95 },
  "Selwyn Garrod": { by: ["festival", "kal_diphone"], pitch: -100, tempo: 0.97 },
  "Greta Lomax": { by: ["espeak-ng", "en-gb+f3"], pitch: 0, tempo: 0.95 },
  "Tibby Farrow": { by: ["festival", "ked_diphone"], pitch: 150, tempo: 1.06 },
};

/** A sentence spoken, without the silence around it. @throws a sentence where a program is missing. */
export function speak(name: string, text: string, folder: string): Float32Array {
  const voice = VOICES[name];
  if (voice === undefined) throw new Error(`Nobody has given ${name} a voice.`);
  const [raw, wav] = [join(folder, "raw.wav"), join(folder, "said.wav")];
  const [program, own] = voice.by;
  const run = (command: string, args: readonly string[], input = "") => {
    try {
      execFileSync(command, args, { input, stdio: ["pipe", "ignore", "ignore"] });
    } catch (error) {
      const missing = (error as NodeJS.ErrnoException).code === "ENOENT";
      throw new Error(missing ? `${command} is missing: install Debian's package ${command}.` : `${command} failed.`);
    }
  };
  if (program === "flite") run("flite", ["-voice", own, "-t", text, "-o", raw]);
  if (program === "festival") run("text2wave", ["-eval", `(voice_${own})`, "-o", raw], text);
  if (program === "espeak-ng") run("espeak-ng", ["-v", own, "-w", raw, text]);
  const trim = ["silence", "1", "0.01", "0.5%", "reverse", "silence", "1", "0.01", "0.5%", "reverse"];
  const sound = ["pitch", String(voice.pitch), "tempo", "-s", String(voice.tempo), "norm", "-6"];
  // Without dither, the same words give the same samples.
  run("sox", ["-D", raw, "-r", String(RATE), "-c", "1", "-b", "16", wav, ...trim, ...sound]);
  const bytes = readFileSync(wav);
  const data = bytes.indexOf("data") + 8;
  return Float32Array.from({ length: (bytes.length - data) >> 1 }, (_, n) => bytes.readInt16LE(data + 2 * n) / 32768);
}

/** Plucked notes (Karplus and Strong, 1983) going up and down a scale: nobody's tune. */
export function music(seconds: number): Float32Array {
  const out = new Float32Array(Math.round(seconds * RATE));
  const scale = [262, 311, 349, 392, 466, 523, 466, 392];
  let seed = 1;
  for (let at = 0, n = 0; at < out.length; at += Math.round(RATE * 0.36), n++) {
    const line = Float32Array.from({ length: Math.round(RATE / (scale[n % scale.length] ?? 262)) }, () => {
      seed = (seed * 16_807) % 2_147_483_647;
      return (seed / 2_147_483_647) * 2 - 1;
    });
    for (let k = 0; k < RATE * 1.5 && at + k < out.length; k++) {
      const here = k % line.length;
      const now = line[here] ?? 0;
      line[here] = (now + (line[(here + 1) % line.length] ?? 0)) * 0.498;
      out[at + k] = (out[at + k] ?? 0) + now * 0.25;
    }
  }
  const fade = RATE * 0.5;
  for (let k = 0; k < fade; k++) out[out.length - 1 - k] = (out[out.length - 1 - k] ?? 0) * (k / fade);
  return out;
}
