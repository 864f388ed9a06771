import { useEffect, useRef, useState } from "preact/hooks";
import type { DeskWords } from "../../model/desk.ts";
import { type Timed, toEpisode, toMediaEdge } from "../../model/timeMap.ts";
import { clockMs, mediaMs } from "../../model/units.ts";

/** A moment of the episode in the recording, in milliseconds; inside a cut, where the recording goes on. */
export const toMedia = (at: number, timed: Timed): number => toMediaEdge(clockMs(at), timed);

/** A moment of the recording in the episode, in milliseconds. */
export const toClock = (at: number, timed: Timed): number => toEpisode(mediaMs(at), timed);

/** So much is heard on both sides of a moment, in milliseconds. */
const AROUND = 2000;

/** What is heard of a moment of the recording: two seconds before it and after. */
export const around = (media: number): readonly [from: number, to: number] => [media - AROUND, media + AROUND];

export interface Playback {
  readonly audio: { current: HTMLAudioElement | null };
  /** Milliseconds of the episode's clock. */
  readonly now: number;
  readonly isPlaying: boolean;
  /** Why nothing can be heard; null: it can. */
  readonly fault: string | null;
  playFrom(at: number): void;
  /** Plays from one moment of the recording to another, in milliseconds of its own clock, and stops there. */
  playSpan(from: number, to: number): void;
  seek(at: number): void;
  toggle(): void;
}

/** The recording, by the episode's clock. */
export function usePlayback(words: DeskWords | null): Playback {
  const audio = useRef<HTMLAudioElement | null>(null);
  const [now, setNow] = useState(0);
  const [isPlaying, setIsPlaying] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const until = useRef<number | null>(null);
  const timed: Timed = words ?? { clock: "media", cuts: [] };
  useEffect(() => {
    const own = audio.current;
    if (own === null) return;
    let frame = 0;
    const show = () => setNow(toClock(own.currentTime * 1000, timed));
    const run = () => {
      show();
      if (until.current !== null && own.currentTime * 1000 >= until.current) return own.pause();
      frame = requestAnimationFrame(run);
    };
    const start = () => {
      setIsPlaying(true);
      frame = requestAnimationFrame(run);
    };
    const stop = () => {
      until.current = null;
      setIsPlaying(false);
      cancelAnimationFrame(frame);
      show();
    };
    const fail = () => setFault("The recording can't be played here. The words can be corrected all the same.");
    own.addEventListener("play", start);
    own.addEventListener("pause", stop);
    own.addEventListener("seeked", show);
    own.addEventListener("error", fail, true);
    return () => {
      cancelAnimationFrame(frame);
      own.removeEventListener("play", start);
      own.removeEventListener("pause", stop);
      own.removeEventListener("seeked", show);
      own.removeEventListener("error", fail, true);
    };
  }, [words?.id, words === null]);
  const seek = (at: number) => {
    until.current = null;
    if (audio.current !== null) audio.current.currentTime = Math.max(0, toMedia(at, timed)) / 1000;
    setNow(at);
  };
  const play = () => void audio.current?.play().catch(() => undefined);
  return {
    audio,
    now,
    isPlaying,
    fault,
    seek,
    playFrom: (at) => {
      seek(at);
      play();
    },
    playSpan: (from, to) => {
      seek(toClock(Math.max(0, from), timed));
      if (audio.current !== null) audio.current.currentTime = Math.max(0, from) / 1000;
      until.current = to;
      play();
    },
    toggle: () => (audio.current?.paused === false ? audio.current.pause() : play()),
  };
}
