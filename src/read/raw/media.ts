import { open, stat } from "node:fs/promises";
import { basename, extname } from "node:path";
import { parseFile } from "music-metadata";
import type { Finding, Read } from "../../model/finding.ts";
import { isRemote } from "../links.ts";
import { findingAt } from "../shapeFindings.ts";

/** A recording: where it is, and what could be learned from it. */
export interface ProbedMedia {
  /** As it stands in episode.md: an address, or the file's name. */
  readonly src: string;
  readonly type: string;
  readonly bytes: number | null;
  /** Milliseconds; null when it can't be told. */
  readonly duration: number | null;
  /** The file to copy beside episode.md; null for an address. */
  readonly path: string | null;
}

/** Media types by the file's ending (IANA media types; RFC 4337, RFC 5334, RFC 3003). */
const TYPES: Readonly<Record<string, string>> = {
  ".mp3": "audio/mpeg",
  ".mp4": "video/mp4",
  ".m4a": "audio/mp4",
  ".ogg": "audio/ogg",
  ".opus": "audio/ogg; codecs=opus",
  ".oga": "audio/ogg",
  ".webm": "video/webm",
  ".wav": "audio/wav",
  ".flac": "audio/flac",
  ".aac": "audio/aac",
};

/** What a local recording tells of itself; of an address only its ending is looked at. */
export async function readMedia(source: string): Promise<Read<ProbedMedia>> {
  const isAddress = isRemote(source);
  const name = isAddress ? new URL(source).pathname : basename(source);
  const type = TYPES[extname(name).toLowerCase()];
  const at = { file: source, line: 1, column: 1 };
  const findings: Finding[] = [];
  if (type === undefined) {
    const says = "The ending of this name tells no kind of recording.";
    const mend = `Use one of ${Object.keys(TYPES).join(", ")}, or write the media type into episode.md.`;
    findings.push(findingAt(at, "blocks", "media-type-unknown", says, mend));
    return { ok: false, findings };
  }
  if (isAddress) return { ok: true, value: { src: source, type, bytes: null, duration: null, path: null }, findings };
  const size = await stat(source).then(
    (found) => (found.isFile() ? found.size : null),
    () => null,
  );
  if (size === null || size === 0) {
    const says = size === null ? "There is no such file." : "This file is empty.";
    return { ok: false, findings: [findingAt(at, "blocks", "media-missing", says, "Name the recording's file or address.")] };
  }
  const heard = await durationOf(source);
  if (heard.duration === null) {
    const says = "How long this recording runs could not be read from it.";
    findings.push(findingAt(at, "warns", "media-duration-unknown", says, "Give its length with --duration."));
  }
  const value = { src: name, type: heard.codec === "Opus" ? TYPES[".opus"] ?? type : type, bytes: size, duration: heard.duration, path: source };
  return { ok: true, value, findings };
}

async function durationOf(path: string): Promise<{ duration: number | null; codec: string | null }> {
  const handle = await open(path);
  await handle.close();
  try {
    const { format } = await parseFile(path, { duration: true, skipCovers: true });
    const seconds = format.duration;
    const duration = seconds === undefined || !(seconds > 0) ? null : Math.round(seconds * 1000);
    return { duration, codec: format.codec ?? null };
  } catch (error) {
    // The package throws for what is no recording, under names of its own; a fault of ours has one of the language's.
    if (error instanceof TypeError || error instanceof RangeError || error instanceof ReferenceError) throw error;
    return { duration: null, codec: null };
  }
}
