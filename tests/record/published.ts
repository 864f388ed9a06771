import { recordFolderOf } from "../../src/build/recordFolder.ts";
import type { Episode } from "../../src/model/episode.ts";
import type { EpisodeSources, Source } from "../../src/read/index.ts";
import { auditEpisode } from "../../src/record/audit.ts";
import type { AuditInput } from "../../src/record/audited.ts";
import { digestOf } from "../../src/record/digest.ts";
import { entriesDue, recordedIn } from "../../src/record/enter.ts";
import { entryLine } from "../../src/record/entry.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { mergedPath, mergeRecords } from "../../src/record/merge.ts";

/** An episode's folder in memory: texts by their paths inside it. */
export type Texts = Readonly<Record<string, string>>;

export const FOLDER = "episodes/2026/2026-10-05";
const ZONE = "Europe/London";
export const NOW = "2026-10-20T08:00:00.000Z";

const correction = (front: string, note: string): string => `---\n${front}\nsigned: Standards editor\n---\n${note}\n`;

export const WRITTEN: Texts = {
  "episode.md": `---
title: Fewer ferries
summary: The timetable, and a light.
aired: 2026-10-05T18:30:00
duration: 0:40
media: [{ src: "https://media.example.org/a.mp3", type: audio/mpeg }]
clock: aired
cuts: [{ from: 0:30, to: 0:34, why: break }]
segments:
  - { slug: headlines, kind: headlines, title: Headlines, in: 0:00, by: [Tamsin Hathersay] }
  - { slug: ferry-timetable, kind: package, title: Nine sailings, in: 0:15, by: [Ilse Marrane], topics: [transport], summary: What is left. }
  - { slug: close, kind: close, title: Good night, in: 0:34 }
---
With thanks to the harbour.
`,
  "transcript.vtt": `WEBVTT

1
00:00.000 --> 00:05.000
<v Tamsin Hathersay>Good evening. The ferry from Sollen will make eleven

2
00:05.000 --> 00:10.000 align:start
<v Tamsin Hathersay>sailings a week, not fourteen.

3
00:10.000 --> 00:15.000
<v Tamsin Hathersay>Osric Tarrick has kept Hallan light.

4
00:15.000 --> 00:20.000
<v Ilse Marrane>Eleven sailings, that’s what’s left &amp; no more.

5
00:20.000 --> 00:30.000
<v Ilse Marrane>The harbour master, Rowan Skelland, <lang cy>dim byd</lang>.

6
00:34.000 --> 00:40.000
<v Tamsin Hathersay>That is all from us. Good night.
`,
  "transcript.cy.vtt": `WEBVTT

00:00.000 --> 00:05.000
<v Tamsin Hathersay>Noswaith dda.
`,
  "corrections/2026-10-06-1.md": correction(
    "dated: 2026-10-06T09:00:00\nkind: on-air\nsegment: headlines\nat: 0:03\nsaid: eleven sailings",
    "It is nine sailings.",
  ),
  "corrections/2026-10-07-1.md": correction(
    "dated: 2026-10-07T09:00:00\nkind: transcript\nsegment: headlines\nsaid: Osric Tarrick\nnow: Osmund Tarrick",
    "His name is Osmund.",
  ),
  "corrections/2026-10-07-2.md": correction(
    "dated: 2026-10-07T10:00:00\nkind: page\nsegment: close\nfield: title\nsaid: Good night\nnow: Goodbye",
    "It was goodbye.",
  ),
};

/** The folder as the tool reads it. */
export function sourcesOf(texts: Texts): EpisodeSources {
  const source = (path: string): Source => ({ file: `${FOLDER}/${path}`, bytes: Buffer.from(texts[path] ?? "") });
  const own = (path: string): Source | null => (path in texts ? source(path) : null);
  const paths = Object.keys(texts).sort();
  return {
    id: "2026-10-05",
    year: "2026",
    folder: FOLDER,
    episode: own("episode.md"),
    transcript: own("transcript.vtt"),
    translations: paths.filter((path) => /^transcript\.[^.]+\.vtt$/.test(path)).map(source),
    corrections: paths.filter((path) => path.startsWith("corrections/")).map(source),
    record: own("record.jsonl"),
    asPublished: [],
    merged: paths.filter((path) => path.startsWith("merged/")).map(source),
    files: paths.map((path) => ({ file: `${FOLDER}/${path}`, bytes: 1, modified: 0 })),
  };
}

