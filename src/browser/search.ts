import { countWhenWanted } from "./countWhenWanted.ts";
import { openIndex } from "./openIndex.ts";
import { isEmpty, type Query, readQuery, writeQuery } from "./query.ts";
import { resultView } from "./resultView.ts";
import { type Findings, type Found, NOTHING, type SearchIndex } from "./searchIndex.ts";
import { readSearchPage, type SearchPage } from "./searchPage.ts";
import { summaryOf } from "./searchSummary.ts";
import { isTypedEnough, whenTypingRests } from "./typing.ts";

/** How many results are shown at a time. */
const BATCH = 20;

const page = readSearchPage(document);
if (page !== null) startSearch(page);

/** Searches by the address, the form and the history. */
function startSearch(page: SearchPage): void {
  let current = readQuery(new URLSearchParams(location.search));
  let round = 0;
  let isTyping = false;
  /** Whether what is shown was looked for in the newest tiers alone, because somebody typed. */
  let isShort = false;
  const open = opener(page);
  const count = countWhenWanted(page.form, () => round);
  const results = resultList(page, (findings, shown) => {
    isShort = false;
    tell(page, findings, current, shown);
    count(findings, current);
  });
  const clear = (): void => {
    empty(page);
    count(null, current);
  };

  /** A later search takes the place of one that is still under way. */
  const search = async (query: Query): Promise<void> => {
    const mine = ++round;
    isShort = false;
    const isOver = () => mine !== round;
    current = query;
    page.fill(query);
    if (isEmpty(query)) return clear();
    page.busy(true);
    page.say("Searching…");
    try {
      const findings = await (await open()).find(query, () => isTyping);
      const first = await results.prepare(findings);
      if (isOver()) return;
      isShort = findings.older?.isShort === true;
      results.begin(findings, query.speaker, first);
      tell(page, findings, query, first);
      count(findings, query);
    } catch (error) {
      if (isOver()) return;
      clear();
      page.say(UNREACHABLE);
      console.warn(error);
    } finally {
      if (!isOver()) page.busy(false);
    }
  };
  const ask = (query: Query, typing = false): void => {
    if (writeQuery(query) === writeQuery(current)) return;
    isTyping = typing;
    const address = writeQuery(query) || location.pathname;
    // Back leads to where one came from, not through every word that was typed.
    if (typing) history.replaceState(null, "", address);
    else history.pushState(null, "", address);
    void search(query);
  };
  listen(page, {
    warm: () => void open().catch(() => {}), // said when somebody searches
    again() {
      isTyping = false;
      void search(current);
    },
    typing(is) {
      isTyping = is;
      if (!is && isShort && writeQuery(page.asked()) === writeQuery(current)) void search(current);
      page.hush(is);
    },
    ask,
    asked: () => current,
  });
  addEventListener("popstate", () => void search(readQuery(new URLSearchParams(location.search))));
  void search(current);
}

const UNREACHABLE = "The search index can’t be loaded. Check the connection and search again, or look in the archive.";

/** Opens the index once; where that fails, the next search tries again. */
function opener(page: SearchPage): () => Promise<SearchIndex> {
  let opened: Promise<SearchIndex> | null = null;
  return () => {
    opened ??= openIndex(page, { kinds: page.kinds, today: today(), language: document.documentElement.lang }).catch(
      (error: unknown) => {
        opened = null;
        throw error;
      },
    );
    return opened;
  };
}

/** By the reader's own clock. */
function today(): string {
  const now = new Date();
  return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, "2026-10-05".length);
}

interface Asking {
  warm(): void;
  again(): void;
  /** Somebody types, or has stopped: then what was looked for in few tiers is looked for in all. */
  typing(is: boolean): void;
  ask(query: Query, typing?: boolean): void;
  asked(): Query;
}

/** Form, order, history. The links and the form work without any of it, by loading the page again. */
function listen(page: SearchPage, { warm, again, typing, ask, asked }: Asking): void {
  page.form.addEventListener("input", warm, { once: true });
  whenTypingRests(page.field, {
    began: () => typing(true),
    search: () => isTypedEnough(page.asked()) && ask(page.asked(), true),
    tell: () => typing(false),
  });
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
  prepare(findings: Findings): Promise<readonly Found[]>;
  /** Shows them in the place of what was there. */
  begin(findings: Findings, speaker: string | null, first: readonly Found[]): void;
}

/** Shows results a batch at a time, and looks in older tiers when they are at an end. @param further told what is found there, and all that is shown by then. */
function resultList(page: SearchPage, further: (findings: Findings, shown: readonly Found[]) => void): ResultList {
  let findings: Findings = NOTHING;
  let speaker: string | null = null;
  let shown: readonly Found[] = [];
  const batch = ({ results }: Pick<Findings, "results">, from: number): Promise<readonly Found[]> =>
    Promise.all(results.slice(from, from + BATCH).map((load) => load()));
  const add = (more: readonly Found[]): HTMLElement | undefined => {
    const views = more.map((found) => resultView(found, speaker));
    page.list.append(...views);
    shown = [...shown, ...more];
    const left = findings.results.length - shown.length;
    page.more.hidden = left === 0 && findings.older === null;
    page.more.textContent =
      left === 0 ? "Search older years" : `The next ${Math.min(BATCH, left)} of ${findings.results.length}`;
    return views[0];
  };
  const next = async (from: Findings): Promise<void> => {
    const all = shown.length < from.results.length ? from : ((await from.older?.search()) ?? from);
    const more = await batch(all, shown.length);
    if (from !== findings) return;
    findings = all;
    const first = add(more);
    if (all !== from) further(all, shown);
    first?.querySelector<HTMLElement>("h3 a")?.focus();
  };
  page.more.addEventListener("click", async () => {
    page.more.disabled = true;
    await next(findings).catch(() => page.say(UNREACHABLE));
    page.more.disabled = false;
  });
  return {
    prepare: (of) => batch(of, 0),
    begin(of, who, first) {
      [findings, speaker, shown] = [of, who, []];
      page.list.replaceChildren();
      add(first);
    },
  };
}

/** Says what was found. @param shown the first of it, which alone is looked into. */
function tell(page: SearchPage, findings: Findings, query: Query, shown: readonly Found[]): void {
  page.head(findings.results.length > 0);
  page.say(...summaryOf(findings, query, shown));
}

function empty(page: SearchPage): void {
  page.list.replaceChildren();
  page.more.hidden = true;
  page.head(false);
  page.say();
  page.busy(false);
}
