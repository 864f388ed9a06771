export const SMALL: ReadonlyMap<string, number> = new Map<string, number>(
  Object.entries({
    zero: 0,
    nought: 0,
    nil: 0,
    one: 1,
    two: 2,
    three: 3,
    four: 4,
    five: 5,
    six: 6,
    seven: 7,
    eight: 8,
    nine: 9,
    ten: 10,
    eleven: 11,
    twelve: 12,
    thirteen: 13,
    fourteen: 14,
    fifteen: 15,
    sixteen: 16,
    seventeen: 17,
    eighteen: 18,
    nineteen: 19,
  }),
);
export const TENS: ReadonlyMap<string, number> = new Map<string, number>(
  Object.entries({ twenty: 20, thirty: 30, forty: 40, fifty: 50, sixty: 60, seventy: 70, eighty: 80, ninety: 90 }),
);
const SCALES = new Map<string, number>(
  Object.entries({ thousand: 1e3, million: 1e6, billion: 1e9, trillion: 1e12, m: 1e6, bn: 1e9, k: 1e3 }),
);
export const ORDINALS: ReadonlyMap<string, number> = new Map<string, number>(
  Object.entries({
    first: 1,
    second: 2,
    third: 3,
    fourth: 4,
    fifth: 5,
    sixth: 6,
    seventh: 7,
    eighth: 8,
    ninth: 9,
    tenth: 10,
    eleventh: 11,
    twelfth: 12,
    thirteenth: 13,
    fourteenth: 14,
    fifteenth: 15,
    sixteenth: 16,
    seventeenth: 17,
    eighteenth: 18,
    nineteenth: 19,
    twentieth: 20,
    thirtieth: 30,
    fortieth: 40,
    fiftieth: 50,
    sixtieth: 60,
    seventieth: 70,
    eightieth: 80,
    ninetieth: 90,
    hundredth: 100,
    thousandth: 1000,
    millionth: 1e6,
  }),
);

/** A number read from words. */
export interface ReadNumber {
  readonly value: number;
  /** How many atoms it takes. */
  readonly length: number;
  readonly ordinal: boolean;
  /** Written as a year is said: `nineteen eighty-seven`. */
  readonly year: boolean;
}

/** A word as the number grammar sees it: folded; a hyphenated one is several atoms. */
export interface Atom {
  readonly text: string;
  /** Which word it is of. */
  readonly word: number;
}

/** Words as atoms: `twenty-one` is two, `58-year-old` three, `4–0` one. */
export function atomsOf(folds: readonly string[]): readonly Atom[] {
  return folds.flatMap((fold, word) => {
    if (!/[-–]/.test(fold)) return { text: fold, word };
    const pieces = /^[\d.,£$€]+[-–][\d.,]+$/.test(fold) ? [fold] : fold.split(/[-–]/).filter((piece) => piece !== "");
    return pieces.map((text) => ({ text, word }));
  });
}

const NUMERAL = /^[£$€]?(\d{1,3}(?:,\d{3})+|\d+)(\.\d+|[½¼¾])?(%|st|nd|rd|th|m|bn|k|am|pm)?$/;
const WRITTEN_PARTS = new Map([
  ["½", ".5"],
  ["¼", ".25"],
  ["¾", ".75"],
]);

/** A numeral such as `2,600`, `3.2`, `3½`, `12th`, `£5m`; null for anything else. */
function numeral(text: string): { value: number; ordinal: boolean } | null {
  const found = NUMERAL.exec(text);
  if (found === null) return null;
  const [, whole = "", decimals = "", suffix = ""] = found;
  const value =
    Number(whole.replaceAll(",", "") + (WRITTEN_PARTS.get(decimals) ?? decimals)) * (SCALES.get(suffix) ?? 1);
  return { value, ordinal: /^(?:st|nd|rd|th)$/.test(suffix) };
}

/** Whether a number can begin with a word: most can be passed over. */
const mayBegin = (text: string): boolean =>
  SMALL.has(text) || TENS.has(text) || ORDINALS.has(text) || /^(?:[\d£$€]|an?$|half$|hundred|dozen$)/.test(text);

