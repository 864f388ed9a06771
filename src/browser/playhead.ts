import type { Skip } from "../pages/types.ts";
import { landingFrom, nextSkip } from "./skips.ts";

interface PlayheadNeeds {
  /** Withheld stretches, sorted, in seconds. */
  readonly skips: readonly Skip[];
  /** The next moment after this one at which something on the page changes, in seconds. */
  nextChange(seconds: number): number | null;
  /** Called with the moment, in seconds, whenever it may have changed. */
  show(seconds: number): void;
  /** Called with the reason when a withheld stretch was stepped over, and the moment landed at, in seconds. */
  say(why: string, landed: number): void;
  /** Where playing stops by itself that goes on from a moment; null: nowhere. In seconds. */
  stopFrom(seconds: number): number | null;
  /** Called when it stopped there by itself. */
  stopped(at: number): void;
}

interface Playhead {
  /** Goes to a moment, in seconds, without changing whether it plays. `stop`: where playing pauses, once; else as the page says. */
  seek(to: number, stop?: number | null): void;
  /** The moment being played, or asked for, in seconds. */
  moment(): number;
  /** Loads the recording once more, and goes back to where it was. */
  again(): void;
}

/** A stop is met this little before it, for a browser that rounds. Seconds. */
const NEAR = 0.005;

/**
 * The moment being played. A recording that has not loaded, or can't be, still has a moment: the one asked for.
 */
export function createPlayhead(video: HTMLVideoElement, needs: PlayheadNeeds): Playhead {
  let wanted: number | null = null;
  let stop: number | null = null;
  let sought: number | null = null;
  let timer = 0;
  const moment = (): number => wanted ?? video.currentTime;

  const go = (to: number): void => {
    sought = to;
    if (video.readyState === HTMLMediaElement.HAVE_NOTHING) wanted = to;
    else video.currentTime = to;
  };
  const stepOver = (): void => {
    const landing = landingFrom(moment(), needs.skips, video.duration);
    if (landing === null) return;
    if (landing.halt) video.pause();
    go(landing.to);
    needs.say(landing.why, landing.to);
  };
  const stopThere = (): void => {
    if (stop === null || moment() < stop - NEAR || video.seeking) return;
    const met = stop;
    stop = null;
    video.pause();
    needs.stopped(met);
  };
  const tick = (): void => {
    stopThere();
    stepOver();
    needs.show(moment());
    clearTimeout(timer);
    if (video.paused) return;
    const next = [needs.nextChange(moment()), nextSkip(moment(), needs.skips), stop].filter((at) => at !== null);
    const wait = (Math.min(...next) - moment()) / (video.playbackRate || 1);
    // A browser reports the time four times a second; the timer is only for what falls between.
    if (wait < 0.5) timer = window.setTimeout(tick, Math.max(0, wait * 1000));
  };

  video.addEventListener("loadedmetadata", () => {
    if (wanted !== null) go(wanted);
    wanted = null;
    tick();
  });
  video.addEventListener("seeking", () => {
    // A seek that nobody here asked for is the reader's: the stretch in the address is over.
    if (sought === null || Math.abs(video.currentTime - sought) > 0.1) stop = needs.stopFrom(video.currentTime);
    sought = null;
    tick();
  });
  for (const event of ["timeupdate", "seeked", "play", "playing", "pause", "ratechange"]) {
    video.addEventListener(event, tick);
  }
  return {
    moment,
    seek(to, end = needs.stopFrom(to)) {
      stop = end;
      go(to);
      tick();
    },
    again() {
      const at = moment();
      video.load();
      wanted = at;
    },
  };
}
