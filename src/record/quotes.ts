import { tokensOf } from "./fold.ts";

/** So many words in a row are the held words themselves, in a note about them. */
const RUN = 3;
/** The same in a note about something else: three words in a row are often anybody's. */
const LONG_RUN = 5;

/** What is looked for in notes: the held words, as they stand and as first published, and those given elsewhere. */
export interface WordsHeld {
  /** Each an unbroken run of folded words, with a space at both ends. */
  readonly held: readonly string[];
  readonly given: string;
}

/** What is said in a cue, as it stands and as first published. */
export interface Spoken {
  readonly place: number;
  readonly now: string;
  readonly was: string;
}

/** @param held the places of the cues that may not be given. */
export function wordsHeld(cues: readonly Spoken[], held: ReadonlySet<number>): WordsHeld {
  if (held.size === 0) return { held: [], given: "" };
  const runs: Spoken[][] = [];
  let open = false;
  for (const cue of cues) {
    const own = held.has(cue.place);
    if (own && open) runs.at(-1)?.push(cue);
    else if (own) runs.push([cue]);
    open = own;
  }
  return {
    held: runs.flatMap((run) => [
      folded(run.map(({ now }) => now).join(" ")),
      folded(run.map(({ was }) => was).join(" ")),
    ]),
    given: folded(cues.flatMap(({ place, now }) => (held.has(place) ? [] : [now])).join(" ")),
  };
}

const folded = (text: string): string =>
  ` ${tokensOf(text)
    .map((token) => token.text)
    .join(" ")} `;

/** What stands in quotation marks, code or emphasis. */
const QUOTED = /“([^”]+)”|"([^"]+)"|‘([^’]+)’|«([^»]+)»|„([^“”]+)[“”]|`([^`]+)`|\*+([^*]+)\*+|_+([^_]+)_+|^>(.+)$/gm;

/** Whether a note repeats held words: any quotation of them in a note about them, or many of them in a row in any note. */
export function quotes(note: string, isHeld: boolean, { held, given }: WordsHeld): boolean {
  if (held.length === 0) return false;
  const isQuoted = (words: string): boolean =>
    words.trim() !== "" && held.some((run) => run.includes(words)) && (isHeld || !given.includes(words));
  if (isHeld) {
    for (const found of note.matchAll(QUOTED))
      if (isQuoted(folded(found.slice(1).find((text) => text !== undefined) ?? ""))) return true;
  }
  const length = isHeld ? RUN : LONG_RUN;
  const tokens = tokensOf(note).map((token) => token.text);
  return tokens.some(
    (_, from) => from + length <= tokens.length && isQuoted(` ${tokens.slice(from, from + length).join(" ")} `),
  );
}
