import type { PageParts } from "../pages/types.ts";

/** A page in its parts, on its way through a station's templates. */
export interface FramedPage {
  readonly kind: string;
  /** Its file in the site. */
  readonly path: string;
  readonly url: string;
  readonly parts: PageParts;
  /** Its parts in `<main>`, in one. */
  readonly content: string;
  /** What its templates are given besides. */
  readonly data: Readonly<Record<string, unknown>>;
}

/** A page, and its parts in `<main>` in one: put together once, for it is long. */
export const withContent = (page: Omit<FramedPage, "content">): FramedPage => ({
  ...page,
  content: Object.values(page.parts.main).join(""),
});
