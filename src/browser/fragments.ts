/** A stretch that an address asks for, in seconds, half open; `end` is null where it runs to the end of the media. */
export interface Stretch {
  readonly start: number;
  readonly end: number | null;
}

const SECONDS = /^\d+(?:\.\d*)?$/;
const CLOCK = /^(?:(\d+):([0-5]\d)|([0-5]?\d)):([0-5]\d(?:\.\d*)?)$/;

/**
 * The temporal part of a fragment: Media Fragments URI 1.0 (basic), sections 4.2.1 and 6.2.
 * @param hash with or without its `#`.
 * @returns the last valid `t=`, or null where there is none. Normal play time alone is known: an invalid value, and
 * `smpte:` and `clock:`, are passed over. Beyond the grammar, minutes may have one digit (`1:40`), as people write them.
 */
export function parseFragment(hash: string): Stretch | null {
  let found: Stretch | null = null;
  for (const pair of hash.replace(/^#/, "").split("&")) {
    const sign = pair.indexOf("=");
    if (sign < 0) continue;
    const name = decode(pair.slice(0, sign));
    const value = decode(pair.slice(sign + 1));
    if (name === "t" && value !== null) found = parseStretch(value) ?? found;
  }
  return found;
}

function parseStretch(value: string): Stretch | null {
  const [begin = "", end, ...more] = value.replace(/^npt:/, "").split(",");
  if (more.length > 0 || (begin === "" && end === undefined)) return null;
  const start = begin === "" ? 0 : parseTime(begin);
  const stop = end === undefined ? null : parseTime(end);
  if (start === null || (end !== undefined && stop === null)) return null;
  return stop !== null && stop <= start ? null : { start, end: stop };
}

function parseTime(text: string): number | null {
  if (SECONDS.test(text)) return Number(text);
  const found = CLOCK.exec(text);
  if (found === null) return null;
  const [, hours = "0", minutes, alone, seconds] = found;
  return Number(hours) * 3600 + Number(minutes ?? alone) * 60 + Number(seconds);
}

/** Percent-encoding undone, or null where there is a stray percent sign. */
export function decode(text: string): string | null {
  try {
    return decodeURIComponent(text);
  } catch {
    return null;
  }
}
