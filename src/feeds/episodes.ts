import { createHash } from "node:crypto";
import { DateTime } from "luxon";
import { markdownWords } from "../derive/markdown.ts";
import { absolute, EPISODE_FILES, EPISODES_FEED, episodePath } from "../model/address.ts";
import type { ShownEpisode } from "../record/shown.ts";
import type { FeedContext } from "./data.ts";
import { xmlDocument } from "./xml.ts";

/** How many of the newest episodes the feed holds. */
export const FEED_LENGTH = 100;
const PODCAST = "https://podcastindex.org/namespace/1.0";
/** The name space of the feed's own id, from the open podcast namespace's text on `guid`. */
const GUID_SPACE = "ead4c236bf5858c6a2c6a6b28d128cb6";

/** An episode as the feed has it. */
export interface FeedItem {
  readonly title: string;
  readonly address: string;
  readonly aired: string;
  readonly summary: string;
  readonly video: boolean;
  readonly enclosure: { readonly url: string; readonly length: string; readonly type: string } | null;
}

/**
 * Null for an episode that the feed leaves out: withdrawn, or not published. One whose recording holds something that
 * may not be given has no enclosure: only the page's player knows what to step over.
 */
export function feedItem({ episode, giving, video, draft }: ShownEpisode, { addresses }: FeedContext): FeedItem | null {
  if (draft || episode.withdrawn) return null;
  const address = absolute(addresses, episodePath(episode.id));
  const [media] = episode.media;
  return {
    title: episode.title,
    address,
    aired: episode.aired,
    summary: episode.summary ?? episode.title,
    video,
    enclosure:
      giving === "whole" && media !== undefined && media.bytes !== null
        ? {
            url: media.src.startsWith("https:") ? media.src : address + encodeURIComponent(media.src),
            length: String(media.bytes),
            type: media.type,
          }
        : null,
  };
}

/** The newest episodes as RSS 2.0 with the open podcast namespace. @param all oldest first, at least `FEED_LENGTH`. */
export function episodesFeed(all: readonly FeedItem[], { programme, addresses }: FeedContext): string {
  const items = all.slice(-FEED_LENGTH).reverse();
  const self = absolute(addresses, EPISODES_FEED);
  return xmlDocument((document) => {
    const rss = document.ele("rss", {
      version: "2.0",
      "xmlns:atom": "http://www.w3.org/2005/Atom",
      "xmlns:podcast": PODCAST,
    });
    const channel = rss.ele("channel");
    channel.ele("title").txt(programme.title);
    channel.ele("link").txt(addresses.url);
    // RSS wants one (RSS 2.0, required channel elements), and a programme may have written nothing about itself.
    channel.ele("description").txt(markdownWords(programme.about) || programme.title);
    channel.ele("language").txt(programme.language);
    channel.ele("atom:link", { rel: "self", href: self, type: "application/rss+xml" });
    channel.ele("podcast:guid").txt(feedGuid(self));
    channel.ele("podcast:medium").txt(items.some(({ video }) => video) ? "video" : "podcast");
    for (const { title, address, aired, summary, enclosure } of items) {
      const item = channel.ele("item");
      item.ele("title").txt(title);
      item.ele("link").txt(address);
      item.ele("guid", { isPermaLink: "true" }).txt(address);
      item.ele("pubDate").txt(rfc822(aired));
      item.ele("description").txt(summary);
      if (enclosure !== null) item.ele("enclosure", enclosure);
      item.ele("podcast:transcript", { url: `${address}${EPISODE_FILES.captions}`, type: "text/vtt", rel: "captions" });
      item.ele("podcast:transcript", { url: `${address}${EPISODE_FILES.plainText}`, type: "text/plain" });
      item.ele("podcast:chapters", {
        url: `${address}${EPISODE_FILES.chaptersData}`,
        type: "application/json+chapters",
      });
    }
  });
}

/** RFC 822 with a four-digit year, in English, as RSS 2.0 wants it. */
const rfc822 = (iso: string): string => DateTime.fromISO(iso, { setZone: true }).toRFC2822() ?? "";

/**
 * A feed's id: UUID version 5 (RFC 9562 §5.5) of its address without scheme and end slashes, in the namespace's own
 * space. @param url absolute.
 */
export function feedGuid(url: string): string {
  const name = url.replace(/^https?:\/\//, "").replace(/\/+$/, "");
  const hash = createHash("sha1").update(Buffer.from(GUID_SPACE, "hex")).update(name).digest();
  hash[6] = ((hash[6] ?? 0) & 0x0f) | 0x50;
  hash[8] = ((hash[8] ?? 0) & 0x3f) | 0x80;
  const hex = hash.toString("hex", 0, 16);
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}
