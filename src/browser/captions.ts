import { wordsOf } from "./pageWords.ts";
import { saidAt } from "./times.ts";

/**
 * The line of words under the picture.
 *
 * The captions track is the page's default, so that captions are there without script and in full screen. Where the
 * layout has room for the line, the line takes over: it is larger than a caption in a small picture, covers nothing, and
 * names the speaker. The track is then `hidden` (loaded, not drawn) and is drawn again in full screen, and where
 * the layout leaves the line out. A reader who chooses captions in the player's own menu is obeyed from then on,
 * and sees no words twice: the line stands only while the track is not drawn.
 * @returns shows the words at a moment; `cue` is the page's own, for a track that can't be loaded.
 */
export function captionLine(
  video: HTMLVideoElement,
  line: HTMLElement | null,
): (cue: Element | null, seconds: number) => void {
  if (line === null) return () => {};
  const place = line.querySelector("span") ?? line.appendChild(document.createElement("span"));
  const track = [...video.textTracks].find(({ kind }) => kind === "captions" || kind === "subtitles") ?? null;
  const element = [...video.querySelectorAll("track")].find((candidate) => candidate.track === track) ?? null;
  let [words, moment]: [Element | null, number] = [null, 0];

  const show = (cue: Element | null, seconds: number): void => {
    [words, moment] = [cue, seconds];
    line.hidden = track?.mode === "showing";
    const loaded = track?.mode === "hidden" && element?.readyState === HTMLTrackElement.LOADED;
    const parts = loaded ? voicedWords(track, seconds) : cue === null ? [] : [wordsOf(cue)];
    const said = parts.map((part) => (typeof part === "string" ? part : part.textContent)).join("");
    if (said !== place.textContent) place.replaceChildren(...parts);
  };
  if (track !== null) shareWithTrack(video, line, track, () => show(words, moment));
  show(null, 0);
  return show;
}

/** Decides who draws the captions, until the reader does. */
function shareWithTrack(video: HTMLVideoElement, line: HTMLElement, track: TextTrack, show: () => void): void {
  let [ours, full] = [true, false];
  let set: TextTrackMode = track.mode;
  const decide = (): void => {
    if (ours) {
      line.hidden = false;
      const hasRoom = getComputedStyle(line).display !== "none";
      set = full || !hasRoom ? "showing" : "hidden";
      track.mode = set;
    }
    show();
  };
  const whole = (on: boolean) => () => {
    full = on;
    decide();
  };
  document.addEventListener("fullscreenchange", () => whole(document.fullscreenElement?.contains(video) ?? false)());
  // Phones that play a film full screen outside the page's own full screen say so like this.
  video.addEventListener("webkitbeginfullscreen", whole(true));
  video.addEventListener("webkitendfullscreen", whole(false));
  video.textTracks.addEventListener("change", () => {
    if (track.mode !== set) ours = false;
    decide();
  });
  track.addEventListener("cuechange", show);
  window.addEventListener("resize", decide);
  decide();
}

/**
 * The words of the track's cues at a moment, each after its speaker. Not those that the browser calls active: after a
 * seek, these are for a while the ones before, and then on the edge of two cues both.
 */
function voicedWords(track: TextTrack, seconds: number): (Node | string)[] {
  const cues = [...(track.cues ?? [])].filter((cue): cue is VTTCue => cue instanceof VTTCue);
  return saidAt(cues, seconds).flatMap((cue) => {
    const said = cue.getCueAsHTML();
    const voice = said.querySelector("span[title]");
    const speaker = voice?.getAttribute("title") ?? "";
    const words = (said.textContent ?? "").replace(/\s+/g, " ");
    if (speaker === "") return [words, " "];
    const name = document.createElement("b");
    // In a draft, a voice may be a guess that nobody has accepted: its class says so.
    name.textContent = voice?.classList.contains("proposed") === true ? `${speaker}, proposed` : speaker;
    return [name, " ", words, " "];
  });
}
