import { drawing, element } from "./elements.ts";

/** The signs on the deck's buttons, drawn on a field of 24 by 24. */
const SIGNS = {
  play: "M6 3.5v17L20 12z",
  pause: "M5 4h5v16H5zM14 4h5v16h-5z",
  previous: "M4 5h3v14H4zM20 5v14L9 12z",
  next: "M17 5h3v14h-3zM4 5v14l11-7z",
  captions: "M2 4h20v16H2zm2 2v12h16V6zm2 4h8v2H6zm10 0h2v2h-2zM6 14h3v2H6zm5 0h7v2h-7z",
  sound: "M3 9h4l6-5v16l-6-5H3zm12 0h2v6h-2zm4-3h2v12h-2z",
  silent: "M3 9h4l6-5v16l-6-5H3zm12 0h1.5l5 6H20zm5 0h1.5l-5 6H15z",
  link: "M4 8h7v2H6v4h5v2H4zm9 0h7v8h-7v-2h5v-4h-5zM8 11h8v2H8z",
  full: "M3 3h7v2H5v5H3zm11 0h7v7h-2V5h-5zM3 14h2v5h5v2H3zm16 0h2v7h-7v-2h5z",
  help: "M7 3h10v9h-4v4h-2v-6h4V5H9v3H7zm4 15h2v3h-2z",
  more: "M4 10h4v4H4zm6 0h4v4h-4zm6 0h4v4h-4z",
} as const;
type Sign = keyof typeof SIGNS;

const SPEEDS = [0.75, 1, 1.25, 1.5, 1.75, 2];

/** A button with a sign and its name in words, which is seen where there is room. */
function button(name: Sign, words: string): HTMLButtonElement {
  const sign = drawing("svg", { viewBox: "0 0 24 24", "aria-hidden": "true" }, drawing("path", { d: SIGNS[name] }));
  const made = element("button", { type: "button", class: `d-${name}` }, sign, element("span", { class: "vh" }));
  rename(made, name, words);
  return made;
}

/** Gives a button another sign and name, where they are others. */
export function rename(made: HTMLButtonElement, sign: Sign, words: string): void {
  if (made.title === words) return;
  made.title = words;
  made.querySelector("path")?.setAttribute("d", SIGNS[sign]);
  made.querySelector("span")?.replaceChildren(words);
}

export type DeckBar = ReturnType<typeof deckBar>;

/**
 * The controls of the deck, around the log strip that the page has: the strip lies under a slider. Nothing is joined to
 * the recording yet.
 * @param runs how long the recording is, in seconds.
 */
export function deckBar(bar: HTMLElement, strip: HTMLElement, runs: number, video: boolean) {
  const [play, more] = [button("play", "Play"), button("more", "More controls")];
  const seek = element("input", { type: "range", class: "d-seek", min: 0, max: runs, step: 0.1, value: 0 });
  seek.setAttribute("aria-label", "Place in the recording");
  const [now, hint] = [
    element("b", {}, "0:00"),
    element("span", { class: "d-hint", "aria-hidden": "true", hidden: "" }),
  ];
  const [previous, next] = [button("previous", "Previous segment"), button("next", "Next segment")];
  const [captions, mute] = [button("captions", "Captions"), button("sound", "Sound off")];
  const [full, help] = [button("full", "Full screen"), button("help", "Keys and help")];
  const link = button("link", "Copy a link to this moment");
  const speed = element("select", {}, ...SPEEDS.map((rate) => element("option", { value: rate }, `${rate}×`)));
  const speeds = element(
    "label",
    { class: "d-speed", title: "Speed" },
    element("span", { class: "vh" }, "Speed"),
    speed,
  );
  const volume = element("input", {
    type: "range",
    class: "d-volume",
    min: 0,
    max: 1,
    step: 0.05,
    "aria-label": "Volume",
  });
  const clock = element("span", { class: "d-clock" }, now, element("span", { class: "d-runs" }));
  const sound = element("span", { class: "d-level" }, mute, volume);
  const tools = element(
    "div",
    { class: "d-tools", id: "page.tools" },
    previous,
    next,
    captions,
    speeds,
    sound,
    link,
    help,
  );
  if (video) help.before(full);
  more.setAttribute("aria-controls", tools.id);
  more.setAttribute("aria-expanded", "false");
  strip.append(seek, hint);
  bar.prepend(play, clock);
  bar.append(more, tools);
  return {
    bar,
    play,
    seek,
    clock,
    now,
    hint,
    more,
    tools,
    previous,
    next,
    captions,
    speed,
    mute,
    volume,
    link,
    full,
    help,
  };
}
