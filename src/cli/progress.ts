import type { Progress } from "../build/progress.ts";

/** Where a build tells how it goes on. */
export interface Teller {
  /** Lines for people. */
  line(text: string): void;
  /** A line that the next one takes the place of; null where there is no terminal to do that on. */
  readonly status: ((text: string) => void) | null;
  /** Milliseconds since any moment. */
  now(): number;
}

/** The shortest time between two states of the line, in milliseconds. */
const PAUSE_MS = 200;
/** A shorter build than this says nothing, in milliseconds. */
const SOON_MS = 1000;

/** Tells who is waited for, how far a long build is, and, where `verbose`, why each page was made anew. */
export function progressTo({ line, status, now }: Teller, verbose: boolean): Progress {
  let [all, done, start, told] = [0, 0, 0, 0];
  return {
    waiting: (owner, lock) =>
      line(
        `Another build (${owner}) is at work on this folder: waiting for it to end. If it is gone, take ${lock} away.`,
      ),
    begin(episodes) {
      [all, done, start] = [episodes, 0, now()];
    },
    done(episodes) {
      done += episodes;
      const time = now();
      if (status === null || time - start < SOON_MS || time - told < PAUSE_MS) return;
      told = time;
      status(progressLine(done, all, time - start));
    },
    made(place, pages, why) {
      if (verbose) line(`${place}${pages > 1 ? ` (${pages} pages)` : ""}: ${why}`);
    },
    end() {
      if (told > 0) status?.("");
    },
  };
}

/** `412 of 11,000 episodes, 62 a second, 2:51 left`. @param ms how long it has taken so far. */
export function progressLine(done: number, all: number, ms: number): string {
  const rate = done / (ms / 1000);
  const left = Math.ceil((all - done) / Math.max(rate, 0.001));
  const clock = `${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}`;
  const figures = (count: number) => count.toLocaleString("en-GB");
  return `${figures(done)} of ${figures(all)} episodes, ${figures(Math.round(rate))} a second, ${clock} left`;
}