/**
 * Reads the longest number that begins at atom `at`; null when none does. English; short scale.
 * @param isUnit which words are units: `half a kilometre` is half of one.
 */
export function readNumber(
  atoms: readonly Atom[],
  at: number,
  isUnit: (word: string) => boolean = () => false,
): ReadNumber | null {
  if (!mayBegin(textAt(atoms, at))) return null;
  return readYear(atoms, at) ?? readHalf(atoms, at, isUnit) ?? readCardinal(atoms, at);
}

const textAt = (atoms: readonly Atom[], at: number): string => atoms[at]?.text ?? "";

/** `nineteen eighty-seven`, `twenty eleven`, `eighteen oh five`: teens or twenty before 10 to 99, or `oh` and a digit. */
function readYear(atoms: readonly Atom[], at: number): ReadNumber | null {
  const century = textAt(atoms, at) === "twenty" ? 20 : (SMALL.get(textAt(atoms, at)) ?? 0);
  if (century < 15 || century > 20) return null;
  const next = textAt(atoms, at + 1);
  const year = (rest: number, length: number) => ({ value: century * 100 + rest, length, ordinal: false, year: true });
  const digit = SMALL.get(textAt(atoms, at + 2)) ?? 0;
  if (next === "oh" && digit > 0 && digit < 10) return year(digit, 3);
  const teen = SMALL.get(next) ?? 0;
  if (teen >= 10) return year(teen, 2);
  const tens = TENS.get(next);
  if (tens === undefined || SCALES.has(textAt(atoms, at + 2)) || textAt(atoms, at + 2) === "hundred") return null;
  return digit > 0 && digit < 10 ? year(tens + digit, 3) : year(tens, 2);
}

/** `half a million`, `half a dozen`, `half a kilometre`, `half an hour`. */
function readHalf(atoms: readonly Atom[], at: number, isUnit: (word: string) => boolean): ReadNumber | null {
  if (textAt(atoms, at) !== "half" || !/^an?$/.test(textAt(atoms, at + 1))) return null;
  if (isUnit(textAt(atoms, at + 2))) return { value: 1 / 2, length: 2, ordinal: false, year: false };
  const scale = textAt(atoms, at + 2) === "dozen" ? 12 : SCALES.get(textAt(atoms, at + 2));
  return scale === undefined ? null : { value: scale / 2, length: 3, ordinal: false, year: false };
}

interface Group {
  readonly value: number;
  readonly length: number;
  readonly ordinal: boolean;
}

/** A number below a scale word, with what it has of a half or a quarter: `three and a half`. */
function readGroup(atoms: readonly Atom[], at: number): Group | null {
  const whole = readWhole(atoms, at);
  if (whole === null || whole.ordinal) return whole;
  const part = readPart(atoms, at + whole.length);
  return part === null ? whole : { ...whole, value: whole.value + part.value, length: whole.length + part.length };
}

const PARTS = new Map([
  ["half", 1 / 2],
  ["quarter", 1 / 4],
  ["quarters", 1 / 4],
]);

/** `and a half`, `and one half`, `and three quarters` after a number; `and a half-hour` is none, nor `and a quarter of`. */
function readPart(atoms: readonly Atom[], at: number): Pick<Group, "value" | "length"> | null {
  const [and, times, name, after] = [0, 1, 2, 3].map((n) => textAt(atoms, at + n));
  const part = PARTS.get(name ?? "");
  const plural = name === "quarters";
  if (and !== "and" || part === undefined || !(plural ? times === "three" : /^(?:an?|one)$/.test(times ?? "")))
    return null;
  if (atoms[at + 3]?.word === atoms[at + 2]?.word || /^(?:of|past|to)$/.test(after ?? "")) return null;
  return { value: plural ? part * 3 : part, length: 3 };
}

