const CLOCK = /^(?:(\d+):([0-5]\d)|(\d+)):([0-5]\d)(?:\.(\d{1,3}))?$/;

/**
 * Reads `m:ss`, `h:mm:ss` and either with up to three decimals of a second.
 * @returns whole milliseconds, or null when the text is no such time (`14:75`, `1:2`, `90`).
 */
export function parseClock(text: string): number | null {
  const found = CLOCK.exec(text);
  if (found === null) return null;
  const [, hours, minutesOfHour, minutes, seconds, decimals] = found;
  const whole = Number(hours ?? 0) * 3600 + Number(minutesOfHour ?? minutes) * 60 + Number(seconds);
  return whole * 1000 + Number((decimals ?? "").padEnd(3, "0"));
}

/** `3:41` or `1:03:41`, the second cut off (never rounded up into the next cue). `ms` >= 0. */
export function formatClock(ms: number): string {
  const seconds = Math.floor(ms / 1000);
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const ss = String(s).padStart(2, "0");
  return h > 0 ? `${h}:${String(m).padStart(2, "0")}:${ss}` : `${m}:${ss}`;
}

/** The same with milliseconds where there are any: `3:41.250`. What `parseClock` reads back exactly. */
export function formatClockExact(ms: number): string {
  const rest = Math.round(ms) % 1000;
  return formatClock(ms) + (rest === 0 ? "" : `.${String(rest).padStart(3, "0")}`);
}

/** An ISO 8601 duration in whole seconds, for `<time datetime>` and schema.org: `PT3M41S`. */
export function isoDuration(ms: number): string {
  const seconds = Math.floor(ms / 1000);
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return `PT${h > 0 ? `${h}H` : ""}${h > 0 || m > 0 ? `${m}M` : ""}${s}S`;
}

/** The same with a minus for moments before 0. */
export const formatClockSigned = (ms: number): string => (ms < 0 ? `-${formatClock(-ms)}` : formatClock(ms));
/** `+0:12`, `-0:03`: over or under; `0:00` within half a second. */
export const formatOver = (ms: number): string =>
  Math.abs(ms) < 500 ? "0:00" : `${ms > 0 ? "+" : "-"}${formatClock(Math.abs(ms))}`;
