const NAMES = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"] as const;

const GROUPS: Readonly<Record<string, readonly number[]>> = {
  weekday: [1, 2, 3, 4, 5],
  weeknight: [1, 2, 3, 4, 5],
  weekend: [6, 7],
  day: [1, 2, 3, 4, 5, 6, 7],
  night: [1, 2, 3, 4, 5, 6, 7],
  daily: [1, 2, 3, 4, 5, 6, 7],
  nightly: [1, 2, 3, 4, 5, 6, 7],
};

/**
 * The days that `days` of a slot names, from 1, Monday, to 7, Sunday: `weeknights`, `every day`, `Mondays and Thursdays`,
 * `Monday to Friday`. null where it says something else: then nothing is known.
 */
export function weekdaysOf(days: string): readonly number[] | null {
  const parts = days
    .toLowerCase()
    .replace(/\b(?:on|every|each|evenings?|mornings?)\b/g, " ")
    .split(/,|&|\band\b/)
    .map((part) => part.trim())
    .filter((part) => part !== "");
  const read = parts.map(partOf);
  if (read.length === 0 || read.includes(null)) return null;
  return [...new Set(read.flatMap((own) => own ?? []))].sort((a, b) => a - b);
}

function partOf(part: string): readonly number[] | null {
  const one = part.replace(/s$/, "");
  if (Object.hasOwn(GROUPS, one)) return GROUPS[one] ?? null;
  const [from, to = from, ...more] = part.split(/\s*(?:-|–|\bto\b)\s*/).map(dayOf);
  if (from === undefined || from === null || to === undefined || to === null || more.length > 0) return null;
  const length = ((to - from + 7) % 7) + 1;
  return Array.from({ length }, (_, n) => ((from - 1 + n) % 7) + 1);
}

/** `Tue`, `Tuesday` and `Tuesdays` are 2. */
function dayOf(word: string): number | null {
  const one = word.replace(/s$/, "");
  const found = NAMES.findIndex((name) => name === one || (one.length >= 3 && name.slice(0, one.length) === one));
  return found === -1 ? null : found + 1;
}
