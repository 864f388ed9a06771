import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { type BuildOptions, dayFor } from "../build/build.ts";
import { type AskedName, type NameFix, namesToAsk, namesToFix } from "../checks/names/fix.ts";
import type { ArchivedEpisode } from "../model/programme.ts";
import { UsageError } from "../model/usageError.ts";
import { isPublished } from "../record/entry.ts";
import { layCorrections } from "../record/lay.ts";
import { decodeVtt, escapeWords, parseVtt, type Splice, spliceText, type VttFile } from "../webvtt/index.ts";
import { replaceText } from "../write/scaffold.ts";
import { subjectAlone } from "./editorial.ts";
import { oneEpisode } from "./oneEpisode.ts";
import { writtenAt } from "./places.ts";

export interface FixOptions extends Pick<BuildOptions, "content" | "on" | "now"> {
  readonly id: string;
  /** Only tell what would change. */
  readonly dryRun: boolean;
}

/** What was changed, what stands over markup or references and is left to a person, and what may have been said so. */
export interface FixedNames {
  readonly file: string;
  readonly fixed: readonly NameFix[];
  readonly left: readonly NameFix[];
  readonly asked: readonly AskedName[];
}

/**
 * `afterair check --fix names`: writes names in a transcript as the register spells them. Nothing else of the file is
 * touched. A published transcript is refused: that is what corrections are for.
 */
export async function fixNames(options: FixOptions): Promise<FixedNames> {
  const { id, content } = options;
  const { programme, episode } = oneEpisode(content, id);
  refusePublished(episode);
  const day = dayFor(options, { programme });
  // The transcript as it stands in the file, without corrections.
  const laid = layCorrections({ ...episode, corrections: [] }, day.until);
  const subject = await subjectAlone(laid, { programme, day: day.date, content });
  const fixes = namesToFix(subject);
  const file = `${episode.folder}/transcript.vtt`;
  const vtt = parseVtt(decodeVtt(await readFile(join(content, file))).text);
  const placed = fixes.map((fix) => ({ fix, splice: spliceOf(fix, vtt) }));
  const splices = placed.flatMap(({ splice }) => (splice === null ? [] : [splice]));
  if (!options.dryRun && splices.length > 0) await replaceText(join(content, file), spliceText(vtt.text, splices));
  return {
    file,
    fixed: placed.filter(({ splice }) => splice !== null).map(({ fix }) => fix),
    left: placed.filter(({ splice }) => splice === null).map(({ fix }) => fix),
    asked: namesToAsk(subject),
  };
}

function refusePublished({ id, record }: ArchivedEpisode): void {
  if (!isPublished(record)) return;
  throw new UsageError(
    `${id} is published: its transcript is never edited. Correct the name with afterair correct; \`afterair check ${id}\` lists the names in doubt.`,
  );
}

/** The change in the file; null where the words are not written in one piece, as over a tag. */
export function spliceOf(fix: NameFix, file: VttFile): Splice | null {
  const cue = file.cues.find(({ line }) => line === fix.line);
  if (cue === undefined) return null;
  const from = writtenAt(file, cue, fix.offset);
  const to = from + fix.was.length;
  return file.text.slice(from, to) === fix.was ? { from, to, words: escapeWords(fix.now) } : null;
}
