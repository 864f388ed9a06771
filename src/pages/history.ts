import { renderMarkdown } from "../derive/markdown.ts";
import { asPublishedPath, episodeFilePath, href, RECORD_PATH } from "../model/address.ts";
import { correctionKindName } from "../model/correctionKinds.ts";
import type { GivenHistory } from "../record/given.ts";
import type { ShownEpisode } from "../record/shown.ts";
import { correctionHref } from "./notes.ts";
import type { PageContext } from "./site.ts";
import type { EpisodePage, HistoryItem, Link } from "./types.ts";
import { momentLong } from "./words.ts";

/** How much of a digest people compare by eye. */
const SHOWN = 12;

/** What happened to an episode since it was published, oldest first. */
export function historyOf(shown: ShownEpisode, context: PageContext): readonly HistoryItem[] {
  return shown.history.map((line) => ({
    time: line.time,
    timeLong: momentLong(line.time, context.calendar),
    what: whatHappened(line),
    href: line.correction === null ? null : correctionHref(line.correction.id, context),
    reasonHtml: line.reason === null ? null : renderMarkdown(line.reason, context.addresses.base),
    files: filesOf(line, shown, context),
    digest: line.digest?.slice(0, SHOWN) ?? null,
  }));
}

function whatHappened({ what, correction }: GivenHistory): string {
  switch (what) {
    case "published":
      return "Published";
    case "reissued":
      return "The text was replaced";
    case "withdrawn":
      return correction?.segment === null ? "The edition was withdrawn" : "A segment was withdrawn";
    case "cut":
      return "Withdrawn words were cut out of the files";
    case "renamed":
      return "A correction got another address, because one of another edition had its";
    case "merged":
      return "Another copy’s record became part of this one: its corrections are entered after it";
    case "clock":
      return "Entries before this one were made by a clock that ran ahead: they count from here";
    case "corrected":
      return correction === null ? "Corrected" : correctionKindName(correction.kind);
  }
}

function filesOf({ seq }: GivenHistory, { episode, texts }: ShownEpisode, { addresses }: PageContext): readonly Link[] {
  if (seq === null || !texts.some((text) => text.seq === seq)) return [];
  return [
    {
      title: "as it was published, plain text",
      href: href(addresses, asPublishedPath(episode.id, seq, "plainText")),
    },
    { title: "captions", href: href(addresses, asPublishedPath(episode.id, seq, "captions")) },
  ];
}

export function recordLinks({ episode, draft }: ShownEpisode, { addresses }: PageContext): EpisodePage["record"] {
  if (draft) return null;
  return { file: href(addresses, episodeFilePath(episode.id, "record")), page: href(addresses, RECORD_PATH) };
}
