/** What the deck keeps on this device, and nowhere else. */

const PLACES = "afterair-places";
const CHOICES = "afterair-deck";
/** Of so many episodes the place is kept; common practice, no source. */
const EPISODES = 50;
/** A place so near to the beginning or the end is none to come back to. Seconds; common practice, no source. */
const EDGE = 10;

/** Where somebody stopped: episode and seconds, the latest last. */
export type Places = readonly (readonly [episode: string, seconds: number])[];

/** How somebody likes to listen. */
export interface Choices {
  readonly rate: number;
  readonly volume: number;
  readonly muted: boolean;
  readonly captions: boolean;
  /** Letters work anywhere on the page. */
  readonly keys: boolean;
}

const USUAL: Choices = { rate: 1, volume: 1, muted: false, captions: true, keys: true };

/** The places in a kept text: only those that are such. */
export function placesIn(text: string | null): Places {
  const read = parse(text);
  return Array.isArray(read) ? read.filter(isPlace) : [];
}

const isPlace = (value: unknown): value is Places[number] =>
  Array.isArray(value) && typeof value[0] === "string" && typeof value[1] === "number" && value[1] >= 0;

/** The places with one more, or without it where it is too near to an edge of the recording. `runs`: in seconds. */
export function withPlace(places: Places, episode: string, seconds: number, runs: number): Places {
  const others = places.filter(([id]) => id !== episode);
  if (seconds < EDGE || seconds > runs - EDGE) return others;
  return [...others, [episode, Math.floor(seconds)] as const].slice(-EPISODES);
}

/** The choices in a kept text; what is missing or is none is as usual. */
export function choicesIn(text: string | null): Choices {
  const read = parse(text);
  if (typeof read !== "object" || read === null) return USUAL;
  const known = Object.entries(USUAL).map(([name, usual]) => {
    const chosen: unknown = (read as Readonly<Record<string, unknown>>)[name];
    return [name, typeof chosen === typeof usual ? chosen : usual];
  });
  const choices = Object.fromEntries(known) as Choices;
  const [rate, volume] = [clamp(choices.rate, 0.5, 3), clamp(choices.volume, 0, 1)];
  return { ...choices, rate, volume };
}

const clamp = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));

function parse(text: string | null): unknown {
  try {
    return JSON.parse(text ?? "null");
  } catch {
    return null; // somebody else's text under our name
  }
}

export const recallPlace = (episode: string): number | null =>
  placesIn(recall(PLACES)).find(([id]) => id === episode)?.[1] ?? null;

export const keepPlace = (episode: string, seconds: number, runs: number): void =>
  keep(PLACES, withPlace(placesIn(recall(PLACES)), episode, seconds, runs));

/** Forgets where somebody stopped, in every episode. */
export const forgetPlaces = (): void => keep(PLACES, []);

export const recallChoices = (): Choices => choicesIn(recall(CHOICES));
export const keepChoices = (change: Partial<Choices>): void => keep(CHOICES, { ...recallChoices(), ...change });

function recall(name: string): string | null {
  try {
    return localStorage.getItem(name);
  } catch {
    return null; // storage is switched off: everything works, for this page
  }
}

function keep(name: string, what: object): void {
  try {
    if (Array.isArray(what) && what.length === 0) localStorage.removeItem(name);
    else localStorage.setItem(name, JSON.stringify(what));
  } catch {
    // As above.
  }
}
