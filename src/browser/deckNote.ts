import { element } from "./elements.ts";

/** Something to do about what the deck says: its words, and what they do. */
export type Offer = readonly [words: string, does: () => void];

export interface DeckNote {
  /**
   * Says something, with what can be done about it; null takes away what was said.
   * @param about the moment that it is about, in seconds: it stays until playing is some way from there. Null: until it is taken away.
   */
  say(words: string | null, about?: number | null, ...offers: readonly Offer[]): void;
  /** Shows a moment, in seconds. */
  at(seconds: number): void;
}

/** How long what was said stays, in seconds of the recording; common practice, no source. */
const READING = 10;

/** The one line in which the deck says what it did, and why. */
export function deckNote(line: HTMLElement | null): DeckNote {
  let said: number | null = null;
  return {
    say(words, about = null, ...offers) {
      said = about;
      if (line === null) return;
      line.hidden = words === null;
      line.replaceChildren(words ?? "", ...offers.flatMap((offer) => [" ", buttonFor(offer)]));
    },
    at(seconds) {
      if (line !== null && said !== null && Math.abs(seconds - said) > READING) line.hidden = true;
    },
  };
}

function buttonFor([words, does]: Offer): HTMLElement {
  const made = element("button", { type: "button" }, words);
  made.addEventListener("click", does);
  return made;
}
