import { toCardinal, toOrdinal } from "n2words/en-GB";
import { pauseAfter } from "../captioning/wordTimes.ts";

/** A word as it is said, one of possibly several that a written word stands for. */
export interface SaidWord {
  /** Small letters, digits and apostrophes; hyphens part words. */
  readonly said: string;
  /** Which written word it belongs to. */
  readonly of: number;
  /** How it is written: with a capital, and with punctuation after it. */
  readonly capital: boolean;
  readonly stop: boolean;
}

/** Written words as they are said: numerals as number words, the rest in small letters without punctuation. */
export function saidWords(words: readonly string[]): readonly SaidWord[] {
  return words.flatMap((written, of) => {
    const capital = /^\P{L}*\p{Lu}/u.test(written);
    const said = sayWord(written);
    return said.map((one, n) => ({
      said: one,
      of,
      capital,
      stop: n === said.length - 1 && pauseAfter(written) > 0,
    }));
  });
}

/** Signs that are read out as a word. */
const SIGNS: Readonly<Record<string, string>> = {
  "%": "per cent",
  "£": "pounds",
  $: "dollars",
  "€": "euros",
  "&": "and",
};

/** The words that one written word is read out as; none for bare punctuation. */
export function sayWord(written: string): readonly string[] {
  const plain = written.normalize("NFC").toLowerCase().replace(/[’‘]/g, "'");
  if (/\p{L}\.\p{L}{2,}/u.test(plain))
    return foldAll(
      plain
        .replace(/\P{L}+$/u, "")
        .replace(/\./g, " dot ")
        .replace(/\//g, " slash "),
    );
  const number = /^([£$€]?)(\d[\d.,:]*?)(st|nd|rd|th|%)?[.,;:!?)\]"']*$/.exec(plain);
  if (number === null) return foldAll(plain.replace(/[%£$€&]/g, (sign) => ` ${SIGNS[sign] ?? ""} `));
  const [, money = "", digits = "", tail = ""] = number;
  const signs = [SIGNS[money], SIGNS[tail]].filter((sign) => sign !== undefined);
  return foldAll([sayNumber(digits, /[a-z]/.test(tail)), ...signs].join(" "));
}

function foldAll(text: string): readonly string[] {
  return text
    .split(/[^\p{L}\p{N}\p{M}']+/u)
    .map((word) => word.replace(/^'+|'+$/g, ""))
    .filter((word) => word !== "")
    .flatMap((word) => (/^\d{1,15}$/.test(word) ? foldAll(toCardinal(word)) : [word]));
}

/** A numeral as it is read out: years in pairs, clock times as hours and minutes, the rest as a number. */
function sayNumber(written: string, ordinal: boolean): string {
  const digits = written.replace(/,(?=\d{3}(?!\d))/g, "");
  const clock = /^([01]?\d|2[0-4])[.:]([0-5]\d)$/.exec(digits);
  if (clock !== null) return sayClock(clock[1] ?? "", clock[2] ?? "");
  if (/^\d{1,15}\.\d{1,15}$/.test(digits)) {
    const [whole = "", decimals = ""] = digits.split(".");
    return `${toCardinal(whole)} point ${[...decimals].map((one) => toCardinal(one)).join(" ")}`;
  }
  if (!/^\d{1,15}$/.test(digits)) return digits.replace(/[.,:]/g, " ");
  if (ordinal && Number(digits) > 0) return toOrdinal(digits);
  return digits === written && isYear(digits) ? sayYear(digits) : toCardinal(digits);
}

const sayClock = (hours: string, minutes: string): string => {
  if (minutes === "00") return toCardinal(hours);
  return `${toCardinal(hours)} ${minutes.startsWith("0") ? "oh " : ""}${toCardinal(String(Number(minutes)))}`;
};

const isYear = (digits: string): boolean => /^(?:1[1-9]|20)\d\d$/.test(digits) && !/^200/.test(digits);

const sayYear = (digits: string): string => {
  const [century, rest] = [digits.slice(0, 2), digits.slice(2)];
  if (rest === "00") return `${toCardinal(century)} hundred`;
  return `${toCardinal(century)} ${rest.startsWith("0") ? "oh " : ""}${toCardinal(String(Number(rest)))}`;
};

/** Ordinals up to the thirty-first, by their last word: as near to the number as its numeral is. */
export const ORDINALS: ReadonlyMap<string, string> = new Map(
  Array.from({ length: 31 }, (_, n) => String(n + 1)).map((n) => [
    foldAll(toOrdinal(n)).at(-1) ?? "",
    foldAll(toCardinal(n)).at(-1) ?? "",
  ]),
);
