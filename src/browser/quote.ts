import { formatClock } from "../model/clock.ts";
import { element } from "./elements.ts";
import { type ReadPage, readPageText, textNodesOf } from "./pageText.ts";
import { quotationOf } from "./quotedRange.ts";
import { quotePanel } from "./quotePanel.ts";
import { takeAlong } from "./takeAlong.ts";

/** A selection that has not changed for so long is one to quote. Milliseconds; common practice, no source. */
const STILL = 300;

/** Makes quotations of what is selected among the words of the page. Called once. */
export function startQuoting(words: HTMLElement): void {
  const sheet = words.dataset.quoteStyle;
  const styled =
    sheet === undefined || sheet === ""
      ? Promise.resolve()
      : new Promise<void>((resolve) => {
          const link = element("link", { rel: "stylesheet", href: sheet });
          link.addEventListener("load", () => resolve());
          link.addEventListener("error", () => resolve()); // it works without its looks
          document.head.append(link);
        });
  let page: ReadPage | null = null;
  let waiting = 0;
  let back: HTMLElement | null = null;
  let putAway = "";

  const close = (): void => {
    putAway = String(getSelection());
    panel.hide();
    back?.focus({ preventScroll: true });
    back = null;
  };
  const panel = quotePanel(close);
  const show = (): void => {
    const selection = getSelection();
    const range = selection?.isCollapsed === false ? selection.getRangeAt(0) : null;
    if (range === null) putAway = "";
    const isWanted = range?.intersectsNode(words) === true && String(selection) !== putAway;
    if (range !== null && isWanted) {
      page ??= readPageText(document.body);
      const quotation = quotationOf(range, page, words);
      const end = page.elements.findLast((own) => range.intersectsNode(own));
      if (quotation !== null && end !== undefined) {
        panel.show(quotation, end, range.getBoundingClientRect());
        return;
      }
    }
    // What is marked in the panel's field is no other selection.
    if (!panel.contains(document.activeElement)) panel.hide();
  };
  const soon = (): void => {
    clearTimeout(waiting);
    waiting = setTimeout(() => void styled.then(show), STILL);
  };
  // Who copies words across a note takes the words alone: the style sheet leaves the notes out while the browser copies.
  document.addEventListener("copy", () => {
    const selection = getSelection();
    words.toggleAttribute("data-copying", [selection?.anchorNode, selection?.focusNode].every(isAmongWords));
    setTimeout(() => words.removeAttribute("data-copying"));
  });
  document.addEventListener("selectionchange", soon);
  document.addEventListener("keydown", ({ key }) => {
    if (key === "Escape" && panel.isShown) close();
  });

  const button = element("button", { type: "button", class: "quote-this" }, "Quote this paragraph");
  const offerAt = (target: EventTarget | null): void => {
    const stamp = target instanceof Element ? target.closest<HTMLElement>(".words .stamp") : null;
    if (stamp !== null) void styled.then(() => stamp.after(button));
    else if (target !== button) button.remove();
  };
  button.addEventListener("click", () => {
    const paragraph = button.closest(".words");
    const nodes = paragraph === null ? [] : textNodesOf(paragraph);
    const [first, last] = [nodes[0], nodes.at(-1)];
    if (first === undefined || last === undefined) return;
    back = paragraph?.querySelector<HTMLElement>(".stamp") ?? null;
    putAway = "";
    getSelection()?.setBaseAndExtent(first, 0, last, last.length);
    clearTimeout(waiting);
    show();
    panel.focus();
  });
  document.addEventListener("focusin", ({ target }) => offerAt(target));
  offerAt(document.activeElement);
  soon();
}

const isAmongWords = (node: Node | null | undefined): boolean =>
  (node instanceof Element ? node : node?.parentElement)?.closest(".words") != null;

/** Copies the address of a moment, in seconds. @returns what to say of it. */
export async function copyMoment(seconds: number): Promise<string> {
  const whole = Math.floor(seconds);
  const address = `${location.origin}${location.pathname}${location.search}#t=${whole}`;
  const clock = formatClock(whole * 1000);
  return (await takeAlong({ text: address })) ? `The link to ${clock} is copied.` : `The link to ${clock}: ${address}`;
}
