/** Class names that hold, in one attribute. */
export const names = (...all: readonly (string | false)[]): string => all.filter((name) => name !== false).join(" ");

/** Seconds as an ISO 8601 duration for `<time datetime>`: `PT1H3M41S`. `seconds` >= 0; parts of a second are cut off. */
export function duration(seconds: number): string {
  const whole = Math.floor(seconds);
  const [h, m, s] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  return `PT${h > 0 ? `${h}H` : ""}${m}M${s}S`;
}

/** A part from 0 to 1 as a length for an SVG attribute: `40.27%`. */
export const percent = (part: number): string => `${Math.round(part * 10_000) / 100}%`;

const SMALL = ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve"];

/** For a heading: `Three corrections`, `13 corrections`. */
export const counted = (count: number, one: string): string =>
  `${SMALL[count] ?? figures(count)} ${plural(count, one)}`;
/** In running text: `3 corrections`, `4,207 editions`. */
export const countedInFigures = (count: number, one: string): string => `${figures(count)} ${plural(count, one)}`;
export const plural = (count: number, one: string): string => (count === 1 ? one : `${one}s`);
export const figures = (count: number): string => count.toLocaleString("en-GB");

const RIGHT_TO_LEFT = new Set(["ar", "arc", "ckb", "dv", "fa", "he", "khw", "ks", "ps", "sd", "syr", "ug", "ur", "yi"]);

/** Which way a language is written, by its first subtag. */
export const direction = (language: string): "ltr" | "rtl" =>
  RIGHT_TO_LEFT.has(language.toLowerCase().split("-")[0] ?? "") ? "rtl" : "ltr";
