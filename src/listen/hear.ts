import type { Piece } from "./decodePiece.ts";
import { loudness } from "./hearLoudness.ts";

/** What a recording sounds like as a whole. */
export interface Heard {
  /** Integrated loudness by ITU-R BS.1770-4, in LUFS; null: it is silent. */
  readonly loudness: number | null;
  /** The highest sample of each channel, 0 to 1. */
  readonly peaks: readonly number[];
  /** How often the sound stands at its limit for some samples in a row: it was cut off there. */
  readonly clipped: number;
}

/** Hears a recording in one pass, as it comes. */
export interface Hearing {
  take(piece: Piece): void;
  heard(): Heard;
}

/** At this level so many samples in a row are no chance. Common practice, no source. */
const [LIMIT, IN_A_ROW] = [0.999, 4] as const;

export function hearing(): Hearing {
  const level = loudness();
  const peaks: number[] = [];
  const rows: number[] = [];
  let clipped = 0;
  return {
    take: (piece) => {
      level.take(piece);
      piece.channels.forEach((samples, n) => {
        const { peak, row, times } = limitsOf(samples, rows[n] ?? 0);
        peaks[n] = Math.max(peaks[n] ?? 0, peak);
        rows[n] = row;
        clipped += times;
      });
    },
    heard: () => ({ loudness: level.integrated(), peaks, clipped }),
  };
}

/** @param before how many samples in a row stood at the limit when the samples began. */
function limitsOf(
  samples: Float32Array,
  before: number,
): { readonly peak: number; readonly row: number; readonly times: number } {
  let [peak, row, times] = [0, before, 0];
  for (let n = 0; n < samples.length; n++) {
    const own = Math.abs(samples[n] ?? 0);
    if (own > peak) peak = own;
    if (own < LIMIT) row = 0;
    else if (++row === IN_A_ROW) times++;
  }
  return { peak, row, times };
}

/** A channel whose highest sample is below this is silent: 60 dB below full scale. */
const SILENT = 0.001;
/** Fewer than so many a minute nobody hears. Common practice, no source. */
const CLIPPED_A_MINUTE = 5;
/** Lengths this far apart are not the same. Milliseconds; common practice, no source. */
const OFF = 2000;

/** What is wrong with a recording, and what to do. */
export interface SoundFault {
  readonly rule: string;
  readonly says: string;
  readonly mend: string;
}

export interface ToJudge {
  readonly heard: Heard;
  /** By its samples, in milliseconds. */
  readonly ms: number;
  /** Where the decoder met something broken, and what it said first. */
  readonly faults: number;
  readonly firstFault: string | null;
  /** How long it should run, in milliseconds; null: nobody said. */
  readonly wanted: number | null;
}

/** What a person should know of a recording before it is published. */
export function soundFaults({ heard, ms, faults, firstFault, wanted }: ToJudge): readonly SoundFault[] {
  const found: SoundFault[] = [];
  const tell = (rule: string, says: string, mend: string) => found.push({ rule, says, mend });
  const seconds = (own: number): string => (own / 1000).toFixed(1);
  if (faults > 0)
    tell(
      "sound-damaged",
      `The recording is damaged in ${faults === 1 ? "one place" : `${faults} places`}: ${firstFault ?? "it can't be read there"}.`,
      "Copy it again, or make it again from the broadcast.",
    );
  if (wanted !== null && Math.abs(ms - wanted) > OFF)
    tell(
      "sound-length",
      `The recording holds ${seconds(ms)} seconds of sound, and ${seconds(wanted)} are stated.`,
      "Check that it is whole, and that it is the right one.",
    );
  if (heard.loudness === null) {
    tell("sound-silent", "The recording is silent.", "Give the one with the programme's sound.");
    return found;
  }
  const silent = heard.peaks.flatMap((peak, n) => (peak < SILENT ? [n + 1] : []));
  if (silent.length > 0)
    tell(
      "sound-channel-missing",
      `Channel ${silent.join(" and ")} of ${heard.peaks.length} is silent: who listens with one ear hears nothing.`,
      "Make the recording again with one channel, or with both.",
    );
  if (heard.clipped > (ms / 60_000) * CLIPPED_A_MINUTE)
    tell(
      "sound-clipped",
      `The sound is cut off at its limit ${heard.clipped} times: it was recorded too loud.`,
      "Make it again from a quieter source.",
    );
  return found;
}
