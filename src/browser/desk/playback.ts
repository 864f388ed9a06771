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

const UNPLAYABLE = "The recording can't be played here. The words can be corrected all the same.";
const NO_RECORDING = "This episode has no recording, so nothing can be heard. The words can be corrected all the same.";

/** A stretch of the recording, in milliseconds of its own clock. */
export type Span = readonly [from: number, to: number];

/** What is heard of a moment of the recording: two seconds before it and after. */
export const around = (media: number): Span => [media - AROUND, media + AROUND];

/** What is heard of two moments that would follow each other: two seconds before the first, and after the second. */
export const joint = (from: number, to: number): readonly Span[] => [
  [from - AROUND, from],
  [to, to + AROUND],
];

export interface Playback {
  readonly audio: { current: HTMLAudioElement | null };
  /** Milliseconds of the episode's clock. */
  readonly now: number;
  readonly isPlaying: boolean;
  /** Why nothing can be heard; null: it can. */
  readonly fault: string | null;
  playFrom(at: number): void;
  /** Plays stretches of the recording one after the other, in milliseconds of its own clock, and stops there. */
  playSpans(...spans: readonly Span[]): void;
  seek(at: number): void;
  toggle(): void;
}

/** The recording, by the episode's clock. */
export function usePlayback(words: DeskWords | null): Playback {
  const audio = useRef<HTMLAudioElement | null>(null);
  const [now, setNow] = useState(0);
  const [isPlaying, setIsPlaying] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const spans = useRef<readonly Span[]>([]);
  // Cuts change while it plays.
  const timed = useRef<Timed>({ clock: "media", cuts: [] });
  if (words !== null) timed.current = words;
  const files = words?.media.map(({ src }) => src).join("\n") ?? "";
  useEffect(() => audio.current?.load(), [files]);
  useEffect(() => {
    const own = audio.current;
    if (own === null) return;
    let frame = 0;
    const show = () => setNow(toClock(own.currentTime * 1000, timed.current));
    const run = () => {
      show();
      const [span, next] = spans.current;
      if (span !== undefined && own.currentTime * 1000 >= span[1]) {
        if (next === undefined) return own.pause();
        spans.current = spans.current.slice(1);
        own.currentTime = Math.max(0, next[0]) / 1000;
      }
      frame = requestAnimationFrame(run);
    };
    const start = () => {
      setIsPlaying(true);
      frame = requestAnimationFrame(run);
    };
    const stop = () => {
      spans.current = [];
      setIsPlaying(false);
      cancelAnimationFrame(frame);
      show();
    };
    const fail = ({ target }: Event) => {
      // Of several files the browser takes the first that it can play.
      if (target === own.lastElementChild || target === own) setFault(UNPLAYABLE);
    };
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
    spans.current = [];
    if (audio.current !== null) audio.current.currentTime = Math.max(0, toMedia(at, timed.current)) / 1000;
    setNow(at);
  };
  const play = () => {
    if (words?.media.length === 0) setFault(NO_RECORDING);
    else void audio.current?.play().catch(() => undefined);
  };
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
    playSpans: (...wanted) => {
      const from = Math.max(0, wanted[0]?.[0] ?? 0);
      seek(toClock(from, timed.current));
      if (audio.current !== null) audio.current.currentTime = from / 1000;
      spans.current = wanted;
      play();
    },
    toggle: () => (audio.current?.paused === false ? audio.current.pause() : play()),
  };
}
