import type { Chapter } from "../pages/types.ts";
import { parseFragment } from "./fragments.ts";
import type { PageWords } from "./pageWords.ts";

/** Where an address or a link leads, in seconds. */
export interface Goal {
  readonly at: number;
  /** Where playing stops, once; null: as the page says. */
  readonly stop: number | null;
  /** What led there: the address that the page opened with, another one since, a stamp, a row of the running order. */
  readonly by: "opening" | "address" | "stamp" | "row";
}

interface AddressNeeds {
  readonly words: PageWords;
  readonly chapters: readonly Chapter[];
  go(goal: Goal): void;
  expectScroll(): void;
}

const ROW = ".order-item > a[href]";

/**
 * Goes to the moment in the address: when the page opens, when the address changes, and when a stamp or a row of the running
 * order is chosen (again). They stay links: the browser changes the address and scrolls, with script or without; the focus
 * is put back on the link, so that a keyboard goes on from where it was.
 * @returns whether the page opened at a moment.
 */
export function followAddress({ words, chapters, go, expectScroll }: AddressNeeds): boolean {
  let chosen: HTMLAnchorElement | null = null;
  const follow = (hash: string, by: Goal["by"]): boolean => {
    const chapter = chapters.find(({ href, held }) => href === hash && held === null);
    if (chapter !== undefined) go({ at: chapter.from, stop: null, by });
    const stretch = parseFragment(hash);
    if (chapter !== undefined || stretch === null) return chapter !== undefined;
    const id = hash.slice(1);
    go({ at: words.momentOf(id) ?? stretch.start, stop: stretch.end, by });
    if (document.getElementById(id) !== null) return true;
    expectScroll();
    words.near(stretch.start)?.scrollIntoView({ block: "center" });
    return true;
  };
  document.addEventListener("click", (event) => {
    const link =
      event.target instanceof Element ? event.target.closest<HTMLAnchorElement>(`a.stamp[href], ${ROW}`) : null;
    if (link === null || event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
    if (link.href.replace(/#.*$/, "") !== location.href.replace(/#.*$/, "")) return;
    if (link.hash === "") {
      // The row of the page's own segment: the page is there already.
      const own = chapters.find(({ href }) => href === link.getAttribute("href"));
      if (own === undefined) return;
      event.preventDefault();
      go({ at: own.from, stop: null, by: "row" });
      return;
    }
    expectScroll();
    follow(link.hash, link.matches(ROW) ? "row" : "stamp");
    if (link.hash !== location.hash) chosen = link;
  });
  addEventListener("hashchange", () => {
    if (chosen?.hash === location.hash) chosen.focus({ preventScroll: true });
    else follow(location.hash, "address");
    chosen = null;
  });
  return follow(location.hash, "opening");
}
