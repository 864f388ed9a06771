import { stat } from "node:fs/promises";
import { basename, extname } from "node:path";
import { parseFromTokenizer } from "music-metadata";
import { fromFile } from "strtok3";
import type { Finding, Read } from "../../model/finding.ts";
import { MEDIA_READS } from "../../model/limits.ts";
import { slugFrom } from "../../model/slugs.ts";
import { findingAt } from "../findings.ts";
import { isRemote, judgeMediaSrc } from "../links.ts";
import { mp3Gap } from "./mp3Gap.ts";

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

const OPUS = "audio/ogg; codecs=opus";

/** Media types by the file's ending (IANA media types; RFC 4337, RFC 5334, RFC 3003). */
const TYPES: Readonly<Record<string, string>> = {
  ".mp3": "audio/mpeg",
  ".mp4": "video/mp4",
  ".m4a": "audio/mp4",
  ".ogg": "audio/ogg",
  ".opus": OPUS,
  ".oga": "audio/ogg",
  ".webm": "video/webm",
  ".wav": "audio/wav",
  ".flac": "audio/flac",
  ".aac": "audio/aac",
};

/** What a local recording tells of itself; of an address only its ending is looked at. */
export async function readMedia(source: string): Promise<Read<ProbedMedia>> {
  const refuse = (rule: string, says: string, mend: string): Read<ProbedMedia> => ({
    ok: false,
    findings: [findingAt({ file: source, line: 1, column: 1 }, "blocks", rule, says, mend)],
  });
  const address = isRemote(source) ? judgeMediaSrc(source) : null;
  if (address?.ok === false) return refuse(address.fault.rule, `This ${address.fault.says}.`, address.fault.mend);
  const name = address === null ? basename(source) : new URL(source).pathname;
  const type = TYPES[extname(name).toLowerCase()];
  if (type === undefined) {
    const mend = `Use one of ${Object.keys(TYPES).join(", ")}.`;
    return refuse("media-type-unknown", "The ending of this name tells no kind of recording.", mend);
  }
  if (address !== null) {
    return { ok: true, value: { src: source, type, bytes: null, duration: null, path: null }, findings: [] };
  }
  const bytes = await sizeOf(source);
  if (bytes === null) return refuse("media-missing", "There is no such file.", "Name the recording's file or address.");
  if (bytes === 0) return refuse("media-empty", "This file is empty.", "Copy it again.");
  const heard = await heardIn(source);
  if (heard === null) {
    const says = "This is no recording: nothing but the beginnings of sound that never comes was found in it.";
    return refuse(
      "media-no-recording",
      says,
      "Play the file to the end; if it plays, convert it again, and name that.",
    );
  }
  const { duration, isOpus } = heard;
  const src = judgeMediaSrc(name).ok ? name : plainName(name);
  const value = { src, type: isOpus ? OPUS : type, bytes, duration, path: source };
  return { ok: true, value, findings: duration === null ? [unknownLength(source)] : [] };
}

const sizeOf = (path: string): Promise<number | null> =>
  stat(path).then(
    (found) => (found.isFile() ? found.size : null),
    () => null,
  );

/** A name that may stand in an address: `Evening (final).mp3` is `evening-final.mp3`. */
const plainName = (name: string): string =>
  `${slugFrom(name.slice(0, -extname(name).length)) || "recording"}${extname(name).toLowerCase()}`;

function unknownLength(file: string): Finding {
  const says = "How long this recording runs could not be read from it.";
  const mend = "Give its length with --duration.";
  return findingAt({ file, line: 1, column: 1 }, "warns", "media-duration-unknown", says, mend);
}

interface Heard {
  /** Milliseconds; null when it can't be told. */
  readonly duration: number | null;
  readonly isOpus: boolean;
}

/** What a file sounds like; null where looking for sound was given up (see `MEDIA_READS`). */
async function heardIn(path: string): Promise<Heard | null> {
  const file = await fromFile(path);
  try {
    const { format } = await parseFromTokenizer(counted(file), { duration: true, skipCovers: true });
    const { duration = 0, codec, sampleRate = 0 } = format;
    // The package counts whole frames; what the encoder put around the sound is heard nowhere.
    const gap = codec?.endsWith("Layer 3") === true && sampleRate > 0 ? (await mp3Gap(path)) / sampleRate : 0;
    const length = Math.max(0, duration - gap);
    return { duration: length > 0 ? Math.round(length * 1000) : null, isOpus: codec === "Opus" };
  } catch (error) {
    if (error instanceof SoundNotFound) return null;
    // The package throws for what is no recording, under names of its own; a fault of ours has one of the language's.
    if (error instanceof TypeError || error instanceof RangeError || error instanceof ReferenceError) throw error;
    return { duration: null, isOpus: false };
  } finally {
    await file.close();
  }
}

class SoundNotFound extends Error {}

type Tokenizer = Awaited<ReturnType<typeof fromFile>>;

/** The file, which refuses to be read on when it was read too often for as far as that led. */
function counted(file: Tokenizer): Tokenizer {
  let reads = 0;
  const count = (): void => {
    if (++reads > MEDIA_READS.first + file.position / MEDIA_READS.bytesEach) throw new SoundNotFound();
  };
  const [read, peek] = [file.readBuffer.bind(file), file.peekBuffer.bind(file)];
  file.readBuffer = async (...given) => {
    count();
    return read(...given);
  };
  file.peekBuffer = async (...given) => {
    count();
    return peek(...given);
  };
  return file;
}
