/**
 * How far a program of ours goes, and why no farther. Whoever meets a limit is told so in a finding, with what to do.
 */

/** Text files above this, in bytes, are not read: nobody wrote them. An evening's longest, the transcript, has 60,000. */
export const MOST_BYTES = 16_000_000;

/**
 * A raw transcript above this, in bytes, is not read: twelve hours of words with a time each, as JSON with a line for
 * every number, have some 30,000,000.
 */
export const MOST_RAW_BYTES = 100_000_000;

/**
 * Characters without a blank between in a raw transcript. Texts in scripts that write no blanks have a paragraph of them;
 * captions of a million took half a minute to lay out.
 */
export const MOST_WITHOUT_BLANK = 20_000;

/** Front matter above these is none, and the splitter and the parser would take long over it. */
export const MOST_FRONT = { characters: 250_000, lines: 10_000 } as const;

/**
 * Characters of the Markdown below front matter: programme notes, a correction's note, a page. Ten times the words of an
 * evening. All of it stands on one page, and 15 million characters took 850 MB and most of a minute to set.
 */
export const MOST_BODY = 500_000;

/**
 * How often a recording may be read to find how long it runs: so many times at first, and once more for so many bytes
 * that it led to. The smallest frames of sound have 24 bytes (8 kbit/s, ISO/IEC 13818-3) and take four reads; where every
 * second byte looks like the beginning of a frame, and none is, four megabytes took minutes.
 */
export const MEDIA_READS = { first: 20_000, bytesEach: 5 } as const;

/**
 * Beginnings of sentences among which segments are looked for: each is weighed against those before it. An hour of news
 * has some 900; 3000 take three seconds.
 */
export const MOST_SENTENCES = 3000;

/** Among so many names, and no more, the one nearest to an unknown name is looked for: each is compared with it. */
export const MOST_NAMES = 1000;

/**
 * For so many corrections whose words are not there, the nearest words are looked for, which goes through all words of an
 * episode each time. Whoever mends thousands begins with the first.
 */
export const NEAREST_SOUGHT = 20;
