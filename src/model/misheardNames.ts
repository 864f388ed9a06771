import { formatClockExact, parseClock } from "./clock.ts";

/** A name that the recording says where the transcript has other words. */
export interface MisheardName {
  /** Milliseconds of the episode's clock. */
  readonly at: number;
  readonly name: string;
  /** What stands there. */
  readonly words: string;
}

const BEGINS = "Names heard in the recording where other words stand.";

/** What stands in a NOTE of transcript.vtt: a line for each, `0:41.250 Ruan Skelland: around scale and`. */
export const misheardNote = (all: readonly MisheardName[]): string =>
  [
    `${BEGINS} \`afterair check\` tells each while its words stand there.`,
    ...all.map(({ at, name, words }) => `${formatClockExact(at)} ${name}: ${words}`),
  ].join("\n");

/** The names of such a note; none of any other, and none of a line that somebody has changed past reading. */
export function misheardIn(note: string): readonly MisheardName[] {
  const [first = "", ...lines] = note.split("\n");
  if (!first.startsWith(BEGINS)) return [];
  return lines.flatMap((line) => {
    const [, time = "", name = "", words = ""] = /^(\S+) ([^:]+): (.+)$/.exec(line) ?? [];
    const at = parseClock(time);
    return at === null ? [] : [{ at, name, words }];
  });
}
