import { sitemapPath } from "../model/address.ts";
import { xmlDocument } from "./xml.ts";

/** An address of the site, absolute, and when what it shows last changed (ISO 8601), where that is known. */
export interface SitemapEntry {
  readonly url: string;
  readonly changed: string | null;
}

const NAMESPACE = "http://www.sitemaps.org/schemas/sitemap/0.9";

/** The list of the sitemaps. */
export function sitemapIndex(names: readonly string[], siteUrl: string): string {
  return xmlDocument((document) => {
    const root = document.ele(NAMESPACE, "sitemapindex");
    for (const name of names) {
      const loc = root.ele("sitemap").ele("loc");
      loc.txt(siteUrl + sitemapPath(name));
    }
  });
}

/** One sitemap: of a year, so that none comes near the protocol's 50,000 addresses. */
export function sitemap(entries: readonly SitemapEntry[]): string {
  return xmlDocument((document) => {
    const root = document.ele(NAMESPACE, "urlset");
    for (const { url, changed } of entries.toSorted((a, b) => (a.url < b.url ? -1 : 1))) {
      const own = root.ele("url");
      own.ele("loc").txt(url);
      if (changed !== null) own.ele("lastmod").txt(changed);
    }
  });
}
