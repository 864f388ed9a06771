/** A name before words, such as `ILSE MARRANE:` or `[Speaker 1]:`. */
const LABEL = /^[[(]?([\p{L}][\p{L}\p{M}\p{N} .'’()_#-]{0,60}?)[\])]?\s*:(?:\s+(?=\S)|$)/u;
/** What programs call people whom they can't name. */
const NUMBERED = /^(?:unknown )?(?:speaker|spk|voice|person|guest|s)[ _#-]*0*(\d+)$/i;
const LETTERED = /^(?:speaker|voice|person)[ _#-]*([a-z])$/i;

/** The people whose names are known, found by a label. */
export interface KnownSpeakers {
  /** The name as it is spelled, for a label with its letters, or with those of one person's surname; else null. */
  spelled(label: string): string | null;
}

/** Letters alone, without accents and marks, small. */
const folded = (name: string): string =>
  name
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();

/** @param names as the register and the transcript spell them. */
export function knownSpeakers(names: readonly string[]): KnownSpeakers {
  const [whole, surnames] = [new Map<string, string>(), new Map<string, string | null>()];
  for (const name of names) {
    whole.set(folded(name), name);
    const parts = folded(name).split(" ");
    const surname = parts.at(-1) ?? "";
    if (parts.length > 1) surnames.set(surname, surnames.has(surname) && surnames.get(surname) !== name ? null : name);
  }
  return { spelled: (label) => whole.get(folded(label)) ?? surnames.get(folded(label)) ?? null };
}

/** `Speaker 1`, for whatever a program calls somebody without a name; null for a name. */
export function unnamedVoice(label: string): string | null {
  const number = NUMBERED.exec(label.trim())?.[1];
  if (number !== undefined) return `Speaker ${number}`;
  const letter = LETTERED.exec(label.trim())?.[1];
  return letter === undefined ? null : `Speaker ${letter.toUpperCase()}`;
}

/** A label as the name of a voice: as the register spells it, `Speaker 1`, or as it stands, without its capitals. */
export const voiceNamed = (label: string, known: KnownSpeakers): string =>
  known.spelled(label) ?? unnamedVoice(label) ?? titled(label.trim());

/** `FERRY PASSENGER` as a name is written; one that is not all capitals stays. */
export function titled(name: string): string {
  if (name !== name.toUpperCase()) return name;
  return name.toLowerCase().replace(/(?<![\p{L}’'])\p{L}/gu, (letter) => letter.toUpperCase());
}

/** The name before a turn, whoever's it may be. `length`: of the label with its colon. */
export function labelAt(line: string): { readonly name: string; readonly length: number } | null {
  const found = LABEL.exec(line);
  return found === null || found[1] === undefined ? null : { name: found[1].trim(), length: found[0].length };
}

/** Whether it can be nothing but a name: `After the break: football` has none. */
export const isSurelyName = (name: string, known: KnownSpeakers): boolean =>
  (name === name.toUpperCase() && /\p{Lu}\P{Lu}*\p{Lu}/u.test(name)) ||
  known.spelled(name) !== null ||
  unnamedVoice(name) !== null;

/** Words that begin with capitals, as names do: it takes several such labels to believe in one. */
export const looksName = (name: string): boolean => {
  const words = name.split(/\s+/);
  return (
    words.length <= 4 && words.every((word) => /^(?:\p{Lu}[\p{L}\p{M}.'’-]*|de|van|von|of|the|[ap]l)$/u.test(word))
  );
};
