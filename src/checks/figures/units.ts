export const DIMENSIONS = ["length", "mass", "temperature", "speed", "area", "volume", "time"] as const;
export type Dimension = (typeof DIMENSIONS)[number];

/** A unit as people say it. */
export interface Unit {
  readonly name: string;
  readonly dimension: Dimension;
  /** What it becomes for people who think in another, with the exact definition behind the factor. */
  readonly also?: { readonly unit: string; readonly convert: (value: number) => number };
}

const by = (unit: string, factor: number) => ({ unit, convert: (value: number) => value * factor });

/**
 * Factors are exact by definition: the inch is 25.4 mm and the pound 0.453 592 37 kg (international yard and pound
 * agreement, 1959), the knot is 1.852 km/h (international nautical mile, 1929); a pint is the imperial one, 0.568 261 25
 * litres (UK Units of Measurement Regulations 1995).
 */
const UNITS: Readonly<Record<string, Unit>> = {
  millimetre: { name: "millimetre", dimension: "length", also: by("inches", 1 / 25.4) },
  centimetre: { name: "centimetre", dimension: "length", also: by("inches", 1 / 2.54) },
  metre: { name: "metre", dimension: "length", also: by("feet", 1 / 0.3048) },
  kilometre: { name: "kilometre", dimension: "length", also: by("miles", 1 / 1.609344) },
  inch: { name: "inch", dimension: "length", also: by("centimetres", 2.54) },
  foot: { name: "foot", dimension: "length", also: by("metres", 0.3048) },
  yard: { name: "yard", dimension: "length", also: by("metres", 0.9144) },
  mile: { name: "mile", dimension: "length", also: by("kilometres", 1.609344) },
  gram: { name: "gram", dimension: "mass", also: by("ounces", 1 / 28.349523125) },
  kilogram: { name: "kilogram", dimension: "mass", also: by("pounds", 1 / 0.45359237) },
  tonne: { name: "tonne", dimension: "mass" },
  ton: { name: "ton", dimension: "mass" },
  ounce: { name: "ounce", dimension: "mass", also: by("grams", 28.349523125) },
  knot: { name: "knot", dimension: "speed", also: by("miles an hour", 1.852 / 1.609344) },
  mph: { name: "mile an hour", dimension: "speed", also: by("kilometres an hour", 1.609344) },
  kph: { name: "kilometre an hour", dimension: "speed", also: by("miles an hour", 1 / 1.609344) },
  degree: {
    name: "degree",
    dimension: "temperature",
    also: { unit: "degrees Fahrenheit", convert: (c) => c * 1.8 + 32 },
  },
  hectare: { name: "hectare", dimension: "area", also: by("acres", 1 / 0.40468564224) },
  acre: { name: "acre", dimension: "area", also: by("hectares", 0.40468564224) },
  litre: { name: "litre", dimension: "volume", also: by("pints", 1 / 0.56826125) },
  pint: { name: "pint", dimension: "volume", also: by("litres", 0.56826125) },
  gallon: { name: "gallon", dimension: "volume", also: by("litres", 4.54609) },
  second: { name: "second", dimension: "time" },
  minute: { name: "minute", dimension: "time" },
  hour: { name: "hour", dimension: "time" },
  day: { name: "day", dimension: "time" },
  night: { name: "night", dimension: "time" },
  week: { name: "week", dimension: "time" },
  fortnight: { name: "fortnight", dimension: "time" },
  month: { name: "month", dimension: "time" },
  year: { name: "year", dimension: "time" },
  decade: { name: "decade", dimension: "time" },
  century: { name: "century", dimension: "time" },
};

