import { formatClock } from "../model/clock.ts";
import { captionLine } from "./captions.ts";
import { chapterAfter, parseChapters, stopFrom } from "./chapters.ts";
import { createDeck } from "./deck.ts";
import { helpPanel, listenToKeys } from "./deckKeys.ts";
import { deckNote } from "./deckNote.ts";
import { watchFailure } from "./failure.ts";
import { follow } from "./follow.ts";
import { followAddress, type Goal } from "./followAddress.ts";
import { keepingPlace } from "./keepingPlace.ts";
import { lampInOrder, lampOnStrip } from "./lamps.ts";
import { lampOnWords, readPageWords } from "./pageWords.ts";
import { createPlayhead } from "./playhead.ts";
import { reportLinks } from "./reportLinks.ts";
import { parseSkips } from "./skips.ts";
import { takeMedia } from "./takeMedia.ts";
import { nextAfter } from "./times.ts";

/**
 * Joins the player of a page to its controls, words, lamps, address and report link.
 * @param copyMoment copies the address of a moment, in seconds, and gives what to say of it.
 */
export function startPlayer(player: HTMLElement, copyMoment: (at: number) => Promise<string>): void {
  const video = player.querySelector("video");
  if (video === null) return;
  const noPlayer = player.querySelector<HTMLElement>("[data-no-player]");
  if (takeMedia(video) && noPlayer !== null) noPlayer.hidden = true;
  const [from, to] = [seconds(player.dataset.from, 0), seconds(player.dataset.to, Number.POSITIVE_INFINITY)];
  const runs = seconds(player.dataset.runs, to);
  const skips = parseSkips(player.dataset.skips);
  const chapters = parseChapters(player.dataset.chapters);
  const words = readPageWords(document, from, to, skips);
  const following = follow(document.querySelector("button[data-follow]"), () => !video.paused);
  const [lampWords, lampStrip, lampOrder] = [lampOnWords(), lampOnStrip(document), lampInOrder(document)];
  const captions = captionLine(video, player.querySelector("[data-caption]"));
  const report = reportLinks();
  const note = deckNote(player.querySelector("[data-skip-note]"));
  const place = keepingPlace(player.dataset.episode ?? null, runs);
  let shown: HTMLElement | null = null;
  let failed = false;

  const show = (at: number): void => {
    const cue = words.at(at);
    lampWords(cue);
    lampStrip(at);
    lampOrder(at);
    captions.show(cue, at);
    report(at, cue);
    note.at(at);
    deck?.at(at);
    if (!video.paused) place.at(at);
    if (cue !== null && cue !== shown) following.to(cue);
    shown = cue;
  };
  const playhead = createPlayhead(video, {
    skips,
    nextChange: (at) => nextAfter(words.times, at),
    show: (at) => show(at),
    say: (why, landed) => note.say(why, landed),
    stopFrom: (at) => stopFrom(at, { from, to }, runs, skips),
    stopped(at) {
      const next = chapterAfter(chapters, to - 0.5);
      if (to - at < 0.5 && next !== undefined)
        note.say("This segment ends here.", at, [`Next: ${next.title}`, () => goOn(next.href)]);
    },
  });
  const play = (): void => {
    if (failed) playhead.again();
    video.play().catch(() => {}); // refused, or not to be had: the one is the browser's choice, the other is told
  };
  const seek = (at: number): void => {
    captions.begin();
    playhead.seek(at);
  };
  const hasPicture = player.classList.contains("with-picture");
  const help = helpPanel(place.forget, hasPicture);
  const deck = createDeck({
    deck: player,
    video,
    chapters,
    hasPicture,
    seek,
    play,
    moment: playhead.moment,
    caption: captions.turn,
    help: help.show,
    async link() {
      const at = playhead.moment();
      note.say(await copyMoment(at).catch(() => "The link can’t be copied just now."), at);
    },
  });
  if (deck !== null) listenToKeys(deck, help);
  video.addEventListener("play", captions.begin);
  video.addEventListener("pause", () => place.keep(playhead.moment()));
  addEventListener("pagehide", () => place.keep(playhead.moment()));
  video.addEventListener("loadedmetadata", () => {
    if (failed) note.say(null);
    failed = false;
  });
  watchFailure(video, () => {
    failed = true;
    note.say("The recording can’t be had just now. The words are all here, each with its time.", null, [
      "Try again",
      play,
    ]);
  });

  const go = ({ at, stop, by }: Goal): void => {
    if (by !== "opening") captions.begin();
    playhead.seek(at, stop ?? undefined);
    if (by === "row") play();
  };
  const opened = followAddress({ words, chapters, go, expectScroll: following.expectScroll });
  // A recording that was there before this script has nothing more to tell.
  if (video.readyState !== HTMLMediaElement.HAVE_NOTHING) show(playhead.moment());
  const stopped = place.within(from, to);
  if (opened) return;
  if (stopped !== null) {
    playhead.seek(stopped);
    note.say(`Goes on at ${formatClock(stopped * 1000)}, where you stopped. Only this device keeps that.`, stopped, [
      "From the beginning",
      () => {
        note.say(null);
        seek(from);
      },
    ]);
  } else if (from > 0) playhead.seek(from);
  if (place.wantsPlaying()) play();

  function goOn(href: string): void {
    place.playNext(href);
    location.assign(href);
  }
}

const seconds = (text: string | undefined, otherwise: number): number =>
  text === undefined || !Number.isFinite(Number(text)) ? otherwise : Number(text);
