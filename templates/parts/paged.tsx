import type { VNode } from "preact";
import { renderToString } from "preact-render-to-string";
import type { PageData, PageKind } from "../../src/pages/types.ts";

/** A page as the site engine hands it over. */
export interface Given<K extends PageKind> {
  readonly entry: { readonly path: string; readonly page: PageData[K] };
}

/** What a template says to the site engine: one file for each page of its kind, at the path that the page names. */
export const paged = <K extends PageKind>(kind: K) => ({
  pagination: { data: `pages.${kind}`, size: 1, alias: "entry" },
  permalink: ({ entry }: Given<K>): string => entry.path,
  eleventyExcludeFromCollections: true,
});

/** A template's `render`: the page as a document. */
export const document =
  <K extends PageKind>(set: (page: PageData[K]) => VNode) =>
  ({ entry }: Given<K>): string =>
    `<!DOCTYPE html>${renderToString(set(entry.page))}`;
