import type { z } from "zod";
import type { Acceptance, Cut, Episode, MediaSource, Segment, TranscriptCue } from "../model/episode.ts";
import { WHOLE_PROGRAMME } from "../model/episode.ts";
import { blocks, type Finding, type Read } from "../model/finding.ts";
import { parseProposal } from "../model/proposal.ts";
import { SLUG } from "../model/slugs.ts";
import { clockMs, mediaMs } from "../model/units.ts";
import { parseCorrection } from "./correction.ts";
import { correctionFindings, inDateOrder, misplaced } from "./correctionSet.ts";
import { isDay, setInZone, strangeOffset } from "./dates.ts";
import { judgeMoment } from "./fields.ts";
import { blocking, findingAt, inOrder } from "./findings.ts";
import { type Front, splitFront } from "./frontMatter.ts";
import { canonicalLanguage, isRemote, judgeMediaSrc } from "./links.ts";
import { findNearest } from "./nearest.ts";
import { type Points, pointFindings, pointsOf } from "./points.ts";
import { modelRights, rightsFindings } from "./rights.ts";
import { putInShape, valueAt } from "./shapeFindings.ts";
import { EpisodeShape } from "./shapes.ts";
import { baseName, type EpisodeFolder, type EpisodeSources, type Listed, stem } from "./source.ts";
import { cuesPastEnd, parseTranscript } from "./transcript.ts";

type ShapedEpisode = z.output<typeof EpisodeShape>;

/**
 * One episode from its files. `zone`: the programme's. `mediaHosts`: the origins that its pages may play from; null
 * where the programme could not be read, and nothing is known of them.
 * @returns an episode even where only a correction of it is faulty, with findings that block: that correction is then
 * not among its `corrections`, and whoever publishes must refuse while anything blocks.
 */
export function parseEpisode(
  sources: EpisodeSources,
  zone: string,
  mediaHosts: readonly string[] | null = null,
): Read<Episode> {
  const outer = [...idFindings(sources), ...translationFindings(sources)];
  const transcript = readTranscript(sources);
  const front = readFront(sources);
  if (!front.ok)
    return {
      ok: false,
      findings: [...outer, ...front.findings, ...transcript.findings, ...looseCorrections(sources, zone)],
    };
  const { placeOf } = front.value;
  const shaped = putInShape(EpisodeShape, front.value);
  const points = pointsOf(front.value);
  const aired = airedOf(front.value, sources.id, zone);
  const cues = transcript.ok ? transcript.value : [];
  const own = [
    ...outer,
    ...front.findings,
    ...shaped.findings,
    ...aired.findings,
    ...pointFindings(points),
    ...rightsFindings(front.value),
    ...mediaFindings(front.value, sources),
    ...transcript.findings,
    ...(points.end === null ? [] : cuesPastEnd(cues, points.end, points.slack)),
  ];
  const { corrections, findings: late } = readCorrections(sources, points, aired.value, zone);
  // An address that pages may not play stands in the way of a site, not of knowing the episode.
  const hosts = mediaHosts === null ? [] : hostFindings(front.value, mediaHosts);
  const findings = inOrder([...own, ...hosts, ...late]);
  if (shaped.value === null || aired.value === null || points.end === null || own.some(blocks) || !transcript.ok)
    return { ok: false, findings };
  const end = clockMs(points.end);
  const { title, summary = null, clock, duration } = shaped.value;
  const value: Episode = {
    id: sources.id,
    title,
    summary,
    aired: aired.value,
    duration: mediaMs(duration),
    media: (shaped.value.media ?? []).map(modelMedia),
    clock,
    cuts: modelCuts(shaped.value, front.value),
    segments: modelSegments(shaped.value, end, front.value),
    cues,
    notes: front.value.body,
    corrections,
    accepted: modelAccepted(shaped.value, placeOf),
    ...(shaped.value.times === undefined ? {} : { timesGuessed: true }),
    folder: sources.folder,
    at: placeOf(["title"]),
  };
  return { ok: true, value, findings };
}

/** A file that is there but could not be read: whoever read the folder has told that already. */
const isThere = (file: string, files: readonly Listed[]): boolean => files.some((listed) => listed.file === file);

function readFront({ episode, folder, files }: EpisodeSources): Read<Front> {
  if (episode !== null) return splitFront(episode);
  const at = { file: `${folder}/episode.md`, line: 1, column: 1 };
  if (isThere(at.file, files)) return { ok: false, findings: [] };
  return {
    ok: false,
    findings: [
      blocking("episode-missing", at, "This episode has no episode.md.", "Write one, or take the folder away."),
    ],
  };
}

