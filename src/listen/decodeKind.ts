/** What kind of sound file this is. `other`: no decoder here knows it; ffmpeg may. */
export type SoundKind = "wav" | "mp3" | "opus" | "vorbis" | "flac" | "other";

const at = (head: Uint8Array, offset: number, word: string): boolean =>
  [...word].every((letter, n) => head[offset + n] === letter.charCodeAt(0));

/** How many bytes of the beginning `kindOf` wants; fewer are enough where the file has no more. */
export const HEAD_BYTES = 64;

/**
 * The kind of a sound file by its first bytes, whatever its name says. A tag of titles (ID3v2) before the sound is taken
 * for mp3, which is the only kind that has one by its standard.
 */
export function kindOf(head: Uint8Array): SoundKind {
  if ((at(head, 0, "RIFF") || at(head, 0, "RF64")) && at(head, 8, "WAVE")) return "wav";
  if (at(head, 0, "fLaC")) return "flac";
  // An Ogg page has a header of 27 bytes and one for each piece (RFC 3533); the first packet is in one piece.
  if (at(head, 0, "OggS")) {
    if (at(head, 28, "OpusHead")) return "opus";
    return at(head, 28, "\x01vorbis") ? "vorbis" : "other";
  }
  if (at(head, 0, "ID3")) return "mp3";
  return isMpegFrame(head) ? "mp3" : "other";
}

/** Whether these bytes begin a frame of MPEG sound, layer II or III (ISO/IEC 11172-3, 2.4.1.3). */
function isMpegFrame([first = 0, second = 0, third = 0]: Uint8Array): boolean {
  const layer = (second >> 1) & 3;
  const isSync = first === 0xff && (second & 0xe0) === 0xe0 && ((second >> 3) & 3) !== 1;
  return isSync && (layer === 1 || layer === 2) && third >> 4 !== 15 && ((third >> 2) & 3) !== 3;
}

/**
 * Whether an mp3 file has one channel, by its first frame; null where that is not among these bytes. The bytes begin the
 * file. A tag of titles before it tells its own length, seven bits a byte (ID3v2, 3.1).
 */
export function isMonoMpeg(bytes: Uint8Array): boolean | null {
  const size = [6, 7, 8, 9].reduce((sum, n) => sum * 128 + (bytes[n] ?? 0), 0);
  const from = at(bytes, 0, "ID3") ? 10 + size : 0;
  for (let n = from; n + 4 <= bytes.length; n++)
    if (isMpegFrame(bytes.subarray(n, n + 4))) return (bytes[n + 3] ?? 0) >> 6 === 3;
  return null;
}
