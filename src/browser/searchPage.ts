import { element } from "./elements.ts";
import { type Query, readQuery, writeQuery } from "./query.ts";

const ORDERS = {
  newest: { title: "Newest first", other: "closest", change: "Closest match first" },
  closest: { title: "Closest match first", other: "newest", change: "Newest first" },
} as const;

/** The parts of the search page, found once, and what may be written into them. */
export interface SearchPage {
  readonly form: HTMLFormElement;
  readonly field: HTMLInputElement;
  readonly list: HTMLOListElement;
  readonly more: HTMLButtonElement;
  readonly order: HTMLAnchorElement;
  /** The folder of the index. */
  readonly index: string;
  /** The tiers of the index, newest first. */
  readonly tiers: readonly string[];
  /** The script that suggests. */
  readonly suggest: string;
  /** Every kind that the form offers. */
  readonly kinds: readonly string[];
  /** What the form asks for; the order is the address's. */
  asked(): Query;
  /** Makes the form and the heading say what is looked for. */
  fill(query: Query): void;
  say(...words: readonly (Node | string)[]): void;
  /** While somebody types, what is said can be seen and is not read aloud; then it is. */
  hush(typing: boolean): void;
  /** While it looks, the list is what it was. */
  busy(looking: boolean): void;
  /** The heading over the results, or none. */
  head(shown: boolean): void;
}

/** Null where the page has no search. */
export function readSearchPage(root: Document): SearchPage | null {
  const form = root.querySelector<HTMLFormElement>("form#finder");
  const field = form?.querySelector<HTMLInputElement>("input[name=q]");
  const results = root.querySelector<HTMLElement>("section.results[data-index]");
  const list = results?.querySelector("ol");
  const more = results?.querySelector<HTMLButtonElement>("button[data-more]");
  const found = root.querySelector<HTMLElement>("p.found");
  if (!form || !field || !results || !list || !more || !found) return null;
  const controls = [...form.elements];
  const head = results.querySelector<HTMLElement>(".results-head");
  const title = results.querySelector("h2");
  const order = orderLink(results, head ?? results);
  return {
    form,
    field,
    list,
    more,
    order,
    index: results.dataset.index ?? "",
    tiers: (results.dataset.tiers ?? "").split(" ").filter((tier) => tier !== ""),
    suggest: results.dataset.suggest ?? "",
    kinds: controls.flatMap((control) => (isBox(control) && control.name === "kind" ? [control.value] : [])),
    asked: () => ({ ...readQuery(fieldsOf(form)), order: readQuery(new URLSearchParams(location.search)).order }),
    fill(query) {
      for (const control of controls) fillControl(control, query);
      // Without words, nothing is closer than anything else.
      const { title: words, other, change } = ORDERS[query.words === "" ? "newest" : query.order];
      order.hidden = query.words === "";
      if (title !== null) title.textContent = words;
      order.textContent = change;
      order.href = writeQuery({ ...query, order: other }) || location.pathname;
    },
    say: (...words) => found.replaceChildren(...words),
    hush(typing) {
      found.ariaBusy = String(typing);
      if (!typing) found.replaceChildren(...found.childNodes); // put in again, for readers that pass over what was there
    },
    busy: (looking) => results.setAttribute("aria-busy", String(looking)),
    head(shown) {
      if (head !== null) head.hidden = !shown;
    },
  };
}

function orderLink(results: HTMLElement, head: HTMLElement): HTMLAnchorElement {
  const there = results.querySelector<HTMLAnchorElement>("a[data-order]");
  if (there !== null) return there;
  const made = element("a", { "data-order": "", href: "" });
  head.append(element("p", {}, made));
  return made;
}

function fieldsOf(form: HTMLFormElement): URLSearchParams {
  const fields = [...new FormData(form)].flatMap(([name, value]) => (typeof value === "string" ? [[name, value]] : []));
  return new URLSearchParams(fields);
}

const isBox = (control: Element): control is HTMLInputElement =>
  control instanceof HTMLInputElement && control.type === "checkbox";

function fillControl(control: Element, query: Query): void {
  if (isBox(control)) {
    const { name, value } = control;
    control.checked =
      name === "year" ? query.years.includes(value) : name === "kind" ? query.kinds.includes(value) : query.corrected;
  } else if (control instanceof HTMLSelectElement) {
    const { speaker, topic, place } = query;
    const wanted = control.name === "speaker" ? speaker : control.name === "topic" ? topic : place;
    // A link may ask for somebody whom the list does not name: what is looked for must be seen.
    if (wanted !== null && ![...control.options].some(({ value }) => value === wanted)) {
      control.add(new Option(wanted, wanted));
    }
    control.value = wanted ?? "";
  } else if (control instanceof HTMLInputElement && control.name === "q" && control.value.trim() !== query.words) {
    control.value = query.words; // left alone otherwise: a space at its end is the beginning of the next word
  }
}
