import { forgetPlaces, keepPlace, recallPlace } from "./kept.ts";

/** The place in the recording that this device keeps. All times in seconds. */
export interface KeepingPlace {
  /** Shows a moment that is being played: it is kept now and then. */
  at(seconds: number): void;
  /** Keeps a moment, if anything was played. */
  keep(seconds: number): void;
  /** The place kept, if it is in a stretch. */
  within(from: number, to: number): number | null;
  /** Forgets every place, and keeps none until the page is opened again. */
  forget(): void;
  /** The page at this address is to play when it opens next. */
  playNext(href: string): void;
  /** Whether this page is. */
  wantsPlaying(): boolean;
}

/** So often a place is kept while it plays: seconds. */
const OFTEN = 5;
const NEXT = "afterair-next";

/** @param episode null: the page does not say; nothing is kept. @param runs how long the recording is. */
export function keepingPlace(episode: string | null, runs: number): KeepingPlace {
  let keeping = episode !== null;
  let kept: number | null = null;
  const keep = (seconds: number): void => {
    if (!keeping || episode === null) return;
    kept = seconds;
    keepPlace(episode, seconds, runs);
  };
  return {
    at(seconds) {
      if (kept === null || Math.abs(seconds - kept) >= OFTEN) keep(seconds);
    },
    keep(seconds) {
      if (kept !== null) keep(seconds);
    },
    within(from, to) {
      const place = episode === null ? null : recallPlace(episode);
      return place !== null && place > from && place < to ? place : null;
    },
    forget() {
      keeping = false;
      forgetPlaces();
    },
    playNext(href) {
      try {
        sessionStorage.setItem(NEXT, href);
      } catch {
        // Storage is switched off: the page opens all the same, and waits.
      }
    },
    wantsPlaying() {
      try {
        const next = sessionStorage.getItem(NEXT);
        sessionStorage.removeItem(NEXT);
        return next === location.pathname;
      } catch {
        return false; // as above
      }
    },
  };
}
