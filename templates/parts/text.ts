/** Class names that hold, in one attribute. */
export const names = (...all: readonly (string | false)[]): string => all.filter((name) => name !== false).join(" ");

const SMALL = ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve"];

/** For a heading: `Three corrections`, `13 corrections`. */
export const counted = (count: number, one: string): string =>
  `${SMALL[count] ?? figures(count)} ${plural(count, one)}`;
/** In running text: `3 corrections`, `4,207 editions`. */
export const countedInFigures = (count: number, one: string): string => `${figures(count)} ${plural(count, one)}`;
export const plural = (count: number, one: string): string => (count === 1 ? one : `${one}s`);
export const figures = (count: number): string => count.toLocaleString("en-GB");

/** Scripts in use that are written from right to left (Unicode Character Database, PropertyValueAliases and Bidi_Class). */
const RIGHT_TO_LEFT = new Set(["Adlm", "Arab", "Aran", "Hebr", "Mand", "Nkoo", "Rohg", "Samr", "Syrc", "Thaa"]);

/**
 * Which way a language is written (BCP 47), by the script that it names or is most likely written in. Node's own direction
 * of a locale is not asked: it knows no script that a language has beside its usual one, such as `az-Arab`.
 */
export const direction = (language: string): "ltr" | "rtl" =>
  RIGHT_TO_LEFT.has(new Intl.Locale(language).maximize().script ?? "") ? "rtl" : "ltr";
