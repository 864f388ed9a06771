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

const RIGHT_TO_LEFT = new Set(["ar", "arc", "ckb", "dv", "fa", "he", "khw", "ks", "ps", "sd", "syr", "ug", "ur", "yi"]);

/** Which way a language is written, by its first subtag. */
export const direction = (language: string): "ltr" | "rtl" =>
  RIGHT_TO_LEFT.has(language.toLowerCase().split("-")[0] ?? "") ? "rtl" : "ltr";