const SPELLINGS: Readonly<Record<string, string>> = {
  mm: "millimetre",
  cm: "centimetre",
  m: "metre",
  km: "kilometre",
  kilo: "kilogram",
  kg: "kilogram",
  g: "gram",
  feet: "foot",
  inches: "inch",
  "km/h": "kph",
  kmh: "kph",
  centuries: "century",
  celsius: "degree",
  "°c": "degree",
  millimeter: "millimetre",
  centimeter: "centimetre",
  meter: "metre",
  kilometer: "kilometre",
  liter: "litre",
};

/** The unit that a word (in small letters) names; undefined when it names none. */
export function unitNamed(word: string): Unit | undefined {
  for (const form of [word, word.replace(/s$/, "")]) {
    const name = Object.hasOwn(SPELLINGS, form) ? SPELLINGS[form] : form;
    if (name !== undefined && Object.hasOwn(UNITS, name)) return UNITS[name];
  }
  return undefined;
}

/** Money by its everyday names, in the singular. `crown` is money where a sum stands before it. */
const MONEY = new Set([
  "pound",
  "penny",
  "pence",
  "p",
  "dollar",
  "cent",
  "euro",
  "crown",
  "krone",
  "kroner",
  "krona",
  "kronor",
  "franc",
  "yen",
  "rupee",
  "shilling",
  "florin",
  "guinea",
  "quid",
]);
export const moneyNamed = (word: string): string | undefined =>
  [word, word.replace(/s$/, "")].find((form) => MONEY.has(form));

/** How many seconds a unit of time is; undefined where it has no fixed length, as a month. */
export function secondsIn(unit: string): number | undefined {
  return new Map([
    ["second", 1],
    ["minute", 60],
    ["hour", 3600],
  ]).get(unit);
}

/**
 * Lengths in metres, exact: the yard is 0.9144 m, the foot a third of it, the inch a 36th, the mile 1,760 of them
 * (international yard and pound agreement, 1959; NIST Special Publication 811, appendix B); the nautical mile is 1,852 m
 * (International Hydrographic Conference, 1929; BIPM, The International System of Units, 8th edition, table 8).
 */
const METRES: ReadonlyMap<string, number> = new Map([
  ["millimetre", 0.001],
  ["centimetre", 0.01],
  ["metre", 1],
  ["kilometre", 1000],
  ["inch", 0.0254],
  ["foot", 0.3048],
  ["yard", 0.9144],
  ["mile", 1609.344],
  ["nautical mile", 1852],
]);

/** How many metres a unit of length is; undefined where it is none. */
export const metresIn = (unit: string): number | undefined => METRES.get(unit);

/** Metres a second of a unit that is a speed by itself: the knot is a nautical mile an hour. */
const SPEEDS: ReadonlyMap<string, number> = new Map([
  ["knot", 1852 / 3600],
  ["mile an hour", 1609.344 / 3600],
  ["kilometre an hour", 1000 / 3600],
]);

/** Metres a second of a unit of speed; undefined where it is none. */
export const speedIn = (unit: string): number | undefined => SPEEDS.get(unit);

/** How many of a shorter time a longer one has, as people count them: a week of days can be of five working days. */
const TIMES_IN: ReadonlyMap<string, readonly number[]> = new Map([
  ["minute second", [60]],
  ["hour minute", [60]],
  ["week day", [7, 5, 6]],
  ["week night", [7, 6, 5]],
  ["fortnight day", [14, 10]],
  ["fortnight night", [14]],
  ["fortnight week", [2]],
  ["month day", [30, 31, 28, 29, 20, 21, 22, 23]],
  ["month week", [4, 52 / 12, 5]],
  ["year day", [365, 366, 260, 250]],
  ["year week", [52, 365 / 7, 50]],
  ["year fortnight", [26]],
  ["year month", [12]],
  ["decade year", [10]],
  ["century year", [100]],
]);

/** The ways in which `longer` is so many of `shorter`, the plainest first; none where it is not. One of itself. */
export const timesIn = (longer: string, shorter: string): readonly number[] =>
  longer === shorter ? [1] : (TIMES_IN.get(`${longer} ${shorter}`) ?? []);
