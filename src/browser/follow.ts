const KEPT = "afterair-follow";
const SCROLL_KEYS = new Set(["ArrowUp", "ArrowDown", "PageUp", "PageDown", "Home", "End", " "]);

export interface Follow {
  /** Brings the words into view, if following is on. */
  to(cue: HTMLElement): void;
  /** The page is about to scroll by itself, or by a link that the reader took. */
  expectScroll(): void;
}

/**
 * Keeps the words being said in view. A reader who scrolls, by whatever means, has chosen to read elsewhere: following
 * then turns itself off, until the button turns it on again. The choice lasts for the visit.
 * @param playing whether the recording is running: only then does the page move by itself.
 */
export function follow(button: HTMLButtonElement | null, playing: () => boolean): Follow {
  if (button === null) return { to() {}, expectScroll() {} };
  let on = recall() ?? button.getAttribute("aria-pressed") === "true";
  let expected = false;
  const turn = (to: boolean): void => {
    if (to !== on) remember(to);
    on = to;
    button.setAttribute("aria-pressed", String(on));
  };
  const readerScrolls = (): void => {
    if (on && playing()) turn(false);
  };
  const expectScroll = (): void => {
    expected = true;
  };
  button.hidden = false;
  turn(on);
  button.addEventListener("click", () => turn(!on));
  document.addEventListener("wheel", readerScrolls, { passive: true });
  document.addEventListener("touchmove", ({ target }) => void (isControl(target) || readerScrolls()), {
    passive: true,
  });
  document.addEventListener("keydown", (event) => {
    if (SCROLL_KEYS.has(event.key) && !isControl(event.target)) readerScrolls();
  });
  // What is left is dragging the scroll bar, and finding in the page: known by a scroll that nobody here asked for.
  document.addEventListener("scroll", () => void (expected || readerScrolls()));
  document.addEventListener("scrollend", () => {
    expected = false;
  });
  return {
    expectScroll,
    to(cue) {
      if (!on || !playing() || inView(cue)) return;
      expectScroll();
      cue.scrollIntoView({ block: "center", behavior: prefersStill() ? "instant" : "smooth" });
    },
  };
}

const prefersStill = (): boolean => matchMedia("(prefers-reduced-motion: reduce)").matches;

/** Where a key that scrolls a page does something else. */
const isControl = (target: EventTarget | null): boolean =>
  target instanceof Element && target.closest("input, textarea, select, button, summary, video, audio") !== null;

/** In the free part of the window: below what sticks to its top, and not in its last quarter. */
function inView(cue: HTMLElement): boolean {
  const top = Number.parseFloat(getComputedStyle(document.documentElement).scrollPaddingTop) || 0;
  const box = cue.getBoundingClientRect();
  return box.top >= top && box.bottom <= innerHeight * 0.75;
}

function recall(): boolean | null {
  try {
    const kept = sessionStorage.getItem(KEPT);
    return kept === null ? null : kept === "true";
  } catch {
    return null; // storage is switched off: the button still works, for this page
  }
}

function remember(on: boolean): void {
  try {
    sessionStorage.setItem(KEPT, String(on));
  } catch {
    // As above.
  }
}
