import { toCardinal as german } from "n2words/de-DE";
import { toCardinal as english, toOrdinal } from "n2words/en-GB";

/** What stands in `{written|said}` is said otherwise than the rules below would. */
const OWN = /\{([^|{}]*)\|([^{}]*)\}/g;

/** A script's sentence as an editor writes it. */
export const writtenOf = (text: string): string => text.replace(OWN, "$1");

/** The same as it is said, with its punctuation: figures in words. */
export const sayableOf = (text: string, language: string): string => {
  const own = text.replace(OWN, "$2");
  return language.startsWith("de") ? inGerman(own) : inEnglish(own);
};

/** What is said as a recogniser would write it: small letters, no punctuation. */
export const spokenOf = (sayable: string): string =>
  sayable
    .toLowerCase()
    .replace(/[’‘]/g, "'")
    .replace(/[^\p{L}\p{N}']+/gu, " ")
    .replace(/(?<!\p{L})'|'(?!\p{L})/gu, "")
    .trim();

const MONTHS = "January|February|March|April|May|June|July|August|September|October|November|December";

const bare = (words: string): string => words.replaceAll("-", " ").replaceAll(",", "");
const number = (digits: string): string => bare(english(Number(digits.replaceAll(",", ""))));

function inEnglish(text: string): string {
  return text
    .replace(new RegExp(`\\b(\\d{1,2}) (${MONTHS})\\b`, "g"), (_, day: string, month: string) => {
      return `the ${bare(toOrdinal(Number(day)))} of ${month}`;
    })
    .replace(/\b(\d+)–(\d+)\b/g, (_, one: string, other: string) => `${goals(one)} ${goals(other)}`)
    .replace(/\b(\d{1,2})\.(\d)(\d)\b/g, (_, hour: string, ten: string, one: string) => {
      const minutes = ten === "0" ? (one === "0" ? "hundred" : `oh ${number(one)}`) : number(ten + one);
      return `${number(hour)} ${minutes}`;
    })
    .replace(/\b(\d+)\.(\d)\b/g, (_, whole: string, tenth: string) => `${number(whole)} point ${number(tenth)}`)
    .replace(/(?<![\d,])(1[6-9]|20)(\d\d)\b(?!,?\d)/g, (_, century: string, rest: string) => yearOf(century, rest))
    .replace(/\b\d{1,3}(,\d{3})+\b|\b\d+\b/g, number)
    .replace(/\bDr\b/g, "Doctor")
    .replace(/\bMrs\b/g, "Missus")
    .replace(/\bMr\b/g, "Mister");
}

const goals = (digits: string): string => (digits === "0" ? "nil" : number(digits));

function yearOf(century: string, rest: string): string {
  if (rest === "00") return century === "20" ? "two thousand" : `${number(century)} hundred`;
  if (rest.startsWith("0"))
    return century === "20" ? `two thousand and ${number(rest)}` : `${number(century)} oh ${number(rest)}`;
  return `${number(century)} ${number(rest)}`;
}

const MONATE = "Januar|Februar|März|April|Mai|Juni|Juli|August|September|Oktober|November|Dezember";
const ERSTE: Readonly<Record<string, string>> = { "1": "erste", "3": "dritte", "7": "siebte", "8": "achte" };

const zahl = (digits: string): string => german(Number(digits.replaceAll(".", "")));

function inGerman(text: string): string {
  return text
    .replace(
      new RegExp(`\\b(der )?(\\d{1,2})\\. (?=${MONATE})`, "g"),
      (_, article: string | undefined, day: string) => {
        const ordinal = ERSTE[day] ?? `${zahl(day)}${Number(day) < 20 ? "te" : "ste"}`;
        return `${article ?? ""}${ordinal}${article === undefined ? "n" : ""} `;
      },
    )
    .replace(/\b(\d{1,2})\.(\d\d) Uhr\b/g, (_, hour: string, minutes: string) => `${zahl(hour)} Uhr ${zahl(minutes)}`)
    .replace(/\b1 Uhr\b/g, "ein Uhr")
    .replace(/\b(\d+):(\d+)\b/g, (_, one: string, other: string) => `${zahl(one)} zu ${zahl(other)}`)
    .replace(/\b(\d+),(\d+)\b/g, (_, whole: string, part: string) => `${zahl(whole)} Komma ${zahl(part)}`)
    .replace(/\b1([89])(\d\d)\b/g, (_, century: string, rest: string) => {
      return `${zahl(`1${century}`)}hundert${rest === "00" ? "" : zahl(rest)}`;
    })
    .replace(/\b\d{1,3}(\.\d{3})+\b|\b\d+\b/g, zahl);
}