export const readTexts = (texts: Texts, now = NOW) => recordFolderOf(sourcesOf(texts), ZONE, new Date(now));

/** What an audit finds that blocks. */
export const auditTexts = (texts: Texts, given: Partial<AuditInput> = {}) =>
  auditEpisode({ ...readTexts(texts).input, ...given }).filter(({ level }) => level === "blocks");

/** The folder with everything entered that is due. */
export function entered(
  texts: Texts,
  now = "2026-10-08T08:00:00.000Z",
  reason: string | null = null,
  setsClock = false,
): Texts {
  const { record, content, input } = readTexts(texts, now);
  if (content === null) throw new Error("unreadable");
  const corrections = new Map([...input.corrections].map(([id, { digest }]) => [id, digest]));
  const laid = layCorrections(content.episode, now, recordedIn(record));
  const reissue = reason === null ? null : digestOf(reason);
  const due = entriesDue({ record, content, laid, corrections, reissue, now, setsClock });
  return { ...texts, "record.jsonl": (texts["record.jsonl"] ?? "") + due.map(entryLine).join("") };
}

export const PUBLISHED: Texts = entered(WRITTEN);

/** Two copies of a folder that each entered more, as one. @param theirs with all of its corrections. */
export function mergedTexts(ours: Texts, theirs: Texts, now = "2026-10-12T08:00:00.000Z"): Texts {
  const merged = mergeRecords(ours["record.jsonl"] ?? "", theirs["record.jsonl"] ?? "");
  if (!merged.ok || merged.merge.other === null) throw new Error("nothing to merge");
  const { merge } = merged;
  const { text, tip } = merged.merge.other;
  const texts = { ...theirs, ...ours, [mergedPath(tip)]: text };
  const { content, input } = readTexts(texts, now);
  if (content === null) throw new Error("unreadable");
  const corrections = new Map([...input.corrections].map(([id, { digest }]) => [id, digest]));
  const laid = layCorrections(content.episode, now, recordedIn(merge.record));
  const due = entriesDue({ record: merge.record, content, laid, corrections, reissue: null, merge, now });
  const lines = merge.record.lines.map((line) => `${line.text}\n`);
  return { ...texts, "record.jsonl": [...lines, ...due.map(entryLine)].join("") };
}

/** Everything of an episode that the public sees; null where it can't be read. */
export function publicView(texts: Texts): string | null {
  const { episode, content } = readTexts(texts);
  if (episode === null || content === null) return null;
  const laid = layCorrections(episode, NOW);
  return JSON.stringify(
    {
      ...laid,
      media: 0,
      segments: laid.segments.map(shown),
      translations: content.translations,
      record: texts["record.jsonl"],
    },
    withoutPlaces,
  );
}

const shown = ({
  rights: _rights,
  cautions: _cautions,
  planned: _planned,
  ...rest
}: Episode["segments"][number]): object => rest;
const withoutPlaces = (name: string, value: unknown): unknown =>
  name === "place" || (name === "at" && typeof value === "object") || name === "digest" ? undefined : value;

/** A folder with one text changed. */
export const changed = (texts: Texts, path: string, from: string | RegExp, to: string): Texts => {
  const text = texts[path]?.replace(from, to);
  if (text === undefined || text === texts[path]) throw new Error(`${path} has no ${from}`);
  return { ...texts, [path]: text };
};
export const without = (texts: Texts, path: string): Texts =>
  Object.fromEntries(Object.entries(texts).filter(([own]) => own !== path));
