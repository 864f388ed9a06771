import { readCorrectionId } from "../model/correctionId.ts";

/** A file of the content folder, as bytes. */
export interface Source {
  /** Relative to the content folder, with forward slashes. */
  readonly file: string;
  readonly bytes: Uint8Array;
}

/** A file that was only looked at, never opened. */
export interface Listed {
  /** Relative to the content folder, with forward slashes. */
  readonly file: string;
  readonly bytes: number;
  /** Milliseconds since 1970, for telling whether it changed. */
  readonly modified: number;
}

/** An episode's folder, before anything in it was read. */
export interface EpisodeFolder {
  /** The folder's name: `2026-10-05`. */
  readonly id: string;
  /** The name of the folder it stands in: `2026`. */
  readonly year: string;
  /** `episodes/2026/2026-10-05`. */
  readonly folder: string;
}

/** A text that was replaced, as it is kept in `as-published/<seq>/`. */
export interface EarlierSources {
  readonly seq: number;
  readonly episode: Source | null;
  readonly transcript: Source | null;
  /** `transcript.<lang>.vtt`. */
  readonly translations: readonly Source[];
  readonly reason: Source | null;
}

/** All that an episode is made of. */
export interface EpisodeSources extends EpisodeFolder {
  readonly episode: Source | null;
  readonly transcript: Source | null;
  /** `transcript.<lang>.vtt`. */
  readonly translations: readonly Source[];
  /** Every `.md` file in `corrections/`, whatever its name, in name order. */
  readonly corrections: readonly Source[];
  /** What lies in `as-published/`: earlier texts, by the number of the entry that published them; oldest first. */
  readonly asPublished: readonly EarlierSources[];
  /** What lies in `merged/`: records that became part of this one. */
  readonly merged: readonly Source[];
  /** `record.jsonl`, untouched. */
  readonly record: Source | null;
  /** Every file of the folder and of its `corrections/`, those above among them. */
  readonly files: readonly Listed[];
}

/** What the programme is made of, apart from its episodes. */
export interface ProgrammeSources {
  readonly programme: Source | null;
  readonly names: readonly Source[];
  readonly textPages: readonly Source[];
  /** Every file beside programme.md: the poster is one. */
  readonly files: readonly Listed[];
}

/** The last part of a path. */
export const baseName = (file: string): string => file.slice(file.lastIndexOf("/") + 1);

/** The last part of a path without its ending: `names/tamsin-hathersay.md` gives `tamsin-hathersay`. */
export const stem = (file: string): string => baseName(file).replace(/\.[^.]*$/, "");

/** True for a file name that a correction has: `2026-10-06-1.md` or `2026-10-06-k7m4p.md`. */
export const isCorrectionName = (name: string): boolean =>
  name.endsWith(".md") && readCorrectionId(stem(name)) !== null;

/**
 * What nobody wrote: editors put `x~`, `#x#` and `x.swp` beside a file while somebody works on it, systems put `Thumbs.db`
 * and `desktop.ini` wherever somebody looks, and hidden files (`.DS_Store`, `.#x`) are no content of ours. No reader sees
 * them, because each comes and goes by itself. Common practice, no source.
 */
export const isPassedOver = (name: string): boolean =>
  /^\.|~$|^#.*#$|\.sw[a-z]$|^(?:thumbs\.db|desktop\.ini)$/i.test(name);

/** What looks like a copy that somebody put by: `episode.md.bak`. Nothing reads it, and a person should look. */
export const isPutBy = (name: string): boolean =>
  /\.(?:md|vtt|srt|jsonl)\.(?!(?:md|vtt)$)[^.]+$|\.(?:bak|backup|old|orig|rej|save|tmp)$/i.test(name);
