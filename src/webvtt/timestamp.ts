import { COLON, FULL_STOP, hasAt, skipDigits, ZERO } from "./characters.ts";

/** What `readTimestamp` found; the caller owns it and may use it again. */
export interface Timestamp {
  seconds: number;
  /** Past the timestamp; when there is none, the offset that could not be read. */
  end: number;
}

const fail = (into: Timestamp, at: number): false => {
  into.end = at;
  return false;
};

/**
 * "Collect a WebVTT timestamp" (WebVTT §6.3) at `from`, in a text that ends at `to`. Hours may have any number of
 * digits; what follows the three digits of the milliseconds is the caller's business.
 * @returns false when there is no timestamp; `into` then holds the place.
 */
export function readTimestamp(text: string, from: number, to: number, into: Timestamp): boolean {
  const firstEnd = skipDigits(text, from, to);
  if (firstEnd === from || !hasAt(text, firstEnd, to, COLON)) return fail(into, firstEnd);
  const first = integer(text, from, firstEnd);
  const secondEnd = skipDigits(text, firstEnd + 1, to);
  if (secondEnd - firstEnd !== 3) return fail(into, firstEnd + 1);
  const second = integer(text, firstEnd + 1, secondEnd);

  let hours = 0;
  let minutes = first;
  let seconds = second;
  let at = secondEnd;
  if (firstEnd - from !== 2 || first > 59 || hasAt(text, secondEnd, to, COLON)) {
    if (!hasAt(text, secondEnd, to, COLON)) return fail(into, secondEnd);
    at = skipDigits(text, secondEnd + 1, to);
    if (at - secondEnd !== 3) return fail(into, secondEnd + 1);
    hours = first;
    minutes = second;
    seconds = integer(text, secondEnd + 1, at);
  }

  if (!hasAt(text, at, to, FULL_STOP)) return fail(into, at);
  const end = skipDigits(text, at + 1, to);
  if (end - at !== 4) return fail(into, at + 1);
  if (minutes > 59 || seconds > 59) return fail(into, from);
  // Divided once, at the end: the sum of the standard in real numbers, where 10 + 694 / 1000 is 10.694.
  const ms = (hours * 60 + minutes) * 60_000 + seconds * 1000 + integer(text, at + 1, end);
  into.seconds = Math.min(ms / 1000, Number.MAX_VALUE); // hours of hundreds of digits stay a number
  into.end = end;
  return true;
}

/** Digits that a number surely holds exactly. */
const EXACT_DIGITS = 15;

/** The digits [from, to) as a number. */
function integer(text: string, from: number, to: number): number {
  if (to - from > EXACT_DIGITS) return Number(text.slice(from, to));
  let value = 0;
  for (let at = from; at < to; at++) value = value * 10 + text.charCodeAt(at) - ZERO;
  return value;
}

/** A timestamp as it may be written (WebVTT §4.1): hours in two digits or more, and only when wanted. */
export const CONFORMING_TIMESTAMP = /^(?:\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}$/;

/** The latest moment that can be written and counted on: whole milliseconds must stay exact. */
export const isWritableMs = (ms: number): boolean => Number.isSafeInteger(ms) && ms >= 0;

/** `01:03:41.250`, always with hours (WebVTT §4.1). `ms`: whole, 0 or more. */
export function formatTimestamp(ms: number): string {
  const seconds = Math.floor(ms / 1000);
  const clock = `${two(Math.floor(seconds / 3600))}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
  return `${clock}.${String(ms % 1000).padStart(3, "0")}`;
}

const two = (n: number): string => (n < 10 ? `0${n}` : String(n));

/** A cue's seconds as whole milliseconds: exact, because a timestamp never has more than three decimals. */
export const wholeMs = (seconds: number): number => Math.round(seconds * 1000);
