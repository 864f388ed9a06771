import { renderMarkdown } from "../derive/markdown.ts";
import {
  absolute,
  CORRECTIONS_FEED,
  CORRECTIONS_PATH,
  correctionPath,
  episodePath,
  segmentPath,
} from "../model/address.ts";
import type { Correction } from "../model/episode.ts";
import { correctionKindName } from "../model/kinds.ts";
import type { ShownEpisode } from "../record/shown.ts";
import type { FeedSetting } from "./data.ts";
import { xmlDocument } from "./xml.ts";

/** How many of the newest corrections the feed holds; the log has all. */
const NEWEST = 100;

/**
 * The corrections as an Atom feed (RFC 4287 §4.1): ids are the addresses of their pages and never change, a correction is
 * updated when it is dated, and the feed when its newest is (§4.2.15). @param shown oldest first.
 */
export function correctionsFeed(shown: readonly ShownEpisode[], setting: FeedSetting): string {
  const { programme, addresses } = setting;
  const entries = shown
    .flatMap((own) => own.episode.laid.map(({ correction, segment }) => ({ own, correction, segment })))
    .sort(
      (a, b) =>
        Date.parse(b.correction.dated) - Date.parse(a.correction.dated) || (a.correction.id < b.correction.id ? 1 : -1),
    )
    .slice(0, NEWEST);
  const updated = entries[0]?.correction.dated ?? shown.at(-1)?.episode.aired ?? "1970-01-01T00:00:00Z";
  return xmlDocument((document) => {
    const feed = document.ele("http://www.w3.org/2005/Atom", "feed", { "xml:lang": programme.language });
    feed.ele("id").txt(absolute(addresses, CORRECTIONS_PATH));
    feed.ele("title").txt(`${programme.title}: corrections`);
    feed.ele("updated").txt(updated);
    feed.ele("link", { rel: "self", href: absolute(addresses, CORRECTIONS_FEED), type: "application/atom+xml" });
    feed.ele("link", { rel: "alternate", href: absolute(addresses, CORRECTIONS_PATH), type: "text/html" });
    feed.ele("author").ele("name").txt(programme.station);
    for (const { own, correction, segment } of entries) {
      const entry = feed.ele("entry");
      entry.ele("id").txt(absolute(addresses, correctionPath(correction.id)));
      entry.ele("title").txt(`${correctionKindName(correction.kind)}: ${aboutOf(own, segment)}`);
      entry.ele("published").txt(correction.dated);
      entry.ele("updated").txt(correction.dated);
      entry.ele("link", {
        rel: "alternate",
        href: absolute(addresses, correctionPath(correction.id)),
        type: "text/html",
      });
      entry.ele("link", { rel: "related", href: relatedOf(own, segment, setting), type: "text/html" });
      entry.ele("author").ele("name").txt(`${correction.signed}, ${programme.station}`);
      entry.ele("category", { term: correction.kind, label: correctionKindName(correction.kind) });
      entry.ele("content", { type: "html" }).txt(noteHtml(correction, setting));
    }
  });
}

/** Links in a note must stand on their own outside the site. */
const noteHtml = ({ note }: Correction, { addresses }: FeedSetting): string => renderMarkdown(note, addresses.url);

function aboutOf({ episode, segments }: ShownEpisode, slug: string | null): string {
  if (episode.withdrawn !== null) return `a withdrawn edition of ${episode.aired.slice(0, 10)}`;
  const segment = segments.find((one) => one.segment.slug === slug)?.segment;
  if (segment === undefined) return episode.title;
  return segment.withdrawn === null ? segment.title : `a withdrawn segment of ${episode.aired.slice(0, 10)}`;
}

function relatedOf({ episode }: ShownEpisode, slug: string | null, { addresses }: FeedSetting): string {
  return absolute(addresses, slug === null ? episodePath(episode.id) : segmentPath(episode.id, slug));
}
