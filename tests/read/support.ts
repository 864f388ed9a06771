import type { Finding } from "../../src/model/finding.ts";
import type { EpisodeSources, Listed, Source } from "../../src/read/index.ts";

const utf8 = new TextEncoder();

export const source = (file: string, text: string): Source => ({ file, bytes: utf8.encode(text) });

export const listedFile = (file: string, bytes = 1000): Listed => ({ file, bytes, modified: 0 });

export const FOLDER = "episodes/2026/2026-10-05";

export const EPISODE = `---
title: Fewer ferries
aired: 2026-10-05T18:30:00
duration: 1:00
media: [{ src: evening.mp3, type: audio/mpeg }]
clock: aired
cuts: [{ from: 0:30, to: 0:40, why: break }]
segments:
  - slug: headlines
    kind: headlines
    title: Headlines
    in: 0:00
  - slug: ferry-timetable
    kind: package
    title: Nine sailings a week
    in: 0:10.500
    by: [Ilse Marrane]
---
Notes.
`;

export const TRANSCRIPT = `WEBVTT

00:00.000 --> 00:05.000 align:start
<v Tamsin Hathersay>Good evening.

00:10.500 --> 00:20.000
<v Ilse Marrane>Nine sailings a week.
`;

export const CORRECTION = `---
dated: 2026-10-06T09:40:00+01:00
kind: on-air
segment: ferry-timetable
at: 0:12
said: nine sailings
signed: Standards editor
---
We said nine.
`;

/** The good episode with some of its files put another way. */
export function episodeWith(parts: {
  readonly episode?: string;
  readonly transcript?: string | Uint8Array | null;
  readonly corrections?: Readonly<Record<string, string>>;
  readonly files?: readonly Listed[];
  readonly id?: string;
}): EpisodeSources {
  const { episode = EPISODE, transcript = TRANSCRIPT, corrections = {}, files, id = "2026-10-05" } = parts;
  const bytes = typeof transcript === "string" ? utf8.encode(transcript) : transcript;
  return {
    id,
    year: "2026",
    folder: FOLDER,
    episode: source(`${FOLDER}/episode.md`, episode),
    transcript: bytes === null ? null : { file: `${FOLDER}/transcript.vtt`, bytes },
    translations: [],
    corrections: Object.entries(corrections).map(([name, text]) => source(`${FOLDER}/corrections/${name}`, text)),
    record: null,
    asPublished: [],
    merged: [],
    files: files ?? [listedFile(`${FOLDER}/evening.mp3`)],
  };
}

/** A finding as `rule line:column`. */
export const brief = (findings: readonly Finding[]): string[] =>
  findings.map(({ rule, at }) => `${rule} ${at.line}:${at.column}`);

/** Puts `to` in the place of `from`, which must be there. */
export function swap(text: string, from: string, to: string): string {
  if (!text.includes(from)) throw new Error(`not in the text: ${from}`);
  return text.replace(from, () => to);
}
