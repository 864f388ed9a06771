import { wordsOf } from "./pageWords.ts";
import type { PageText, PageWord } from "./textDirective.ts";

/** The page's words, and the elements of its paragraphs, by the same numbers. */
export interface ReadPage extends PageText {
  readonly elements: readonly HTMLElement[];
}

/** What says nothing of the page: it is no text, or says again what is said elsewhere, for a moment. */
const APART = "script, style, template, .caption-line, .quote, [data-quote-says]";
/** In a paragraph, what nobody said. */
const UNSAID = ".stamp, .vh, .mark-ref, .quote-this";

/** Reads all words of a page, with where they stand. */
export function readPageText(root: HTMLElement): ReadPage {
  const segmenter = new Intl.Segmenter(document.documentElement.lang || "en", { granularity: "word" });
  const words: PageWord[] = [];
  const elements: HTMLElement[] = [];
  const paragraphs: { text: string; stamp: string }[] = [];
  const add = (text: string, paragraph: number | null, stamp = false): void => {
    for (const { segment, index, isWordLike } of segmenter.segment(text)) {
      if (isWordLike === true)
        words.push({ folded: folded(segment), paragraph, stamp, from: index, to: index + segment.length });
    }
  };
  const walk = (element: Element): void => {
    if (element.matches(APART)) return;
    if (element.matches(".words")) {
      const stamp = element.querySelector(".stamp time")?.textContent ?? "";
      const text = textNodesOf(element)
        .map(({ data }) => data)
        .join("");
      paragraphs.push({ text, stamp });
      elements.push(element as HTMLElement);
      add(stamp, paragraphs.length - 1, true);
      add(text, paragraphs.length - 1);
      return;
    }
    for (const child of element.childNodes) {
      if (child instanceof Element) walk(child);
      else if (child instanceof Text) add(child.data, null);
    }
  };
  walk(root);
  return { words, paragraphs, elements };
}

const folded = (word: string): string => word.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

/** The text nodes of what is said in a paragraph. */
export function textNodesOf(paragraph: Element): readonly Text[] {
  const walker = document.createTreeWalker(paragraph, NodeFilter.SHOW_TEXT, ({ parentElement }) =>
    parentElement?.closest(UNSAID) == null ? NodeFilter.FILTER_ACCEPT : NodeFilter.FILTER_REJECT,
  );
  const nodes: Text[] = [];
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) nodes.push(node as Text);
  return nodes;
}

/** The date in a correction's note, `6 October 2026`, and its kind; null: the page has no such note. */
export function noteNamed(id: string): { readonly kind: string; readonly day: string } | null {
  const note = document.getElementById(id);
  const date = note?.querySelector(".note-date");
  if (note === null || date === null || date === undefined) return null;
  return { kind: note.dataset.kind ?? "", day: wordsOf(date).replace(/,[^,]*$/, "") };
}
