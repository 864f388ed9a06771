import { extname, join } from "node:path";
import { cutList, type Unwanted } from "../../derive/cutList.ts";
import type { CutList, Recording } from "../../model/cutList.ts";
import { programmeEnd } from "../../model/timeMap.ts";
import type { LaidEpisode } from "../../record/laid.ts";
import { heldSound } from "../../record/sound.ts";
import { formatOf, OUT_ENDINGS, type OutFormat } from "../../write/ffmpegArgs.ts";

/** What is wanted of `afterair cuts`. */
export interface CutsWanted {
  readonly episode: LaidEpisode;
  /** Its times are in addresses already: nothing may move. */
  readonly published: boolean;
  /** The local date that is asked for: rights lapse. */
  readonly day: string;
  /** The content folder. */
  readonly content: string;
  /** The file that the recording is made from; null: the web files beside episode.md. */
  readonly source: string | null;
  /** What that file is; null: the broadcast where a source is named and the episode counts in aired time. */
  readonly from: Recording | null;
  /** Silence, not a cut, also where a cut would do. */
  readonly silence: boolean;
  /** The file to be made; null: one beside each recording, with the next free name. */
  readonly out: string | null;
  /** What goes besides, and why: in the episode's clock. */
  readonly more?: readonly Pick<Unwanted, "from" | "to" | "why">[];
  /** Whether a file is there. */
  readonly exists: (path: string) => boolean;
}

/** One file to be made. */
export interface Job {
  /** Its place in `media`; null: it takes the place of none. */
  readonly media: number | null;
  /** Null where the recording stands on another host, and nobody has said where it lies here. */
  readonly source: string | null;
  readonly out: string;
  readonly format: OutFormat;
  /** Of the sound, in kilobits a second; null: as the encoder has it. */
  readonly kbps: number | null;
}

/** A segment whose sound stays in the recording, and why. */
export interface Kept {
  readonly slug: string;
  readonly because: string;
}

export interface UnwantedSound extends Unwanted {
  /** Whose sound it is; null: of no one segment. */
  readonly segment: string | null;
  /** What a cut is put down to. */
  readonly reason: string;
}

export interface CutsPlan {
  readonly from: Recording;
  /** By the episode's own figures. */
  readonly list: CutList;
  /** The same by the length of the very file. @param ms its length in milliseconds. */
  readonly listFor: (ms: number) => CutList;
  readonly unwanted: readonly UnwantedSound[];
  readonly kept: readonly Kept[];
  readonly jobs: readonly Job[];
}

export type Planned = { readonly ok: true; readonly plan: CutsPlan } | { readonly ok: false; readonly says: string };

/** What the public recording leaves out on a day, and the files to be made. Pure but for `exists`. */
export function planCuts(wanted: CutsWanted): Planned {
  const { episode, source, content } = wanted;
  const from = wanted.from ?? (source !== null && episode.clock === "aired" ? "aired" : "web");
  const { unwanted, kept } = unwantedIn(wanted, from);
  const jobs = jobsFor(wanted, content);
  if (jobs === null) return { ok: false, says: `--make writes ${OUT_ENDINGS.join(", ")}: give the file such a name.` };
  const listFor = (length: number | null): CutList => {
    const end = programmeEnd({ ...episode, clock: "aired" }) + slackOf(episode);
    const ends = from === "aired" && length !== null && length > end + ROUNDING_MS ? { ends: end } : {};
    return cutList({ episode, unwanted, source: from, length, ...ends });
  };
  return { ok: true, plan: { from, list: listFor(null), listFor, unwanted, kept, jobs } };
}

/** A file may run so much longer than the episode says without having anything after the programme. Milliseconds. */
const ROUNDING_MS = 50;

/** A duration in whole seconds has its fraction cut off. Milliseconds. */
export const slackOf = ({ duration }: Pick<LaidEpisode, "duration">): number => (duration % 1000 === 0 ? 999 : 0);

function unwantedIn(
  { episode, day, published, silence, more = [] }: CutsWanted,
  from: Recording,
): Pick<CutsPlan, "unwanted" | "kept"> {
  const way = published || silence || episode.clock === "media" ? "silence" : "cut";
  const held = heldSound(episode, day);
  const unwanted = held.flatMap(
    ({ segment: { slug }, decision, why: reason, ...stretch }): readonly UnwantedSound[] => {
      if (decision?.is === "in-file" || (decision?.is === "silenced" && from === "web")) return [];
      const does = decision?.is === "silenced" ? "silence" : way;
      return [{ from: stretch.from, to: stretch.to, why: `${slug}, ${reason}`, does, segment: slug, reason }];
    },
  );
  const kept = new Map(
    held.flatMap(({ segment, decision }) =>
      decision?.is === "in-file" ? [[segment.slug, decision.because] as const] : [],
    ),
  );
  const besides = more.map((own): UnwantedSound => ({ ...own, does: way, segment: null, reason: own.why }));
  return { unwanted: [...unwanted, ...besides], kept: [...kept].map(([slug, because]) => ({ slug, because })) };
}

/** The files to be made; null where the wanted name says nothing that can be written. */
function jobsFor({ episode, source, out, exists }: CutsWanted, content: string): readonly Job[] | null {
  const folder = join(content, episode.folder);
  const local = (src: string): string | null => (src.startsWith("https:") ? null : join(folder, src));
  if (out !== null) {
    const format = formatOf(out);
    const media = episode.media.findIndex(({ src }) => endingOf(src) === endingOf(out));
    const own = episode.media[media] ?? episode.media[0];
    if (format === null || own === undefined) return null;
    return [
      { media: media === -1 ? null : media, source: source ?? local(own.src), out, format, kbps: kbpsOf(own, episode) },
    ];
  }
  const taken = new Set<string>();
  return episode.media.flatMap((own, media): readonly Job[] => {
    const format = formatOf(nameOf(own.src));
    if (format === null) return [];
    const beside = local(own.src) === null ? "" : folder;
    const free = freeName(join(beside, nameOf(own.src)), (path) => exists(path) || taken.has(path));
    taken.add(free);
    return [{ media, source: source ?? local(own.src), out: free, format, kbps: kbpsOf(own, episode) }];
  });
}

const endingOf = (src: string): string => extname(nameOf(src)).toLowerCase();

/** The file's name, of an address the last part of it, as it is written there: nothing in it is a way out of a folder. */
export const nameOf = (src: string): string =>
  src.startsWith("https:") ? (new URL(src).pathname.split("/").at(-1) ?? "") : src;

/** `web.mp3` becomes `web.2.mp3`, or the first number after it that is free. A new name is a new address: no cache has it. */
function freeName(path: string, taken: (path: string) => boolean): string {
  const ending = extname(path);
  const stem = path.slice(0, path.length - ending.length);
  const [, base = stem, number = "1"] = /^(.+)\.([1-9]\d{0,2})$/.exec(stem) ?? [];
  let next = Number(number) + 1;
  while (taken(`${base}.${next}${ending}`)) next++;
  return `${base}.${next}${ending}`;
}

/** The rate of a recording that has only sound, in whole kilobits a second; null where it can't be told. */
function kbpsOf({ bytes, type }: LaidEpisode["media"][number], { duration }: LaidEpisode): number | null {
  if (bytes === null || !type.startsWith("audio/")) return null;
  return Math.max(8, Math.round((bytes * 8) / duration));
}
