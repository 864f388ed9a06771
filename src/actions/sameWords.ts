import { setImmediate } from "node:timers/promises";
import { siteDay } from "../build/day.ts";
import type { ClockMs } from "../model/units.ts";
import { openArchive, readTexts } from "../read/index.ts";
import { episodeOn } from "../record/day.ts";
import { isPublished } from "../record/entry.ts";
import { findWords } from "../record/search.ts";

/** A place where the same words stand. */
export interface SameWords {
  readonly episode: string;
  readonly published: boolean;
  /** Milliseconds of the episode's clock. */
  readonly clock: ClockMs;
  readonly before: string;
  readonly words: string;
  readonly after: string;
}

/** So many places are listed; more words than that are everybody's. */
export const MOST_PLACES = 20;

/**
 * The other episodes in which words stand as they are now, the newest first: what was wrong there may be wrong here too. None
 * of what is withdrawn or was cut out of a text.
 * @param own the episode that is not looked at. @returns `MOST_PLACES` of them at most.
 */
export async function sameWordsElsewhere(
  said: string,
  { content, own, now }: { readonly content: string; readonly own: string; readonly now: Date },
): Promise<readonly SameWords[]> {
  const archive = openArchive(content);
  const until = siteDay(null, now, archive.zone)?.until;
  const wanted = foldedWords(said);
  const needle = wanted.reduce((best, word) => (word.length > best.length ? word : best), "");
  if (until === undefined || needle === "") return [];
  const places: SameWords[] = [];
  for (const folder of archive.folders.toSorted((a, b) => b.id.localeCompare(a.id))) {
    if (folder.id === own || places.length >= MOST_PLACES) continue;
    // Others may ask for something meanwhile.
    await setImmediate();
    const texts = readTexts(content, folder) ?? [];
    if (!texts.some((text) => mayHold(text, needle, wanted))) continue;
    const { episode } = archive.read(folder);
    if (episode === null) continue;
    const { cues, segments } = episodeOn(episode, until).episode;
    const published = isPublished(episode.record);
    for (const { clock, before, words, after } of findWords(said, cues, segments))
      places.push({ episode: folder.id, published, clock, before, words, after });
  }
  return places.slice(0, MOST_PLACES);
}

const foldedWords = (text: string): readonly string[] => text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];

/** Whether words stand in a transcript or a correction one after the other, so that few of thousands of episodes are read whole. */
function mayHold(written: string, needle: string, wanted: readonly string[]): boolean {
  const text = written.toLowerCase();
  if (!text.includes(needle)) return false;
  const words = foldedWords(text.replace(/<[^>]*>/g, "").replace(/^.*-->.*$/gm, ""));
  return words.some((_, from) => wanted.every((word, n) => words[from + n] === word));
}