function readTranscript({ transcript, folder, files }: EpisodeSources): Read<readonly TranscriptCue[]> {
  if (transcript !== null) return parseTranscript(transcript);
  const at = { file: `${folder}/transcript.vtt`, line: 1, column: 1 };
  if (isThere(at.file, files)) return { ok: false, findings: [] };
  return {
    ok: false,
    findings: [
      blocking("transcript-missing", at, "This episode has no transcript.", "Put transcript.vtt beside episode.md."),
    ],
  };
}

const ID = /^(\d{4})-\d\d-\d\d(?:-(.+))?$/;

/** What the folder's name and the year above it say. */
export function idFindings({ id, year, folder }: EpisodeFolder): Finding[] {
  const at = { file: `${folder}/episode.md`, line: 1, column: 1 };
  const [, ownYear, edition] = ID.exec(id) ?? [];
  if (ownYear === undefined || !isDay(id.slice(0, 10)) || (edition !== undefined && !SLUG.test(edition))) {
    return [
      blocking(
        "episode-id",
        at,
        `The folder name ${id} is no episode's.`,
        "Name the folder by the date of the broadcast: 2026-10-05, or 2026-10-05-late for a second edition.",
      ),
    ];
  }
  if (ownYear === year) return [];
  return [
    blocking(
      "episode-in-wrong-year",
      at,
      `The episode ${id} stands in the folder of ${year}.`,
      `Move it to episodes/${ownYear}/${id}/.`,
    ),
  ];
}

function translationFindings({ translations }: EpisodeSources): Finding[] {
  return translations.flatMap((source) => {
    const language = baseName(source.file)
      .replace(/^transcript\./, "")
      .replace(/\.vtt$/, "");
    const findings = [...parseTranscript(source).findings];
    if (canonicalLanguage(language) !== null) return findings;
    const at = { file: source.file, line: 1, column: 1 };
    return [
      ...findings,
      blocking(
        "translation-language",
        at,
        `“${language}” in this file's name is no language.`,
        "Name it transcript.<language>.vtt with a BCP 47 tag, like transcript.cy.vtt.",
      ),
    ];
  });
}

function airedOf(front: Front, id: string, zone: string): { value: string | null; findings: Finding[] } {
  const judged = judgeMoment(front.data.aired);
  if (!judged.ok) return { value: null, findings: [] };
  const at = front.placeOf(["aired"]);
  const set = setInZone(judged.value, zone);
  if (!set.ok) return { value: null, findings: [blocking(set.wrong.rule, at, set.wrong.says, set.wrong.mend)] };
  const findings: Finding[] = [];
  const day = set.value.slice(0, 10);
  if (ID.test(id) && isDay(id.slice(0, 10)) && day !== id.slice(0, 10)) {
    const says = `The episode is ${id}, but it aired on ${day} in the programme's zone.`;
    findings.push(blocking("episode-id-unlike-aired", at, says, "Rename the folder, or write the date that is meant."));
  }
  const there = strangeOffset(judged.value, zone);
  if (there !== null)
    findings.push(
      findingAt(
        at,
        "warns",
        "offset-unlike-zone",
        `In ${zone} that moment was ${there}.`,
        "Check the offset, or leave it out.",
      ),
    );
  return { value: set.value, findings };
}

/** Local media are there, have the size that is given, and something in them. */
function mediaFindings(front: Front, { folder, files }: EpisodeSources): Finding[] {
  const media = front.data.media;
  const beside = files.map(({ file }) => file.slice(folder.length + 1)).filter((name) => !name.includes("/"));
  return (Array.isArray(media) ? media : []).flatMap((_, i) => {
    const src = valueAt(media, [i, "src"]);
    const bytes = valueAt(media, [i, "bytes"]);
    if (typeof src !== "string" || src === "" || isRemote(src) || /[/\\]/.test(src)) return [];
    const at = front.placeOf(["media", i, "src"]);
    const found = files.find(({ file }) => file === `${folder}/${src}`);
    if (found === undefined) {
      const near = findNearest(src, beside);
      const mend =
        near === undefined ? "Put it there, or write the https address where it is." : `Did you mean ${near}?`;
      return [blocking("media-missing", at, `There is no file ${src} beside episode.md.`, mend)];
    }
    if (found.bytes === 0) return [blocking("media-empty", at, `${src} is an empty file.`, "Copy it again.")];
    if (typeof bytes !== "number" || bytes === found.bytes) return [];
    const says = `${src} has ${found.bytes} bytes, not ${bytes}.`;
    return [
      findingAt(
        front.placeOf(["media", i, "bytes"]),
        "warns",
        "media-bytes-differ",
        says,
        `Check that it is the right file; then write ${found.bytes}, or leave \`bytes\` out.`,
      ),
    ];
  });
}

