import type { DeskEpisode, DeskTonight } from "../../model/desk.ts";
import { UsageError } from "../../model/usageError.ts";
import { type EpisodeFolder, openArchive } from "../../read/index.ts";
import { proposalsIn } from "../../read/proposals.ts";
import { isPublished } from "../../record/entry.ts";
import { firstFault } from "./firstFault.ts";
import { standing } from "./standing.ts";

/** So many evenings are listed, the newest: of thirty years nobody wants all on the desk. */
const LISTED = 14;

/** The newest evenings, and what each waits for. @throws UsageError where the programme can't be read. */
export function tonight(content: string, now: Date): DeskTonight {
  const archive = openArchive(content);
  const { programme, folders, findings } = archive;
  if (programme === null) throw new UsageError(firstFault(findings) ?? "programme.md can't be read.");
  const newest = folders.toSorted((a, b) => b.id.localeCompare(a.id)).slice(0, LISTED);
  return { programme: programme.title, episodes: newest.map((folder) => stateOf(folder, archive, now)) };
}

function stateOf(folder: EpisodeFolder, archive: ReturnType<typeof openArchive>, now: Date): DeskEpisode {
  const { sources, episode, findings } = archive.read(folder);
  const { id } = folder;
  if (episode === null) {
    const next = firstFault(findings) ?? "It can't be read.";
    return { id, title: id, aired: "", state: "unreadable", proposals: 0, next };
  }
  const { aired } = episode;
  const record = sources.record?.bytes ?? null;
  const { title } = standing(episode, record, now);
  if (isPublished(record)) {
    const pending = episode.corrections.length;
    const corrected = pending === 0 ? "" : ` ${pending} ${pending === 1 ? "correction" : "corrections"}.`;
    return { id, title, aired, state: "published", proposals: 0, next: `Published.${corrected}` };
  }
  const proposals = proposalsIn(sources).length;
  const next =
    sources.transcript === null
      ? "It has no words yet."
      : proposals > 0
        ? `Go through the words: ${proposals} ${proposals === 1 ? "proposal is" : "proposals are"} to be confirmed.`
        : "Look it over, and publish.";
  return { id, title, aired, state: "draft", proposals, next };
}
