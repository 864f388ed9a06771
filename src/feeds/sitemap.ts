import { xmlDocument } from "./xml.ts";

/** An address of the site, absolute, and when what it shows last changed (ISO 8601), where that is known. */
export interface SitemapEntry {
  readonly url: string;
  readonly changed: string | null;
  /** The sitemap that it stands in: a year, or "site" for all else. */
  readonly part: string;
}

const NAMESPACE = "http://www.sitemaps.org/schemas/sitemap/0.9";

/** A list of addresses a year, so that none comes near the protocol's 50,000, and the list of those lists at `sitemap.xml`. */
export function sitemaps(
  entries: readonly SitemapEntry[],
  siteUrl: string,
): readonly { readonly path: string; readonly text: string }[] {
  const parts = [...new Set(entries.map(({ part }) => part))].sort();
  const pathOf = (part: string) => `sitemap-${part}.xml`;
  const index = xmlDocument((document) => {
    const root = document.ele(NAMESPACE, "sitemapindex");
    for (const part of parts)
      root
        .ele("sitemap")
        .ele("loc")
        .txt(siteUrl + pathOf(part));
  });
  const lists = parts.map((part) => ({
    path: pathOf(part),
    text: xmlDocument((document) => {
      const root = document.ele(NAMESPACE, "urlset");
      const own = entries.filter((entry) => entry.part === part).sort((a, b) => (a.url < b.url ? -1 : 1));
      for (const { url, changed } of own) {
        const element = root.ele("url");
        element.ele("loc").txt(url);
        if (changed !== null) element.ele("lastmod").txt(changed);
      }
    }),
  }));
  return [{ path: "sitemap.xml", text: index }, ...lists];
}
