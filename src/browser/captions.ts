import { wordsOf } from "./pageWords.ts";
import { saidAt } from "./times.ts";

export interface Captions {
  /** Shows the words at a moment, in seconds; `cue` is the page's own, for a track that can't be loaded. */
  show(cue: Element | null, seconds: number): void;
  /** Whether the reader wants captions. */
  turn(on: boolean): void;
  /** The reader has begun: until then there are no words, so that nothing moves while the page opens. */
  begin(): void;
}

/**
 * The deck's line of words. The captions track is the page's default, so that captions are there without script. With it the
 * line takes over: it is larger than a caption in a small picture, covers nothing, names the speaker, and goes with the
 * deck when that fills the screen. The track is then `hidden` (loaded, not drawn), and drawn only where a browser fills the
 * screen with the film alone.
 */
export function captionLine(video: HTMLVideoElement, line: HTMLElement | null): Captions {
  const place = line?.querySelector("span") ?? null;
  if (line === null || place === null) return { show() {}, turn() {}, begin() {} };
  const track = [...video.textTracks].find(({ kind }) => kind === "captions" || kind === "subtitles") ?? null;
  const element = [...video.querySelectorAll("track")].find((candidate) => candidate.track === track) ?? null;
  let [wanted, begun, alone] = [true, false, false];
  let [words, moment]: [Element | null, number] = [null, 0];

  const show = (): void => {
    line.hidden = !wanted || !begun || track?.mode === "showing";
    const loaded = track?.mode === "hidden" && element?.readyState === HTMLTrackElement.LOADED;
    const parts = loaded ? voicedWords(track, moment) : words === null ? [] : [wordsOf(words)];
    const said = parts.map((part) => (typeof part === "string" ? part : part.textContent)).join("");
    if (said !== place.textContent) place.replaceChildren(...parts);
  };
  const decide = (): void => {
    if (track !== null) track.mode = alone && wanted ? "showing" : "hidden";
    show();
  };
  const whole = (on: boolean) => (): void => {
    alone = on;
    decide();
  };
  document.addEventListener("fullscreenchange", () => whole(document.fullscreenElement === video)());
  // Telephones that play a film full screen outside the page's own full screen say so like this.
  video.addEventListener("webkitbeginfullscreen", whole(true));
  video.addEventListener("webkitendfullscreen", whole(false));
  // Captions that were chosen in a menu of the browser's own: the line gives way, and no words stand there twice.
  video.textTracks.addEventListener("change", show);
  element?.addEventListener("load", show);
  decide();
  return {
    show(cue, seconds) {
      [words, moment] = [cue, seconds];
      show();
    },
    turn(on) {
      wanted = on;
      decide();
    },
    begin() {
      if (begun) return;
      begun = true;
      show();
    },
  };
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
