/**
 * How far a reader goes, and why no farther. Whoever meets a limit is told so in a finding, with what to do.
 */

/** Text files above this, in bytes, are not read: nobody wrote them. An evening's longest, the transcript, has 60,000. */
export const MOST_BYTES = 16_000_000;

/**
 * How often a recording may be read to find how long it runs: so many times at first, and once more for so many bytes
 * that it led to. The smallest frames of sound have 24 bytes (8 kbit/s, ISO/IEC 13818-3) and take four reads; where every
 * second byte looks like the beginning of a frame, and none is, four megabytes took minutes.
 */
export const MEDIA_READS = { first: 20_000, bytesEach: 5 } as const;
