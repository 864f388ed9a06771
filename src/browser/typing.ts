import { isEmpty, type Query } from "./query.ts";

/** How long typing rests before its words are looked for, and before the answer is read aloud, in ms. Common practice, no source. */
const REST = { search: 250, tell: 1000 };

/** Fewer letters and figures are found nearly everywhere. */
const FEWEST = 3;

/** Whether what is typed so far is looked for, without anybody asking: all the words are taken back, or there are enough letters. */
export const isTypedEnough = (query: Query): boolean =>
  isEmpty(query) || (query.words.match(/[\p{L}\p{N}]/gu)?.length ?? 0) >= FEWEST;

/**
 * Tells when typing rests. Letters that are still being put together, as with a Japanese keyboard, are no words yet.
 * @param began at each change. @param search after a short rest. @param tell after a longer one.
 */
export function whenTypingRests(
  field: HTMLElement,
  { began, search, tell }: { began(): void; search(): void; tell(): void },
): void {
  let timers: readonly number[] = [];
  const typed = (event: Event): void => {
    timers.forEach(clearTimeout);
    began();
    if (event instanceof InputEvent && event.isComposing) return;
    timers = [setTimeout(search, REST.search), setTimeout(tell, REST.tell)];
  };
  field.addEventListener("input", typed);
  field.addEventListener("compositionend", typed);
}
