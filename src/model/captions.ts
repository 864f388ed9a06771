/** What captions are cut to and judged by. Times in milliseconds. */
export interface CaptionFigures {
  /** The most characters in a line. */
  readonly line: number;
  /** The most lines in a cue. */
  readonly lines: number;
  /** Words a minute that are read with ease, and the most that are read at all. */
  readonly rate: number;
  readonly fastest: number;
  /** The shortest and the longest time that a cue stands. */
  readonly shortest: number;
  readonly longest: number;
  /** A gap between two cues is none, or at least this. */
  readonly gap: number;
  /** The longest that a cue stands after its last word. */
  readonly hang: number;
}

/**
 * The figures that stand where programme.md has no others. They are advice for people: what passes them is looked at,
 * never refused.
 */
export const CAPTION_FIGURES: CaptionFigures = {
  /** 37: a teletext line, BBC Subtitle Guidelines 1.2.5 §3.1. */
  line: 37,
  /** 2 for a picture of 16:9, 4:3 or 1:1: BBC §3.3. */
  lines: 2,
  /** 160 to 180 words a minute: BBC §4. */
  rate: 180,
  /** "Near verbatim, but at most 225" for adults: DCMP captioning guidelines, dcmp.org/learn/5. */
  fastest: 225,
  /** 40 frames at 30 a second: DCMP Captioning Key (from memory). BBC §4.1 asks for about 0.3 s a word, which is longer from five words on. */
  shortest: 1333,
  /** 6 s: DCMP Captioning Key (from memory). */
  longest: 6000,
  /** "None, or at least 1 s": BBC §4.5. */
  gap: 1000,
  /** At most 1.5 s after the speech: BBC §5.2. */
  hang: 1500,
};
