import { type CutList, type ListedStretch, leavesAll } from "../model/cutList.ts";

/** A recording to be made. */
export interface Making {
  readonly list: CutList;
  /** A file of this machine: never an address. */
  readonly source: string;
  readonly out: string;
  /** Its ending says how it is written. */
  readonly format: OutFormat;
  /** Of the sound, in kilobits a second; null: as the encoder has it. */
  readonly kbps: number | null;
}

/** How a file is written: with pictures or not, and ffmpeg's names of the encoders. */
export interface OutFormat {
  readonly video: boolean;
  readonly encoders: readonly string[];
}

const MP4 = ["-c:v", "libx264", "-crf", "20", "-pix_fmt", "yuv420p", "-c:a", "aac", "-movflags", "+faststart"];
const FORMATS: Readonly<Record<string, OutFormat>> = {
  ".mp3": { video: false, encoders: ["-c:a", "libmp3lame"] },
  ".ogg": { video: false, encoders: ["-c:a", "libopus"] },
  ".oga": { video: false, encoders: ["-c:a", "libopus"] },
  ".opus": { video: false, encoders: ["-c:a", "libopus"] },
  ".m4a": { video: false, encoders: ["-c:a", "aac", "-movflags", "+faststart"] },
  ".wav": { video: false, encoders: ["-c:a", "pcm_s16le"] },
  ".flac": { video: false, encoders: ["-c:a", "flac"] },
  ".mp4": { video: true, encoders: MP4 },
  ".mov": { video: true, encoders: MP4 },
  ".webm": { video: true, encoders: ["-c:v", "libvpx-vp9", "-crf", "32", "-b:v", "0", "-c:a", "libopus"] },
};
export const OUT_ENDINGS: readonly string[] = Object.keys(FORMATS);

/** How a file of this name is written; null where that can't be told from its ending. */
export const formatOf = (name: string): OutFormat | null =>
  FORMATS[/\.[a-z0-9]+$/i.exec(name)?.[0].toLowerCase() ?? ""] ?? null;

/**
 * The arguments for ffmpeg that make the public recording. The sound is cut to the sample; a picture goes with the moment
 * at which it begins. Nothing else of the source goes along: no chapters, titles, cover pictures or subtitles, which could
 * tell of what was left out. Same source, same bytes.
 *
 * A name is given as `file:NAME`, so that one that looks like an option or an address is a file's all the same.
 */
export function makingArgs({ list, source, out, format, kbps }: Making): readonly string[] {
  const graph = [...(format.video ? [pictures(list)] : []), ...sounds(list)].join(";");
  return [
    "-nostdin",
    "-hide_banner",
    "-protocol_whitelist",
    "file,pipe",
    "-i",
    `file:${source}`,
    "-filter_complex",
    graph,
    ...(format.video ? ["-map", "[v]"] : []),
    "-map",
    "[a]",
    "-map_metadata",
    "-1",
    "-map_chapters",
    "-1",
    ...format.encoders,
    ...(kbps === null || format.encoders.includes("pcm_s16le") || format.encoders.includes("flac")
      ? []
      : ["-b:a", `${kbps}k`]),
    "-fflags",
    "+bitexact",
    "-flags:a",
    "+bitexact",
    ...(format.video ? ["-flags:v", "+bitexact"] : []),
    `file:${out}`,
  ];
}

/** The first track of sound from the file's own zero on, whatever moment its first sample carries. */
const FROM_ZERO = "aresample=async=1:first_pts=0";

/** Pieces cut to the sample, silent ones by a volume of nothing, joined again. */
function sounds(list: CutList): readonly string[] {
  if (leavesAll(list)) return [`[0:a:0]${FROM_ZERO}[a]`];
  const pieces = list.stretches.filter(({ does }) => does !== "cut");
  const names = pieces.map((_, n) => n);
  return [
    `[0:a:0]${FROM_ZERO},asplit=${pieces.length}${names.map((n) => `[s${n}]`).join("")}`,
    ...pieces.map(({ does, from, to }, n) => {
      const end = to === list.length ? "" : `:end=${seconds(to)}`;
      const silent = does === "silence" ? ",volume=0" : "";
      return `[s${n}]atrim=start=${seconds(from)}${end},asetpts=PTS-STARTPTS${silent}[p${n}]`;
    }),
    `${names.map((n) => `[p${n}]`).join("")}concat=n=${pieces.length}:v=0:a=1[a]`,
  ];
}

/** Pictures keep their moments but for what was cut before them, so that they never drift from the sound. */
function pictures(list: CutList): string {
  const kept = list.stretches.filter(({ does }) => does !== "cut");
  const cut = list.stretches.filter(({ does }) => does === "cut");
  const silent = list.stretches.filter(({ does }) => does === "silence");
  const within = ({ from, to }: ListedStretch): string =>
    `gte(t,${seconds(from)})${to === list.length ? "" : `*lt(t,${seconds(to)})`}`;
  const black = silent.map((own) => `drawbox=color=black:t=fill:enable='${within(own)}'`);
  const select = cut.length === 0 ? [] : [`select='${kept.map(within).join("+")}'`];
  const back = cut.map(({ from, to }) => `gte(T,${seconds(to)})*${seconds(to - from)}`).join("+");
  const moved = cut.length === 0 ? [] : [`setpts='PTS-(${back})/TB'`];
  return `[0:v:0]${[...black, ...select, ...moved, ...(black.length + cut.length === 0 ? ["null"] : [])].join(",")}[v]`;
}

const seconds = (ms: number): string => (ms / 1000).toFixed(3);

/** What ffmpeg is asked for the sound of a file as raw samples: one channel, 32-bit floats, little end first. */
export const decodingArgs = (file: string, rate: number): readonly string[] => [
  "-nostdin",
  "-v",
  "error",
  "-protocol_whitelist",
  "file,pipe",
  "-i",
  `file:${file}`,
  "-map",
  "0:a:0",
  "-af",
  FROM_ZERO,
  "-ac",
  "1",
  "-ar",
  String(rate),
  "-f",
  "f32le",
  "pipe:1",
];

/** A command as a POSIX shell takes it: each word that could mean more than itself in single quotes. */
export const shellCommand = (words: readonly string[]): string => words.map(quoted).join(" ");

const quoted = (word: string): string =>
  /^[A-Za-z0-9_\-+=:,./@%]+$/.test(word) ? word : `'${word.replaceAll("'", "'\\''")}'`;
