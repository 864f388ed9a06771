import { element } from "./elements.ts";
import { citationText, gapText, isTalk, type Quotation, quotationText, sourceOf, speakerText } from "./quotation.ts";
import { type Along, takeAlong } from "./takeAlong.ts";

/** The panel that has a quotation ready. */
export interface QuotePanel {
  /** Shows one; it stands after the paragraph where the selection ends, so that Tab leads to it. */
  show(quotation: Quotation, after: Element, under: DOMRect): void;
  hide(): void;
  readonly isShown: boolean;
  focus(): void;
  contains(target: EventTarget | null): boolean;
}

/** @param closed what follows when the reader puts it away. */
export function quotePanel(closed: () => void): QuotePanel {
  const [words, source] = [element("div", { class: "quote-words" }), element("p", { class: "quote-source" })];
  const says = element("p", { class: "vh", role: "status", "data-quote-says": "" });
  const field = element("textarea", { class: "quote-field", readonly: "", rows: 3, hidden: "" });
  field.setAttribute("aria-label", "The text, to copy by hand");
  const done = element("p", { class: "quote-done" });
  const link = element("a", {}, "Open at these words");
  let shown: Quotation | null = null;
  const offer = (name: string, along: (quotation: Quotation) => Along): HTMLElement => {
    const made = element("button", { type: "button" }, name);
    made.addEventListener("click", async () => {
      if (shown === null) return;
      const own = along(shown);
      const taken = await takeAlong(own);
      done.textContent = taken ? "Copied." : "The browser does not let this page copy. Copy the text here:";
      says.textContent = done.textContent;
      field.hidden = taken;
      if (!taken) field.value = own.text;
    });
    return made;
  };
  const close = element("button", { type: "button", class: "quote-close" }, "Close");
  close.addEventListener("click", closed);
  const panel = element(
    "section",
    { class: "quote", "aria-label": "Quotation", hidden: "" },
    words,
    source,
    element(
      "div",
      { class: "quote-ways" },
      offer("Copy text", (quotation) => ({ text: quotationText(quotation) })),
      offer("Copy HTML", (quotation) => ({ text: quotationHtml(quotation), html: quotationHtml(quotation) })),
      offer("Copy citation", (quotation) => ({ text: citationText(quotation) })),
      offer("Copy link", ({ address }) => ({ text: address })),
      link,
      close,
    ),
    done,
    field,
  );
  // A press on it must not take away what is selected.
  panel.addEventListener("mousedown", (event) => void (event.target === field || event.preventDefault()));
  document.body.append(says);
  return {
    show(quotation, after, under) {
      const isNew = shown === null || quotationText(shown) !== quotationText(quotation);
      if (isNew || panel.hidden) {
        shown = quotation;
        done.textContent = "";
        field.hidden = true;
        words.replaceChildren(...paragraphsOf(quotation));
        source.textContent = `${sourceOf(quotation)}.`;
        link.href = quotation.address;
        says.textContent = `Quotation ready: ${sourceOf(quotation)}. Tab leads to it, Escape puts it away.`;
      }
      if (panel.previousElementSibling !== after && !panel.contains(document.activeElement)) after.after(panel);
      panel.hidden = false;
      // The browser's own menu stands at the selection: the panel keeps to the other end of the window.
      panel.toggleAttribute(
        "data-top",
        under.bottom > innerHeight - panel.offsetHeight - 64 && under.top > innerHeight / 2,
      );
    },
    hide() {
      panel.hidden = true;
      says.textContent = "";
    },
    get isShown() {
      return !panel.hidden;
    },
    focus: () => panel.querySelector("button")?.focus(),
    contains: (target) => target instanceof Node && panel.contains(target),
  };
}

function paragraphsOf(quotation: Quotation): readonly HTMLElement[] {
  const talk = isTalk(quotation);
  return quotation.parts.flatMap((part) => {
    if (part.is === "gap") return [element("p", {}, gapText(part.why))];
    return part.paragraphs.map((text, n) =>
      element(
        "p",
        { dir: "auto" },
        ...(talk && n === 0 ? [element("b", {}, speakerText(part.speaker)), ": "] : []),
        text,
      ),
    );
  });
}

/** A quotation as HTML, to be put into another page. It is built as elements: no text can be taken for markup. */
function quotationHtml(quotation: Quotation): string {
  const { lang } = document.documentElement;
  const quote = element("blockquote", { cite: quotation.address, lang }, ...paragraphsOf(quotation));
  const source = element("p", {}, element("a", { href: quotation.address }, sourceOf(quotation)), ".");
  return `${quote.outerHTML}\n${source.outerHTML}`;
}
