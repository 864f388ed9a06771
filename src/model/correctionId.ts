/**
 * The name of a correction, which is its file's and its address: its day, and a number or a code. The tool gives codes,
 * made of what the correction says: two people who correct at once in two copies of the content get two. Numbers are for
 * those who write a file by hand.
 */
const NAME = /^(\d{4}-\d\d-\d\d)-(?:([1-9]\d{0,5})|([2-9bcdfghjkmnpqrstvwxz]{5,16}))$/;

interface CorrectionName {
  /** `2026-10-06`. */
  readonly day: string;
  /** null where it has a code. */
  readonly number: number | null;
}

/** What a name says; null where it is none. */
export function readCorrectionId(id: string): CorrectionName | null {
  const [, day, number] = NAME.exec(id) ?? [];
  return day === undefined ? null : { day, number: number === undefined ? null : Number(number) };
}

/** Signs that nobody takes for another, and no vowels, so that they spell nothing. */
const SIGNS = "23456789bcdfghjkmnpqrstvwxz";
const LETTERS = SIGNS.slice(8);

/**
 * A name for a correction of a day that is not taken. @param digest of what it is of and what it says, as hexadecimal
 * digits: the same always gives the same name. With five signs, one of them a letter, two of a day are alike once in
 * ten million; then the second gets more.
 */
export function correctionId(day: string, digest: string, isTaken: (id: string) => boolean): string {
  let rest = BigInt(`0x${digest}`);
  const next = (signs: string): string => {
    const at = Number(rest % BigInt(signs.length));
    rest /= BigInt(signs.length);
    return signs[at] ?? "";
  };
  let code = next(LETTERS);
  while (code.length < 5 || isTaken(`${day}-${code}`)) code += next(SIGNS);
  return `${day}-${code}`;
}

/** An order of names: by day, numbers before codes, then as they count and as their signs stand. For sorting. */
export function byCorrectionId(a: string, b: string): number {
  const [one, other] = [readCorrectionId(a), readCorrectionId(b)];
  if (one !== null && other !== null && one.day === other.day && one.number !== other.number) {
    return (one.number ?? Number.POSITIVE_INFINITY) - (other.number ?? Number.POSITIVE_INFINITY);
  }
  return a < b ? -1 : a > b ? 1 : 0;
}
