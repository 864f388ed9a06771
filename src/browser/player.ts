import { formatClock } from "../model/clock.ts";
import { captionLine } from "./captions.ts";
import { follow } from "./follow.ts";
import { parseFragment } from "./fragments.ts";
import { lampInOrder, lampOnStrip } from "./lamps.ts";
import { lampOnWords, type PageWords, readPageWords, wordsOf } from "./pageWords.ts";
import { createPlayhead } from "./playhead.ts";
import { reportAddress } from "./report.ts";
import { parseSkips } from "./skips.ts";
import { takeMedia } from "./takeMedia.ts";
import { nextAfter } from "./times.ts";

/** Joins the player of a page to its words, its lamps, its address and its report link. */
export function startPlayer(player: HTMLElement): void {
  const video = player.querySelector("video");
  if (video === null) return;
  const noPlayer = player.querySelector<HTMLElement>("[data-no-player]");
  if (takeMedia(video) && noPlayer !== null) noPlayer.hidden = true;
  const [from, to] = [seconds(player.dataset.from, 0), seconds(player.dataset.to, Number.POSITIVE_INFINITY)];
  const skips = parseSkips(player.dataset.skips);
  const words = readPageWords(document, from, to, skips);
  const following = follow(document.querySelector("button[data-follow]"), () => !video.paused);
  const [lampWords, lampStrip, lampOrder] = [lampOnWords(), lampOnStrip(document), lampInOrder(document)];
  const caption = captionLine(video, document.querySelector("[data-caption]"));
  const report = reportLinks();
  const note = noteOfSkips();
  let shown: HTMLElement | null = null;

  const show = (at: number): void => {
    const cue = words.at(at);
    lampWords(cue);
    lampStrip(at);
    lampOrder(at);
    caption(cue, at);
    report(at, cue);
    note.at(at);
    if (cue !== null && cue !== shown) following.to(cue);
    shown = cue;
  };
  const playhead = createPlayhead(video, {
    skips,
    nextChange: (at) => nextAfter(words.times, at),
    show,
    say: note.say,
  });
  if (from > 0) playhead.seek(from, null);
  followAddress(words, playhead.seek, following.expectScroll);
}

const seconds = (text: string | undefined, otherwise: number): number =>
  text === undefined || !Number.isFinite(Number(text)) ? otherwise : Number(text);

/**
 * Goes to the moment in the address: when the page opens, when the address changes, and when a stamp is chosen (again).
 * Nothing is played by it. Stamps stay links: the browser changes the address and scrolls, with script or without; the
 * focus is put back on the stamp, so that a keyboard goes on from where it was.
 */
function followAddress(
  words: PageWords,
  seek: (to: number, stop: number | null) => void,
  expectScroll: () => void,
): void {
  let chosen: HTMLAnchorElement | null = null;
  const go = (hash: string): void => {
    const stretch = parseFragment(hash);
    if (stretch === null) return;
    const id = hash.slice(1);
    seek(words.momentOf(id) ?? stretch.start, stretch.end);
    if (document.getElementById(id) !== null) return;
    expectScroll();
    words.near(stretch.start)?.scrollIntoView({ block: "center" });
  };
  document.addEventListener("click", (event) => {
    const stamp = event.target instanceof Element ? event.target.closest<HTMLAnchorElement>("a.stamp[href]") : null;
    if (stamp === null || event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey)
      return;
    if (stamp.href.replace(/#.*$/, "") !== location.href.replace(/#.*$/, "")) return;
    expectScroll();
    go(stamp.hash);
    if (stamp.hash !== location.hash) chosen = stamp;
  });
  addEventListener("hashchange", () => {
    if (chosen?.hash === location.hash) chosen.focus({ preventScroll: true });
    else go(location.hash);
    chosen = null;
  });
  go(location.hash);
}

/** How long the reason for a step stays, in seconds of the recording; common practice, no source. */
const READING = 10;

/** Says why playback went on elsewhere, until it is some way from there. */
function noteOfSkips(): { say(why: string, landed: number): void; at(seconds: number): void } {
  const note = document.querySelector<HTMLElement>("[data-skip-note]");
  let said = 0;
  return {
    say(why, landed) {
      said = landed;
      if (note === null) return;
      note.hidden = false;
      note.textContent = why;
    },
    at(seconds) {
      if (note !== null && Math.abs(seconds - said) > READING) note.hidden = true;
    },
  };
}

/** Puts the moment into the links that report an error, once there is one. */
function reportLinks(): (seconds: number, cue: HTMLElement | null) => void {
  const links = [...document.querySelectorAll<HTMLAnchorElement>("a[data-report]")].map((link) => ({
    link,
    href: link.href,
    moment: link.querySelector("[data-moment]"),
  }));
  const episode = /\/(\d{4}-\d{2}-\d{2}[\w-]*)\//.exec(location.pathname)?.[1] ?? null;
  let said = "";
  return (at, cue) => {
    const clock = formatClock(at * 1000);
    const words = cue === null ? "" : wordsOf(cue);
    if (said === clock + words || (said === "" && at === 0)) return;
    said = clock + words;
    const whole = Math.floor(at);
    const page = `${location.origin}${location.pathname}#t=${whole}`;
    const segment = cue?.closest(".segment[id]")?.id ?? null;
    for (const { link, href, moment } of links) {
      link.href = reportAddress(href, { seconds: whole, clock, words, page, episode, segment });
      if (moment !== null) moment.textContent = ` at ${clock}`;
    }
  };
}
