import { kindsThat } from "../model/correctionKinds.ts";
import type { Place } from "../model/finding.ts";
import { listEpisodeFiles, readText } from "./folder.ts";
import { splitFront } from "./frontMatter.ts";
import { valueAt } from "./shapeFindings.ts";
import { type EpisodeFolder, stem } from "./source.ts";

/** The little of an episode that the checks of others need. */
export interface EpisodeOutline {
  /** Each with the place of its segment. */
  readonly topics: readonly { readonly topic: string; readonly at: Place }[];
  /** Ids of its corrections, with the places of their files. */
  readonly corrections: readonly { readonly id: string; readonly at: Place }[];
  /** One of them may be a withdrawal: it has the name of such a kind. */
  readonly withdraws: boolean;
}

/**
 * Reads an episode's outline, without its transcript. What is faulty in it is left out: who reads it whole tells that.
 * @param hasTopics also its topics, for which its front matter must be read.
 */
export function readOutline(root: string, folder: EpisodeFolder, hasTopics: boolean): EpisodeOutline {
  const { files } = listEpisodeFiles(root, folder);
  const written = files.filter(({ file }) => file.startsWith(`${folder.folder}/corrections/`) && file.endsWith(".md"));
  const corrections = written.map(({ file }) => ({ id: stem(file), at: { file, line: 1, column: 1 } }));
  const withdraws = written.some(({ file }) => {
    const source = readText(root, files, file);
    const text = source === null ? "" : new TextDecoder().decode(source.bytes);
    return kindsThat("takes-away").some((kind) => text.includes(kind));
  });
  const source = hasTopics ? readText(root, files, `${folder.folder}/episode.md`) : null;
  const front = source === null ? null : splitFront(source);
  if (front === null || !front.ok) return { topics: [], corrections, withdraws };
  const { data, placeOf } = front.value;
  const segments = Array.isArray(data.segments) ? data.segments : [];
  const topics = segments.flatMap((_, n) => {
    const own = valueAt(data, ["segments", n, "topics"]);
    if (!Array.isArray(own)) return [];
    const at = placeOf(["segments", n]);
    return own.flatMap((topic) => (typeof topic === "string" ? [{ topic, at }] : []));
  });
  return { topics, corrections, withdraws };
}
