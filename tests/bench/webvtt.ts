import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import webvtt from "webvtt-parser";
import { cuePieces, decodeVtt, formatTimestamp, parseVtt, validateVtt } from "../../src/webvtt/index.ts";

const MB = 1_000_000;

const LINES = [
  "<v Ilse Marrane>Good evening. It is half past six, and this is the programme.",
  "<v Tovar Quenby>The council’s transport committee says that is only half the story.</v>",
  "Nine sailings a week, from Monday the twelfth of October.\nIt was eleven last winter.",
  "<v Ilse Marrane>Marks &amp; Sons have <i>not</i> replied.</v>\n<v Tovar Quenby>Thank you.</v>",
];
const SETTINGS = ["", "", "", " align:start position:10%,line-left size:80%", " line:0"];

/** A file of about `size` bytes of the kind that a station writes, the same for the same size. */
function captionFile(size: number): Uint8Array {
  const blocks: string[] = ["WEBVTT\n"];
  let length = 0;
  for (let n = 0; length < size; n++) {
    const timings = `${formatTimestamp(n * 2500)} --> ${formatTimestamp(n * 2500 + 2400)}${SETTINGS[n % 5]}`;
    const block = `${n % 2 === 0 ? `${n}\n` : ""}${timings}\n${LINES[n % 4]}\n`;
    length += block.length + 1;
    blocks.push(block);
  }
  return new TextEncoder().encode(blocks.join("\n"));
}

/** The least of `runs` runs, in milliseconds: the one least disturbed. */
function leastMs(runs: number, work: () => unknown): number {
  let least = Number.POSITIVE_INFINITY;
  for (let n = 0; n < runs; n++) {
    const start = performance.now();
    work();
    least = Math.min(least, performance.now() - start);
  }
  return least;
}

const row = (what: string, ms: number, more: string): void =>
  console.log(`${what.padEnd(44)} ${ms.toFixed(0).padStart(7)} ms  ${more}`);

/** Our parser against `webvtt-parser` on the same 25 MB; the other one builds the cue text of every cue, so we do too. */
function benchRatio(): void {
  const { text } = decodeVtt(captionFile(25 * MB));
  const ours = leastMs(3, () => parseVtt(text));
  const whole = leastMs(3, () => {
    const file = parseVtt(text);
    return file.cues.reduce((sum, cue) => sum + cuePieces(file, cue).length, 0);
  });
  const theirs = leastMs(1, () => new webvtt.WebVTTParser().parse(text, "subtitles"));
  row("25 MB, webvtt-parser", theirs, "1x");
  row("25 MB, parseVtt", ours, `${(theirs / ours).toFixed(0)}x`);
  row("25 MB, parseVtt and the pieces of every cue", whole, `${(theirs / whole).toFixed(0)}x`);
}

function benchSizes(): void {
  for (const size of [12.5, 25, 50, 100]) {
    const { text } = decodeVtt(captionFile(size * MB));
    const ms = leastMs(2, () => parseVtt(text));
    row(`${size} MB, parseVtt`, ms, `${(size / (ms / 1000)).toFixed(0)} MB/s`);
  }
  const { text } = decodeVtt(captionFile(25 * MB));
  const file = parseVtt(text);
  const ms = leastMs(1, () => validateVtt(file, "captions", "bench.vtt"));
  row("25 MB, validateVtt", ms, `${(25 / (ms / 1000)).toFixed(0)} MB/s`);
}

function benchLongLine(): void {
  const words = "five < six & seven <b>eight ".repeat((50 * MB) / 28);
  const text = `WEBVTT\n\n00:00.000 --> 00:01.000\n${words}\n`;
  const file = parseVtt(text);
  row(
    "one line of 50 MB, parseVtt",
    leastMs(2, () => parseVtt(text)),
    `${file.cues.length} cue`,
  );
  const [cue] = file.cues;
  if (cue === undefined) throw new Error("The long line has lost its cue.");
  row(
    "one line of 50 MB, its pieces",
    leastMs(1, () => cuePieces(file, cue)),
    "",
  );
}

/** The peak of a child process that reads and parses a file, less that of one that parses an empty file. */
function benchMemory(): void {
  const folder = mkdtempSync(join(tmpdir(), "afterair-bench-"));
  const webvtt = new URL("../../src/webvtt/index.ts", import.meta.url).href;
  const script = `
    import { readFileSync } from "node:fs";
    import { decodeVtt, parseVtt } from ${JSON.stringify(webvtt)};
    const file = parseVtt(decodeVtt(readFileSync(process.argv[1])).text);
    console.log(file.cues.length, process.resourceUsage().maxRSS);`;
  const peak = (bytes: Uint8Array): number => {
    const path = join(folder, "bench.vtt");
    writeFileSync(path, bytes);
    const root = fileURLToPath(new URL("../..", import.meta.url));
    const out = execFileSync(process.execPath, ["--import", "tsx", "--input-type=module", "-e", script, path], {
      cwd: root,
    });
    return Number(String(out).split(" ")[1]) * 1024;
  };
  try {
    const bytes = captionFile(100 * MB);
    const [base, whole] = [peak(new Uint8Array()), peak(bytes)];
    const times = (n: number): string => `${(n / bytes.length).toFixed(1)} times the file`;
    console.log(
      `100 MB, peak memory: ${times(whole - base)}; with the ${(base / MB).toFixed(0)} MB of Node: ${times(whole)}`,
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Prints throughput, growth with size and peak memory of the WebVTT parser. */
export async function benchWebvtt(): Promise<void> {
  benchRatio();
  benchSizes();
  benchLongLine();
  benchMemory();
}
