import { element } from "./elements.ts";
import { type Findings, type Index, openIndex } from "./index.ts";
import { isEmpty, isNarrowed, type Query, readQuery, writeQuery } from "./query.ts";
import { resultView } from "./resultView.ts";
import { readSearchPage, type SearchPage } from "./searchPage.ts";

/** How many results are shown at a time. */
const BATCH = 20;

const page = readSearchPage(document);
if (page !== null) startSearch(page);

/** Searches by the address, the form and the history. */
function startSearch(page: SearchPage): void {
  let current = readQuery(new URLSearchParams(location.search));
  let round = 0;
  const open = opener(page.index);
  const results = resultList(page);

  /** A later search takes the place of one that is still under way. */
  const search = async (query: Query): Promise<void> => {
    const mine = ++round;
    const isOver = () => mine !== round;
    current = query;
    page.fill(query);
    if (isEmpty(query)) return clear(page);
    page.busy(true);
    page.say("Searching…");
    try {
      const { segments, years } = await (await open()).find(query, page.years);
      const views = await results.prepare(segments, query.speaker);
      if (isOver()) return;
      results.begin(segments, query.speaker, views);
      page.countYears(years);
      page.head(segments.length > 0);
      page.say(...summaryOf(segments.length, query));
    } catch (error) {
      if (isOver()) return;
      clear(page);
      page.say(UNREACHABLE);
      console.warn(error);
    } finally {
      if (!isOver()) page.busy(false);
    }
  };
  const ask = (query: Query): void => {
    if (writeQuery(query) === writeQuery(current)) return;
    history.pushState(null, "", writeQuery(query) || location.pathname);
    void search(query);
  };
  listen(page, {
    warm: () => void open().catch(() => {}), // said when somebody searches
    again: () => void search(current),
    ask,
    asked: () => current,
  });
  addEventListener("popstate", () => void search(readQuery(new URLSearchParams(location.search))));
  void search(current);
}

const UNREACHABLE =
  "The search index can’t be loaded. Check the connection and search again; the archive lists every edition.";

/** Opens the index once; where that fails, the next search tries again. */
function opener(folder: string): () => Promise<Index> {
  let opened: Promise<Index> | null = null;
  return () => {
    opened ??= openIndex(folder).catch((error: unknown) => {
      opened = null;
      throw error;
    });
    return opened;
  };
}

interface Asking {
  warm(): void;
  again(): void;
  ask(query: Query): void;
  asked(): Query;
}

/** Form, order, history. The links and the form work without any of it, by loading the page again. */
function listen(page: SearchPage, { warm, again, ask, asked }: Asking): void {
  page.form.addEventListener("focusin", warm, { once: true });
  page.form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (writeQuery(page.asked()) === writeQuery(asked())) again();
    else ask(page.asked());
  });
  document.addEventListener("change", ({ target }) => {
    const form = target instanceof HTMLInputElement || target instanceof HTMLSelectElement ? target.form : null;
    if (form === page.form) ask(page.asked());
  });
  page.order.addEventListener("click", (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
    event.preventDefault();
    ask({ ...asked(), order: asked().order === "newest" ? "closest" : "newest" });
  });
}

interface ResultList {
  /** The first results, before they are shown. */
  prepare(segments: Findings["segments"], speaker: string | null): Promise<readonly HTMLElement[]>;
  /** Shows them in the place of what was there. */
  begin(segments: Findings["segments"], speaker: string | null, views: readonly HTMLElement[]): void;
}

/** Shows results a batch at a time. */
function resultList(page: SearchPage): ResultList {
  let segments: Findings["segments"] = [];
  let speaker: string | null = null;
  let shown = 0;
  const views = (of: Findings["segments"], who: string | null): Promise<readonly HTMLElement[]> =>
    Promise.all(of.map(async (load) => resultView(await load(), who)));
  const add = (more: readonly HTMLElement[]): void => {
    page.list.append(...more);
    shown += more.length;
    const left = segments.length - shown;
    page.more.hidden = left === 0;
    page.more.textContent = `The next ${Math.min(BATCH, left)} of ${segments.length}`;
  };
  page.more.addEventListener("click", async () => {
    const from = segments;
    page.more.disabled = true;
    const more = await views(from.slice(shown, shown + BATCH), speaker).catch(() => null);
    page.more.disabled = false;
    if (more === null) return page.say(UNREACHABLE);
    if (from !== segments) return;
    add(more);
    more[0]?.querySelector<HTMLElement>("h3 a")?.focus();
  });
  return {
    prepare: (of, who) => views(of.slice(0, BATCH), who),
    begin(of, who, first) {
      [segments, speaker, shown] = [of, who, 0];
      page.list.replaceChildren();
      add(first);
    },
  };
}

function clear(page: SearchPage): void {
  page.list.replaceChildren();
  page.more.hidden = true;
  page.head(false);
  page.countYears(null);
  page.say();
  page.busy(false);
}

/** "47 segments have sailings in them", or what to try. */
function summaryOf(count: number, query: Query): readonly (Node | string)[] {
  const words = query.words === "" ? null : element("b", {}, query.words);
  const within = isNarrowed(query) ? `, narrowed to ${narrowingOf(query)}` : "";
  if (count > 0) {
    const number = count.toLocaleString(document.documentElement.lang || undefined);
    const segments = element("b", {}, `${number} ${count === 1 ? "segment" : "segments"}`);
    if (words === null) return [segments, `${within}.`];
    return [segments, count === 1 ? " has " : " have ", words, count === 1 ? " in it" : " in them", `${within}.`];
  }
  const what = words === null ? [] : [" has ", words, " in it"];
  const tips = query.words.includes('"') ? "without quotation marks" : "fewer words, or another spelling";
  if (within === "") return ["No segment", ...what, `. Try ${tips}.`];
  const whole = { ...query, years: [], kinds: [], speaker: null, topic: null, corrected: false };
  const all = element("a", { href: writeQuery(whole) || location.pathname }, "Search everything");
  return ["No segment", ...what, `${within}. `, all, `, or try ${tips}.`];
}

const narrowingOf = ({ years, speaker, topic, kinds, corrected }: Query): string =>
  [...years, speaker ?? [], topic ?? [], ...kinds, corrected ? "corrected" : []].flat().join(", ");
