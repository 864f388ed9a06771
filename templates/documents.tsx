import type { VNode } from "preact";
import { renderToString } from "preact-render-to-string";
import type { Page, PageData, PageKind } from "../src/pages/types.ts";
import { Correction } from "./pages/correction.tsx";
import { Corrections } from "./pages/corrections.tsx";
import { Episode } from "./pages/episode.tsx";
import { Home } from "./pages/home.tsx";
import { Missing } from "./pages/missing.tsx";
import { orderSheet } from "./pages/order-sheet.ts";
import { Record } from "./pages/record.tsx";
import { Search } from "./pages/search.tsx";
import { SegmentAlone } from "./pages/segment.tsx";
import { TextPage } from "./pages/text.tsx";
import { Year } from "./pages/year.tsx";

type SetPage<K extends PageKind> = (page: PageData[K]) => string;

const html =
  <K extends PageKind>(Sheet: (props: { readonly page: PageData[K] }) => VNode): SetPage<K> =>
  (page) =>
    `<!DOCTYPE html>${renderToString(<Sheet page={page} />)}`;

/** How each kind of page is set: the text of its file. */
const BY_KIND: { readonly [K in PageKind]: SetPage<K> } = {
  home: html(Home),
  episode: html(Episode),
  segment: html(SegmentAlone),
  corrections: html(Corrections),
  correction: html(Correction),
  search: html(Search),
  year: html(Year),
  text: html(TextPage),
  record: html(Record),
  missing: html(Missing),
  "order-sheet": orderSheet,
};

/** The text of a page's file. What a build calls of the templates, and all it calls. */
export const setPage = <K extends PageKind>({ kind, page }: Page<K>): string => BY_KIND[kind](page);
