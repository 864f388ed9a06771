import { spawn } from "node:child_process";
import { randomUUID } from "node:crypto";
import { open, rename, rm } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { decodingArgs, type Making, makingArgs } from "./ffmpegArgs.ts";
import { nodeFiles, requireRoom, writeFault } from "./files.ts";

/** A stretch of a file's sound that is wanted, in milliseconds; what lies outside the file is silence. */
export interface Wanted {
  readonly from: number;
  readonly to: number;
}

/** What a file's sound is like. */
export interface Heard {
  /** How long it runs by its samples, in milliseconds, without what the encoder put in front and behind. */
  readonly ms: number;
  /** The samples of each wanted stretch. */
  readonly windows: readonly Float32Array[];
}

export type Done<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly says: string };

/** ffmpeg, where it is installed. This file alone runs it, always with a list of arguments and never through a shell. */
export interface Ffmpeg {
  /** The first line of what it says of itself. */
  readonly version: string;
  /** Decodes a file's sound to one channel, at `rate` samples a second. */
  listen(file: string, rate: number, wanted: readonly Wanted[]): Promise<Done<Heard>>;
  /** The same, whole, as it comes. */
  samples(file: string, rate: number, take: (samples: Float32Array) => void): Promise<Done<null>>;
  /** Makes a recording whole or not at all, and never over another file. `progress`: milliseconds made so far. */
  make(making: Making, progress: (ms: number) => void): Promise<Done<null>>;
}

/** Finds ffmpeg: the program of that name or path. Null where it is not there, or is another program. */
export async function findFfmpeg(program: string): Promise<Ffmpeg | null> {
  let said = "";
  const ran = await run(program, ["-hide_banner", "-version"], (bytes) => {
    said += latin(bytes);
  });
  const [version = ""] = said.split("\n", 1);
  if (!ran.ok || !version.startsWith("ffmpeg ")) return null;
  return {
    version,
    listen: (file, rate, wanted) => listen(program, file, rate, wanted),
    samples: (file, rate, take) => {
      const stream = sampleStream();
      return run(program, decodingArgs(file, rate), (bytes) => take(stream(bytes)));
    },
    make: (making, progress) => make(program, making, progress),
  };
}

const latin = (bytes: Uint8Array): string => Buffer.from(bytes).toString("latin1");

/** Runs a program to its end; why it failed is said in its own last words. */
async function run(
  program: string,
  args: readonly string[],
  onBytes: (bytes: Uint8Array) => void,
): Promise<Done<null>> {
  const child = spawn(program, [...args], { stdio: ["ignore", "pipe", "pipe"] });
  let complaint = "";
  child.stdout.on("data", onBytes);
  child.stderr.on("data", (bytes: Buffer) => {
    complaint = (complaint + bytes.toString("utf8")).slice(-2000);
  });
  const ended = await new Promise<number | null | Error>((resolve) => {
    child.once("error", resolve);
    child.once("close", resolve);
  });
  if (ended === 0) return { ok: true, value: null };
  const last = complaint.trim().split("\n").slice(-3).join(" / ");
  const end = ended instanceof Error ? ended.message : `it ended with ${ended ?? "a signal"}`;
  return { ok: false, says: last === "" ? end : last };
}

async function listen(program: string, file: string, rate: number, wanted: readonly Wanted[]): Promise<Done<Heard>> {
  const sampleAt = (ms: number): number => Math.round((ms * rate) / 1000);
  const windows = wanted.map(({ from, to }) => ({
    start: sampleAt(from),
    samples: new Float32Array(sampleAt(to - from)),
  }));
  const stream = sampleStream();
  let count = 0;
  const ran = await run(program, decodingArgs(file, rate), (bytes) => {
    const heard = stream(bytes);
    for (const { start, samples } of windows) {
      const [from, to] = [Math.max(count, start), Math.min(count + heard.length, start + samples.length)];
      if (from < to) samples.set(heard.subarray(from - count, to - count), from - start);
    }
    count += heard.length;
  });
  if (!ran.ok) return ran;
  return { ok: true, value: { ms: (count / rate) * 1000, windows: windows.map(({ samples }) => samples) } };
}

/** Bytes as they come into samples: 32-bit floats, little end first. A sample that came in two pieces is kept whole. */
export function sampleStream(): (bytes: Uint8Array) => Float32Array {
  let rest = new Uint8Array(0);
  return (bytes) => {
    const all = new Uint8Array(rest.length + bytes.length);
    all.set(rest);
    all.set(bytes, rest.length);
    const view = new DataView(all.buffer);
    const samples = new Float32Array(Math.floor(all.length / 4));
    for (let n = 0; n < samples.length; n++) samples[n] = view.getFloat32(n * 4, true);
    rest = all.slice(samples.length * 4);
    return samples;
  };
}

async function make(program: string, making: Making, progress: (ms: number) => void): Promise<Done<null>> {
  const { out } = making;
  // The ending stays: ffmpeg goes by it. No reader looks at a name that begins with a full stop.
  const beside = join(dirname(out), `.${randomUUID()}.${basename(out)}`);
  try {
    // ffmpeg's words for a disk that takes nothing are its own, and of a full one it may say that all went well.
    await nodeFiles.writeSynced(beside, new Uint8Array(1));
    await rm(beside);
    const args = ["-v", "error", "-nostats", "-progress", "pipe:1", ...makingArgs({ ...making, out: beside })];
    const ran = await run(program, args, (bytes) => {
      const done = /(?:^|\n)out_time_us=(\d+)/.exec(latin(bytes))?.[1];
      if (done !== undefined) progress(Number(done) / 1000);
    });
    await requireRoom(dirname(out), 1);
    if (!ran.ok) return ran;
    await sync(beside);
    if (!(await nodeFiles.create(out, "")))
      return { ok: false, says: `${out} is there already, and was left as it is` };
    await rename(beside, out);
    await nodeFiles.syncFolder(dirname(out));
    return { ok: true, value: null };
  } catch (error) {
    throw writeFault(error, dirname(out), "Nothing was written.");
  } finally {
    await rm(beside, { force: true });
  }
}

async function sync(path: string): Promise<void> {
  const file = await open(path, "r+");
  await file.sync().finally(() => file.close());
}