/** A numeral, or `a hundred and sixty-two`, `eleven hundred`, `two point three`. */
function readWhole(atoms: readonly Atom[], at: number): Group | null {
  const written = numeral(textAt(atoms, at));
  if (written !== null) return { ...written, length: 1 };
  const article = /^an?$/.test(textAt(atoms, at));
  const first = article ? null : readUnderHundred(atoms, at);
  if (first?.ordinal === true) return first;
  let value = first?.value ?? 1;
  let next = at + (first?.length ?? (article ? 1 : 0));
  const named = textAt(atoms, next);
  if (first === null && !/^(?:hundred|dozen)$/.test(named) && !(article && SCALES.has(named) && named.length > 2)) {
    return null;
  }
  if (first === null && SCALES.has(named)) return { value, length: next - at, ordinal: false };
  if (named === "dozen") return { value: value * 12, length: next + 1 - at, ordinal: false };
  if (named === "hundredth") return { value: value * 100, length: next + 1 - at, ordinal: true };
  if (named === "hundred") {
    value *= 100;
    next += 1;
    const joined = textAt(atoms, next) === "and" ? next + 1 : next;
    const rest = readUnderHundred(atoms, joined);
    if (rest !== null) return { value: value + rest.value, length: joined + rest.length - at, ordinal: rest.ordinal };
  } else if (named === "point") {
    const decimals = readDecimals(atoms, next + 1);
    if (decimals !== "")
      return { value: Number(`${value}.${decimals}`), length: next + 1 + decimals.length - at, ordinal: false };
  }
  return { value, length: next - at, ordinal: false };
}

/** Digits said one by one. */
function readDecimals(atoms: readonly Atom[], at: number): string {
  let decimals = "";
  for (let n = at; ; n++) {
    const digit = textAt(atoms, n) === "oh" ? 0 : SMALL.get(textAt(atoms, n));
    if (digit === undefined || digit > 9) return decimals;
    decimals += digit;
  }
}

function readUnderHundred(atoms: readonly Atom[], at: number): Group | null {
  const text = textAt(atoms, at);
  const small = SMALL.get(text);
  if (small !== undefined) return { value: small, length: 1, ordinal: false };
  const ordinal = ORDINALS.get(text);
  if (ordinal !== undefined) return { value: ordinal, length: 1, ordinal: true };
  const tens = TENS.get(text);
  if (tens === undefined) return null;
  const [unit, place] = [SMALL.get(textAt(atoms, at + 1)) ?? 0, ORDINALS.get(textAt(atoms, at + 1)) ?? 0];
  if (unit > 0 && unit < 10) return { value: tens + unit, length: 2, ordinal: false };
  if (place > 0 && place < 10) return { value: tens + place, length: 2, ordinal: true };
  return { value: tens, length: 1, ordinal: false };
}

/** Groups with their scale words, each smaller than the one before: `two million three hundred thousand and five`. */
function readCardinal(atoms: readonly Atom[], at: number): ReadNumber | null {
  let total = 0;
  let end = at;
  let ordinal = false;
  let least = Number.POSITIVE_INFINITY;
  for (;;) {
    const start = end > at && textAt(atoms, end) === "and" ? end + 1 : end;
    const group = readGroup(atoms, start);
    if (group === null || (end > at && (start === end ? least < 1e3 : group.value >= 1000))) break;
    if (end > at && numeral(textAt(atoms, start)) !== null) break;
    let next = start + group.length;
    let scale = 1;
    const named = SCALES.get(textAt(atoms, next));
    if (named !== undefined && textAt(atoms, next).length > 2 && !group.ordinal) {
      scale = named;
      next += 1;
    }
    if (scale >= least || (end > at && scale === 1 && group.value >= 1000)) break;
    total += group.value * scale;
    end = next;
    least = scale;
    ordinal = group.ordinal;
    if (scale === 1) break;
  }
  return end === at ? null : { value: round(total), length: end - at, ordinal, year: false };
}

/** Decimal fractions of millions are whole: 2.3 million is 2,300,000, not 2,299,999.9999999995. */
const round = (value: number): number => Number(value.toPrecision(15));
