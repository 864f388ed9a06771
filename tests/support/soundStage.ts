import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { AFTERAIR } from "./program.ts";
import { DEMO } from "./site.ts";
import { ffmpeg, track, writeWav } from "./sound.ts";

export const ID = "2026-10-05";
const FOLDER = `episodes/2026/${ID}`;

/** Twenty-four seconds as broadcast, with a break from 5.25 to 7.5, and an agency's report from 12.125 to 15 that is withheld. */
const EPISODE = `---
title: Fewer ferries
aired: 2026-10-05T18:30:00
duration: 0:21.750
media:
  - { src: web.mp3, type: audio/mpeg, bytes: BYTES }
clock: aired
cuts:
  - { from: 0:05.250, to: 0:07.500, why: break }
segments:
  - { slug: headlines, kind: headlines, title: Headlines, in: 0:00 }
  - { slug: ferries, kind: package, title: Nine sailings a week, in: 0:07.500, by: [Ilse Marrane] }
  - slug: talks
    kind: agency
    title: Fishing talks
    in: 0:12.125
    by: [Lucan Threave]
    rights: { withheld: true, holder: Farwater News Agency, show: nothing }
  - { slug: close, kind: close, title: Close, in: 0:15 }
---
`;

const TRANSCRIPT = `WEBVTT

00:00.500 --> 00:05.000
<v Tamsin Hathersay>Good evening. There will be fewer ferries.

00:08.000 --> 00:12.000
<v Ilse Marrane>Nine sailings a week is what is left.

00:12.500 --> 00:14.800
<v Lucan Threave>The mackerel quota remains disputed in Aldermouth.

00:16.000 --> 00:22.000
<v Tamsin Hathersay>That is all from us. Good night.
`;

/** A content folder with one episode whose recording holds what is withheld, and the program to run on it. */
export interface SoundStage {
  readonly folder: string;
  readonly content: string;
  /** The broadcast as a file. */
  readonly aired: string;
  path(name: string): string;
  read(name?: string): string;
  edit(from: string, to: string, name?: string): void;
  run(command: string, ...args: readonly string[]): Ran;
  /** Runs it as if ffmpeg were not installed. */
  runWithout(command: string, ...args: readonly string[]): Ran;
  build(): Ran;
  /** A file of the built site; "" where it is not there. */
  site(path: string): string;
  remove(): void;
}

interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export function soundStage(): SoundStage {
  const folder = mkdtempSync(join(tmpdir(), "afterair-sound-"));
  const [content, aired, out] = [join(folder, "content"), join(folder, "aired.wav"), join(folder, "site")];
  for (const name of ["programme.md", "poster.svg", "names", "pages"])
    cpSync(join(DEMO, name), join(content, name), { recursive: true });
  const programme = join(content, "programme.md");
  writeFileSync(programme, readFileSync(programme, "utf8").replace(/^own: .*\n/m, ""));
  mkdirSync(join(content, FOLDER), { recursive: true });
  const path = (name: string) => join(content, FOLDER, name);
  writeWav(aired, track(24));
  const graph =
    "[0:a]asplit[a][b];[a]atrim=end=5.25[c];[b]atrim=start=7.5,asetpts=PTS-STARTPTS[d];[c][d]concat=v=0:a=1";
  ffmpeg("-i", aired, "-filter_complex", graph, "-b:a", "48k", path("web.mp3"));
  writeFileSync(path("episode.md"), EPISODE.replace("BYTES", String(statSync(path("web.mp3")).size)));
  writeFileSync(path("transcript.vtt"), TRANSCRIPT);
  const run = (env: NodeJS.ProcessEnv, command: string, args: readonly string[]): Ran => {
    const words = [AFTERAIR, command, ...args, "--content", content];
    const ran = spawnSync(process.execPath, words, { encoding: "utf8", env: { ...process.env, ...env }, cwd: folder });
    return { code: ran.status, out: ran.stdout, err: ran.stderr };
  };
  return {
    folder,
    content,
    aired,
    path,
    read: (name = "episode.md") => readFileSync(path(name), "utf8"),
    edit(from, to, name = "episode.md") {
      const text = readFileSync(path(name), "utf8");
      if (text.split(from).length !== 2) throw new Error(`${from} does not stand once in ${name}`);
      writeFileSync(
        path(name),
        text.replace(from, () => to),
      );
    },
    run: (command, ...args) => run({}, command, args),
    runWithout: (command, ...args) => run({ AFTERAIR_FFMPEG: "/nowhere/ffmpeg" }, command, args),
    build: () => run({}, "build", ["--out", out]),
    site: (name) => (existsSync(join(out, name)) ? readFileSync(join(out, name), "utf8") : ""),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
