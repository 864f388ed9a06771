import type { Page, PageBase, PageData, PageKind, PageParts } from "../src/pages/types.ts";
import { correctionSheet } from "./pages/correction.tsx";
import { correctionsSheet } from "./pages/corrections.tsx";
import { episodeSheet } from "./pages/episode.tsx";
import { homeSheet } from "./pages/home.tsx";
import { missingSheet } from "./pages/missing.tsx";
import { namesSheet } from "./pages/names.tsx";
import { orderSheet } from "./pages/order-sheet.ts";
import { stationSheet } from "./pages/own.tsx";
import { recordSheet } from "./pages/record.tsx";
import { searchSheet } from "./pages/search.tsx";
import { segmentSheet } from "./pages/segment.tsx";
import { textSheet } from "./pages/text.tsx";
import { walkSheet } from "./pages/walk.tsx";
import { yearSheet } from "./pages/year.tsx";
import { inDefaultFrame, partsOf, type Sheet } from "./parts/layout.tsx";

type SheetKind = Exclude<PageKind, "order-sheet">;
type SetParts<K extends SheetKind> = (page: PageData[K]) => PageParts;

const parts =
  <P extends PageBase>(sheetOf: (page: P) => Sheet) =>
  (page: P): PageParts =>
    partsOf(page, sheetOf(page));

/** How each kind of page is set. */
const BY_KIND: { readonly [K in SheetKind]: SetParts<K> } = {
  home: parts(homeSheet),
  episode: parts(episodeSheet),
  segment: parts(segmentSheet),
  corrections: parts(correctionsSheet),
  correction: parts(correctionSheet),
  search: parts(searchSheet),
  year: parts(yearSheet),
  walk: parts(walkSheet),
  names: parts(namesSheet),
  text: parts(textSheet),
  record: parts(recordSheet),
  missing: parts(missingSheet),
  own: parts(stationSheet),
};

const partsOfSheet = <K extends SheetKind>({ kind, page }: Page<K>): PageParts => BY_KIND[kind](page);

/** A page in its parts, for a station's own templates; null: it is a style sheet, and has none. */
export const setParts = (page: Page): PageParts | null => (page.kind === "order-sheet" ? null : partsOfSheet(page));

/** The text of a page's file, as it is without a station's own templates. */
export const setPage = (page: Page): string =>
  page.kind === "order-sheet" ? orderSheet(page.page) : inDefaultFrame(partsOfSheet(page));