/** Pages may play from the hosts that programme.md names, and from no other. */
function hostFindings(front: Front, mediaHosts: readonly string[]): Finding[] {
  const media = front.data.media;
  return (Array.isArray(media) ? media : []).flatMap((_, i) => {
    const judged = judgeMediaSrc(valueAt(media, [i, "src"]));
    if (!judged.ok || !isRemote(judged.value)) return [];
    const { origin } = new URL(judged.value);
    if (mediaHosts.includes(origin)) return [];
    const says = `The pages may not play recordings from ${origin}, which programme.md does not name.`;
    const mend = `Add ${origin} to \`mediahosts\` in programme.md, or put the recording on a host that stands there.`;
    return [blocking("media-host-unknown", front.placeOf(["media", i, "src"]), says, mend)];
  });
}

function readCorrections(sources: EpisodeSources, points: Points, aired: string | null, zone: string) {
  const read = sources.corrections.map((source) => parseCorrection(source, zone));
  const placed = read.flatMap((one) => (one.ok ? [one.value] : []));
  const ids = sources.corrections.map(({ file }) => stem(file));
  const against = correctionFindings(placed, points, aired, ids);
  const faulty = new Set(against.filter(blocks).map(({ at }) => at.file));
  const sound = placed.filter(({ front }) => !faulty.has(front.file)).map(({ correction }) => correction);
  const findings = [...misplaced(sources), ...read.flatMap((one) => one.findings), ...against];
  return { corrections: inDateOrder(sound), findings };
}

/** Corrections of an episode whose own file can't be read: their own faults are told all the same. */
const looseCorrections = (sources: EpisodeSources, zone: string): Finding[] => [
  ...misplaced(sources),
  ...sources.corrections.flatMap((source) => parseCorrection(source, zone).findings),
];

type PlaceOf = Front["placeOf"];

const modelMedia = ({ src, type, bytes }: NonNullable<ShapedEpisode["media"]>[number]): MediaSource => ({
  src,
  type,
  bytes: bytes ?? null,
});

/** Where things stand in the front matter, and what is remarked beside them. */
type Around = Pick<Front, "placeOf" | "commentOf">;

const modelCuts = ({ cuts }: ShapedEpisode, { placeOf, commentOf }: Around): Cut[] =>
  (cuts ?? []).map(({ from, to, why }, i) => ({
    from: clockMs(from),
    to: clockMs(to),
    why,
    ...(parseProposal(commentOf(["cuts", i])) === null ? {} : { proposed: true as const }),
    at: placeOf(["cuts", i]),
  }));

const modelAccepted = ({ accepted }: ShapedEpisode, placeOf: PlaceOf): Acceptance[] =>
  (accepted ?? []).map(({ at, words = null, ...rest }, i) => ({
    ...rest,
    at: at === undefined ? null : clockMs(at),
    words,
    place: placeOf(["accepted", i]),
  }));

function modelSegments(
  { title, segments = [] }: Pick<ShapedEpisode, "title" | "segments">,
  end: Segment["out"],
  around: Around,
): Segment[] {
  const { placeOf, commentOf } = around;
  if (segments.length === 0)
    return modelSegments({ title, segments: [{ ...WHOLE_PROGRAMME, title, in: 0 }] }, end, around);
  return segments.map((segment, i) => {
    const next = segments[i + 1]?.in;
    const out = segment.out ?? next;
    const proposed = parseProposal(commentOf(["segments", i, "in"]));
    return {
      slug: segment.slug,
      kind: segment.kind,
      title: segment.title,
      in: clockMs(segment.in),
      out: out === undefined ? end : clockMs(out),
      by: segment.by ?? [],
      topics: segment.topics ?? [],
      places: segment.places ?? [],
      summary: segment.summary ?? null,
      rights: modelRights(segment.rights),
      cautions: segment.cautions ?? [],
      planned: segment.planned === undefined ? null : clockMs(segment.planned),
      ...(segment.story === undefined ? {} : { story: segment.story }),
      ...(segment.edges === undefined ? {} : { edgesHeard: true }),
      ...(proposed === null ? {} : { proposed }),
      at: placeOf(["segments", i]),
    };
  });
}
