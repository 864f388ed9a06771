import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { UNDO_FILE } from "../../write/replaced.ts";

/** The files of an episode that the desk changes. */
export type DeskFile = "transcript.vtt" | "episode.md";

/** A change of a text: at a character, what stood there and what stands there now. */
export interface Change {
  readonly file: DeskFile;
  readonly at: number;
  readonly was: string;
  readonly now: string;
}

/** The changes that the desk made to an episode: the last one last, and those that were undone, the last undone last. */
export interface Journal {
  readonly done: readonly Change[];
  readonly undone: readonly Change[];
}

const EMPTY: Journal = { done: [], undone: [] };

/** So many changes can be undone. */
const MOST = 2000;

/** What differs between two texts, as one change. */
export function changeBetween(file: DeskFile, was: string, now: string): Change {
  let at = 0;
  while (at < was.length && was[at] === now[at]) at++;
  let same = 0;
  const most = Math.min(was.length, now.length) - at;
  while (same < most && was[was.length - 1 - same] === now[now.length - 1 - same]) same++;
  return { file, at, was: was.slice(at, was.length - same), now: now.slice(at, now.length - same) };
}

/** The text with a change taken back. */
export const takenBack = (text: string, { at, was, now }: Change): string =>
  text.slice(0, at) + was + text.slice(at + now.length);
/** The text with a change made. */
export const madeAgain = (text: string, { at, was, now }: Change): string =>
  text.slice(0, at) + now + text.slice(at + was.length);

export const withChange = ({ done }: Journal, change: Change): Journal => ({
  done: [...done, change].slice(-MOST),
  undone: [],
});

/** The journal as a file: it holds for the texts of this version alone. */
export const journalText = (journal: Journal, version: string): string =>
  `${JSON.stringify({ version, ...journal })}\n`;

/**
 * The journal kept beside an episode. Empty where there is none, or where the texts are others than the desk left: what
 * somebody changed in a file can't be undone here.
 */
export async function readJournal(content: string, folder: string, version: string): Promise<Journal> {
  const text = await readFile(join(content, folder, UNDO_FILE), "utf8").catch(() => null);
  if (text === null) return EMPTY;
  try {
    const { version: own, done, undone }: { version: string } & Journal = JSON.parse(text);
    return own === version && Array.isArray(done) && Array.isArray(undone) ? { done, undone } : EMPTY;
  } catch {
    return EMPTY;
  }
}
