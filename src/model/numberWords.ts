import { ORDINALS, SMALL, TENS } from "./numbers.ts";

/** Numbers in English words, as the British say them; the way back is `readNumber`. */

const wordOf = (words: ReadonlyMap<string, number>, value: number): string | null =>
  [...words].find(([, own]) => own === value)?.[0] ?? null;

const SCALES = [
  [1e12, "trillion"],
  [1e9, "billion"],
  [1e6, "million"],
  [1e3, "thousand"],
] as const;

/** `sixty-four thousand two hundred and five`, `two point three`. @param value from 0, below 1e15. */
export function inWords(value: number): string {
  const [whole = "0", decimals] = String(value).split(".");
  if (decimals === undefined) return wholeInWords(Number(whole));
  return [wholeInWords(Number(whole)), "point", ...[...decimals].map((digit) => wholeInWords(Number(digit)))].join(" ");
}

function wholeInWords(value: number): string {
  const parts: string[] = [];
  let left = value;
  for (const [scale, name] of SCALES) {
    if (left < scale) continue;
    parts.push(`${underThousand(Math.floor(left / scale))} ${name}`);
    left %= scale;
  }
  if (left > 0 || value === 0) parts.push(`${parts.length > 0 && left < 100 ? "and " : ""}${underThousand(left)}`);
  return parts.join(" ");
}

function underThousand(value: number): string {
  if (value < 100) return underHundred(value);
  const rest = value % 100;
  const hundreds = `${underHundred(Math.floor(value / 100))} hundred`;
  return rest === 0 ? hundreds : `${hundreds} and ${underHundred(rest)}`;
}

function underHundred(value: number): string {
  const own = wordOf(SMALL, value) ?? wordOf(TENS, value);
  return own ?? `${wordOf(TENS, value - (value % 10))}-${wordOf(SMALL, value % 10)}`;
}

/** `twenty-first`, `one hundred and fifth`. @param value whole, from 0. */
export function ordinalInWords(value: number): string {
  return inWords(value).replace(/[a-z]+$/, (last) => {
    const own = SMALL.get(last) ?? TENS.get(last);
    return (own === undefined ? null : wordOf(ORDINALS, own)) ?? `${last}th`;
  });
}

/** `21st`. @param value whole, from 0. */
export function ordinalInFigures(value: number): string {
  const teen = value % 100 > 10 && value % 100 < 14;
  return `${value}${teen ? "th" : (["th", "st", "nd", "rd"][value % 10] ?? "th")}`;
}
