import { sitemapPath } from "../model/address.ts";
import { xmlDocument, xmlText } from "./xml.ts";

/** An address of the site, absolute, and when what it shows last changed (ISO 8601), where that is known. */
export interface SitemapEntry {
  readonly url: string;
  readonly changed: string | null;
}

const NAMESPACE = "http://www.sitemaps.org/schemas/sitemap/0.9";

/** The list of the sitemaps. */
export function sitemapIndex(parts: readonly string[], siteUrl: string): string {
  return xmlDocument((document) => {
    const root = document.ele(NAMESPACE, "sitemapindex");
    for (const part of parts) {
      const loc = root.ele("sitemap").ele("loc");
      loc.txt(siteUrl + sitemapPath(part));
    }
  });
}

/**
 * One sitemap: of a year, so that none comes near the protocol's 50,000 addresses. Laid out as `xmlDocument` would, and
 * put together by hand: one of thousands of addresses is made in every build.
 */
export function sitemap(entries: readonly SitemapEntry[]): string {
  const urls = entries
    .toSorted((a, b) => (a.url < b.url ? -1 : 1))
    .map(({ url, changed }) => {
      const lastmod = changed === null ? "" : `    <lastmod>${xmlText(changed)}</lastmod>\n`;
      return `  <url>\n    <loc>${xmlText(url)}</loc>\n${lastmod}  </url>\n`;
    });
  return `<?xml version="1.0" encoding="UTF-8"?>\n<urlset xmlns="${NAMESPACE}">\n${urls.join("")}</urlset>\n`;
}
