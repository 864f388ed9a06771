import { formatClock } from "../model/clock.ts";
import type { Chapter } from "../pages/types.ts";
import { chapterAfter, placeText, startBefore } from "./chapters.ts";
import { type DeckBar, deckBar, rename } from "./deckBar.ts";
import { keepChoices, recallChoices } from "./kept.ts";
import type { Command } from "./keys.ts";

interface DeckNeeds {
  readonly deck: HTMLElement;
  readonly video: HTMLVideoElement;
  readonly chapters: readonly Chapter[];
  /** The recording has a picture. */
  readonly hasPicture: boolean;
  /** Goes to a moment, in seconds. */
  seek(to: number): void;
  play(): void;
  /** The moment being played, in seconds. */
  moment(): number;
  /** Has captions drawn, or not. */
  caption(on: boolean): void;
  help(): void;
  /** Copies a link to the moment. */
  link(): void;
}

export interface Deck {
  /** Shows a moment, in seconds. */
  at(seconds: number): void;
  readonly commands: Readonly<Record<Command, () => void>>;
}

/** How far one step of a key goes: on the slider, and anywhere. Seconds; common practice, no source. */
const [STEP, LEAP] = [5, 10];

/** Puts our own controls in the place of the browser's. Null: the page has no strip to lay them around. */
export function createDeck(needs: DeckNeeds): Deck | null {
  const { deck, video, chapters } = needs;
  const [bar, strip] = [deck.querySelector<HTMLElement>(".deck-bar"), deck.querySelector<HTMLElement>(".log-strip")];
  const runs = Number(deck.dataset.runs);
  if (bar === null || strip === null || !(runs > 0)) return null;
  const parts = deckBar(bar, strip, runs, needs.hasPicture);
  parts.clock.lastElementChild?.replaceChildren(` / ${formatClock(runs * 1000)}`);
  video.controls = false;
  deck.dataset.ready = "";

  const commands = {
    play: () => (video.paused ? needs.play() : video.pause()),
    back: () => needs.seek(Math.max(0, needs.moment() - LEAP)),
    on: () => needs.seek(Math.min(runs, needs.moment() + LEAP)),
    previous: () => needs.seek(startBefore(chapters, needs.moment())),
    next: () => needs.seek(chapterAfter(chapters, needs.moment())?.from ?? needs.moment()),
    full: () => needs.hasPicture && fullScreen(deck, video),
    help: needs.help,
    ...joinTools(parts, needs),
  };
  for (const name of ["play", "previous", "next", "captions", "mute", "full", "help"] as const)
    parts[name].addEventListener("click", commands[name]);
  parts.link.addEventListener("click", needs.link);
  const playing = () => rename(parts.play, video.paused ? "play" : "pause", video.paused ? "Play" : "Pause");
  for (const event of ["play", "pause", "ended", "emptied"]) video.addEventListener(event, playing);
  for (const event of ["waiting", "playing", "pause", "error"])
    video.addEventListener(event, () => deck.toggleAttribute("data-waits", event === "waiting"));
  joinMore(deck, parts);
  return { commands, at: joinSeek(parts, needs, runs) };
}

/** The slider on the strip. @returns shows a moment on it, and on the clock. */
function joinSeek({ seek, now, hint }: DeckBar, needs: DeckNeeds, runs: number): Deck["at"] {
  const { chapters } = needs;
  let told = "";
  const tell = (seconds: number): void => {
    told = placeText(chapters, seconds);
    seek.setAttribute("aria-valuetext", told);
  };
  const go = (to: number): void => {
    needs.seek(Math.min(runs, Math.max(0, to)));
    tell(needs.moment());
  };
  seek.addEventListener("input", () => go(Number(seek.value)));
  seek.addEventListener("pointerup", ({ button }) => void (button === 0 && needs.play()));
  seek.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
    const [at, ahead] = [needs.moment(), seek.matches(":dir(rtl)") ? -STEP : STEP];
    const to = new Map([
      ["ArrowRight", at + ahead],
      ["ArrowLeft", at - ahead],
      ["ArrowUp", at + STEP],
      ["ArrowDown", at - STEP],
      ["PageUp", chapterAfter(chapters, at)?.from ?? runs],
      ["PageDown", startBefore(chapters, at)],
    ]).get(event.key);
    if (to !== undefined) go(to);
    else if (event.key === " ") needs.video.paused ? needs.play() : needs.video.pause();
    else return;
    event.preventDefault();
  });
  seek.addEventListener("pointermove", ({ clientX }) => {
    const { left, right, width } = seek.getBoundingClientRect();
    const along = (seek.matches(":dir(rtl)") ? right - clientX : clientX - left) / width;
    hint.hidden = false;
    hint.style.setProperty("--at", Math.min(1, Math.max(0, along)).toFixed(4));
    hint.textContent = placeText(chapters, Math.min(1, Math.max(0, along)) * runs);
  });
  seek.addEventListener("pointerleave", () => {
    hint.hidden = true;
  });
  return (seconds) => {
    seek.valueAsNumber = seconds;
    const clock = formatClock(seconds * 1000);
    if (clock === now.textContent && told !== "") return;
    now.textContent = clock;
    // Who listens with a screen reader on the slider is not told every second, only what changes with the segment.
    const place = placeText(chapters, seconds);
    const sameSegment = place.slice(clock.length) === told.replace(/^[\d:]+/, "");
    if (needs.video.paused || document.activeElement !== seek || !sameSegment) tell(seconds);
  };
}

