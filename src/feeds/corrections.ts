import { renderMarkdown } from "../derive/markdown.ts";
import {
  absolute,
  CORRECTIONS_FEED,
  CORRECTIONS_PATH,
  correctionPath,
  episodePath,
  segmentPath,
} from "../model/address.ts";
import type { CorrectionKind } from "../model/correctionKinds.ts";
import { correctionKindName } from "../model/correctionKinds.ts";
import type { GivenCorrection } from "../record/given.ts";
import type { ShownEpisode } from "../record/shown.ts";
import type { FeedContext } from "./data.ts";
import { xmlDocument } from "./xml.ts";

/** How many of the newest corrections the feed holds; the log has all. */
const NEWEST = 100;

/** A correction as the feed has it. */
export interface FeedCorrection {
  readonly id: string;
  readonly dated: string;
  readonly kind: CorrectionKind;
  readonly about: string;
  /** Absolute: the page of the segment, or of the episode. */
  readonly related: string;
  readonly signed: string;
  readonly html: string;
}

/** The corrections of an episode for the feed; none of a draft. */
export function feedCorrections(own: ShownEpisode, context: FeedContext): readonly FeedCorrection[] {
  if (own.draft) return [];
  return own.episode.laid.map(({ correction, segment }) => ({
    id: correction.id,
    dated: correction.dated,
    kind: correction.kind,
    about: aboutOf(own, segment),
    related: relatedOf(own, segment, context),
    signed: correction.signed,
    html: noteHtml(correction, context),
  }));
}

/**
 * The corrections as an Atom feed (RFC 4287 §4.1): ids are the addresses of their pages and never change, a correction is
 * updated when it is dated, and the feed when its newest is (§4.2.15). @param since when the newest episode was aired.
 */
export function correctionsFeed(
  all: readonly FeedCorrection[],
  since: string | null,
  { programme, addresses }: FeedContext,
): string {
  const entries = all
    .toSorted((a, b) => Date.parse(b.dated) - Date.parse(a.dated) || (a.id < b.id ? 1 : -1))
    .slice(0, NEWEST);
  const updated = entries[0]?.dated ?? since ?? "1970-01-01T00:00:00Z";
  return xmlDocument((document) => {
    const feed = document.ele("http://www.w3.org/2005/Atom", "feed", { "xml:lang": programme.language });
    feed.ele("id").txt(absolute(addresses, CORRECTIONS_PATH));
    feed.ele("title").txt(`${programme.title}: corrections`);
    feed.ele("updated").txt(updated);
    feed.ele("link", { rel: "self", href: absolute(addresses, CORRECTIONS_FEED), type: "application/atom+xml" });
    feed.ele("link", { rel: "alternate", href: absolute(addresses, CORRECTIONS_PATH), type: "text/html" });
    feed
      .ele("author")
      .ele("name")
      .txt(programme.station ?? programme.title);
    for (const { id, dated, kind, about, related, signed, html } of entries) {
      const entry = feed.ele("entry");
      const address = absolute(addresses, correctionPath(id));
      entry.ele("id").txt(address);
      entry.ele("title").txt(`${correctionKindName(kind)}: ${about}`);
      entry.ele("published").txt(dated);
      entry.ele("updated").txt(dated);
      entry.ele("link", { rel: "alternate", href: address, type: "text/html" });
      entry.ele("link", { rel: "related", href: related, type: "text/html" });
      entry
        .ele("author")
        .ele("name")
        .txt(`${signed}, ${programme.station ?? programme.title}`);
      entry.ele("category", { term: kind, label: correctionKindName(kind) });
      entry.ele("content", { type: "html" }).txt(html);
    }
  });
}

/** Links in a note must stand on their own outside the site. */
const noteHtml = ({ note }: GivenCorrection, { addresses }: FeedContext): string => renderMarkdown(note, addresses.url);

function aboutOf({ episode, segments }: ShownEpisode, slug: string | null): string {
  if (episode.withdrawn) return `a withdrawn edition of ${episode.aired.slice(0, 10)}`;
  const segment = segments.find((one) => one.segment.slug === slug)?.segment;
  if (segment === undefined) return episode.title;
  return !segment.withdrawn ? segment.title : `a withdrawn segment of ${episode.aired.slice(0, 10)}`;
}

function relatedOf({ episode }: ShownEpisode, slug: string | null, { addresses }: FeedContext): string {
  return absolute(addresses, slug === null ? episodePath(episode.id) : segmentPath(episode.id, slug));
}