/** Speed, captions and sound, as they were chosen last. */
function joinTools({ captions, speed, mute, volume }: DeckBar, needs: DeckNeeds) {
  const { video } = needs;
  const chosen = recallChoices();
  const caption = (on: boolean): void => {
    captions.setAttribute("aria-pressed", String(on));
    needs.caption(on);
  };
  const rate = (to: string): void => {
    const known = [...speed.options].some(({ value }) => value === to) ? to : "1";
    speed.value = known;
    video.defaultPlaybackRate = Number(known); // what a recording that is loaded again begins with
    video.playbackRate = Number(known);
  };
  video.volume = chosen.volume;
  video.muted = chosen.muted;
  // Some devices leave the volume to their own keys.
  volume.hidden = video.volume !== chosen.volume;
  const sound = (): void => {
    volume.valueAsNumber = video.muted ? 0 : video.volume;
    rename(mute, video.muted ? "silent" : "sound", video.muted ? "Sound on" : "Sound off");
  };
  caption(chosen.captions);
  rate(String(chosen.rate));
  sound();
  const keepSound = (): void => keepChoices({ volume: video.volume, muted: video.muted });
  video.addEventListener("volumechange", () => {
    sound();
    keepSound(); // the browser's own controls, in a telephone's full screen, change it too
  });
  // Kept at once: the event comes later, and by then the page may have been left.
  volume.addEventListener("input", () => {
    video.muted = volume.valueAsNumber === 0;
    if (!video.muted) video.volume = volume.valueAsNumber;
    keepSound();
  });
  const choose = (to: string): void => {
    rate(to);
    keepChoices({ rate: video.playbackRate });
  };
  speed.addEventListener("change", () => choose(speed.value));
  return {
    speed: () => choose(speed.options[(speed.selectedIndex + 1) % speed.length]?.value ?? "1"),
    mute: () => {
      video.muted = !video.muted;
      keepSound();
    },
    captions: () => {
      const on = captions.getAttribute("aria-pressed") !== "true";
      caption(on);
      keepChoices({ captions: on });
    },
  };
}

/** On a narrow page, what there is no room for hangs under the bar, until it is put away again. */
function joinMore(deck: HTMLElement, { more, tools }: DeckBar): void {
  const turn = (open: boolean): void => {
    more.setAttribute("aria-expanded", String(open));
    deck.toggleAttribute("data-more", open);
  };
  more.addEventListener("click", () => turn(!deck.hasAttribute("data-more")));
  deck.addEventListener("keydown", ({ key }) => {
    if (key !== "Escape" || !deck.hasAttribute("data-more")) return;
    if (tools.contains(document.activeElement)) more.focus();
    turn(false);
  });
  document.addEventListener("pointerdown", ({ target }) => {
    if (target instanceof Node && !deck.contains(target)) turn(false);
  });
}

/** The whole deck fills the screen, so that its captions and controls do too; a telephone may fill it with the film alone. */
function fullScreen(deck: HTMLElement, video: HTMLVideoElement & { webkitEnterFullscreen?: () => void }): void {
  if (document.fullscreenElement !== null) void document.exitFullscreen();
  else if (deck.requestFullscreen === undefined) video.webkitEnterFullscreen?.();
  else deck.requestFullscreen().catch(() => {}); // the browser says no: the deck stays where it is
}
