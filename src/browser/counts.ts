import { type Answered, chosenIn, countOf, GROUPS, type Group, type Having } from "./counting.ts";
import { element } from "./elements.ts";
import type { Query } from "./query.ts";
import type { Findings, InTier } from "./searchIndex.ts";
import type { Searcher } from "./searchTier.ts";

type Control = HTMLInputElement | HTMLSelectElement;
/** What can be chosen: a box, or a name of a list. */
interface Choice {
  readonly group: Group;
  readonly value: string;
  readonly at: HTMLInputElement | HTMLOptionElement;
}
/** null: not known. */
type Counts = ReadonlyMap<Choice, number | null>;

/** So long, figures of the search before are left standing, so that they don't flicker. */
const LATE_MS = 200;
/** So long is counted in one turn, and so many figures are written in one. */
const TURN_MS = 10;
const WRITTEN = 200;

const turn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

let latest = 0;

/** Writes beside each choice how many segments it would leave. @param findings null: no figures. */
export async function showCounts(
  form: HTMLFormElement,
  findings: Findings | null,
  query: Query,
  round: () => number,
): Promise<void> {
  const [mine, begun] = [++latest, round()];
  const isLast = () => mine === latest;
  const isLate = () => !isLast() || round() !== begun;
  const controls = [...form.elements].filter(isControl);
  showYears(controls, findings === null ? null : yearsOf(findings));
  const choices = controls.flatMap(choicesOf);
  const clear = async () => isLast() && show(new Map(choices.map((choice) => [choice, null])), true, isLast);
  keepChosen(form);
  if (findings === null) return void (await clear());
  const late = setTimeout(clear, LATE_MS);
  const counts = await countAll(findings, query, choices, isLate).catch(() => null);
  clearTimeout(late);
  if (isLate()) return;
  if (counts === null) await clear();
  else await show(counts, findings.older !== null, isLast);
}

/** So many tiers are asked, or there are no figures: more take longer than anybody looks for them. */
const MOST_TIERS = 32;

/** A turn at a time; null: given up. */
async function countAll(
  findings: Findings,
  query: Query,
  choices: readonly Choice[],
  isLate: () => boolean,
): Promise<Counts | null> {
  const wanted = wantedOf(choices, query);
  const answers: Answered[] = [];
  for (const { asked, found } of findings.searched) {
    const tiers = [];
    const telling = found.filter(({ tier, hits }) => tier !== "" && hasAny(hits));
    if (telling.length > MOST_TIERS) return null;
    for (const { searcher, hits } of telling) {
      const having = await havingOf(searcher, wanted, isLate);
      if (having === null) return null;
      tiers.push({ hits, having });
    }
    answers.push({ asked, tiers });
  }
  const counts = new Map<Choice, number>();
  let began = performance.now();
  for (const choice of choices) {
    if (performance.now() - began > TURN_MS) {
      await turn();
      if (isLate()) return null;
      began = performance.now();
    }
    counts.set(choice, countOf(answers, query, choice.group, choice.value));
  }
  return counts;
}

/** Where none of the words stands, nothing is counted. */
const hasAny = ({ clauses }: InTier["hits"]): boolean =>
  clauses.length === 0 || clauses.some(({ byId }) => byId.size > 0);

type Wanted = Readonly<Record<Group, ReadonlySet<string>>>;

/** What can be chosen, and what is: an address may name what no list has. */
function wantedOf(choices: readonly Choice[], query: Query): Wanted {
  const chosen = chosenIn(query);
  const of = (group: Group) =>
    new Set([...chosen[group], ...choices.flatMap((choice) => (choice.group === group ? [choice.value] : []))]);
  return {
    speaker: of("speaker"),
    topic: of("topic"),
    place: of("place"),
    kind: of("kind"),
    corrected: of("corrected"),
  };
}

const NONE: ReadonlySet<string> = new Set();
const held = new WeakMap<Searcher, Map<string, ReadonlySet<string>>>();

/**
 * Which records have what, asked of a tier once, one value after the other: 0.9 ms each, some 270 a tier, in Pagefind's own
 * thread (measured). So a search that begins now waits for one, and the build needs no file more.
 */
async function havingOf(searcher: Searcher, wanted: Wanted, isLate: () => boolean): Promise<Having | null> {
  const known = held.get(searcher) ?? new Map<string, ReadonlySet<string>>();
  held.set(searcher, known);
  const key = (group: Group, value: string) => `${group} ${value}`;
  const missing = GROUPS.flatMap((group) =>
    [...wanted[group]].flatMap((value) => (known.has(key(group, value)) ? [] : [{ group, value }])),
  );
  const there = missing.length === 0 ? {} : await searcher.filters();
  for (const { group, value } of missing) {
    if (isLate()) return null;
    const any = Object.hasOwn(there[group] ?? {}, value);
    const answer = any ? await searcher.search(null, { filters: { [group]: { any: [value] } } }) : null;
    known.set(key(group, value), answer === null ? NONE : new Set(answer.results.map(({ id }) => id)));
  }
  return (group, value) => known.get(key(group, value)) ?? NONE;
}

const isControl = (control: Element): control is Control =>
  control instanceof HTMLSelectElement || (control instanceof HTMLInputElement && control.type === "checkbox");

const isGroup = (name: string): name is Group => GROUPS.some((group) => group === name);

function choicesOf(control: Control): readonly Choice[] {
  const group = control.name;
  if (!isGroup(group)) return [];
  const all = control instanceof HTMLInputElement ? [control] : [...control.options];
  return all.filter(({ value }) => value !== "").map((at) => ({ group, value: at.value, at }));
}

let shown = 0;

/** @param isPart older tiers are still unsearched: what has none may have some there. @param isLast not yet others. */
async function show(counts: Counts, isPart: boolean, isLast: () => boolean): Promise<void> {
  const open = new Set<HTMLSelectElement>();
  const mine = ++shown;
  let done = 0;
  for (const [{ value, at }, counted] of counts) {
    if (++done % WRITTEN === 0) {
      await turn();
      if (mine !== shown || !isLast()) return;
    }
    const count = counted === 0 && isPart ? null : counted;
    const list = at.closest("select");
    if (at instanceof HTMLInputElement) figure(at, count);
    else if (list !== null && isOpen(list)) open.add(list);
    else name(at, value, count);
  }
  for (const list of open)
    list.addEventListener("blur", () => isLast() && show(counts, isPart, isLast), { once: true });
}

/** A list that is open stays as it is: it would jump, or close. Where that can't be told, while it has the focus. */
const isOpen = (list: HTMLSelectElement): boolean => list.matches(CSS.supports("selector(:open)") ? ":open" : ":focus");

function name(option: HTMLOptionElement, value: string, count: number | null): void {
  const text = count === null ? value : `${value} (${written(count)})`;
  if (option.textContent !== text) option.textContent = text;
  if (count === null) option.removeAttribute("aria-label");
  else option.ariaLabel = `${value}, ${segments(count)}`;
  option.disabled = count === 0 && !option.selected;
}

const kept = new WeakSet<HTMLFormElement>();

/** What the history brings back is chosen at once, and a form does not say what is closed. */
function keepChosen(form: HTMLFormElement): void {
  if (kept.has(form)) return;
  kept.add(form);
  addEventListener("popstate", () => {
    for (const control of form.elements)
      if (control instanceof HTMLSelectElement) for (const option of control.selectedOptions) option.disabled = false;
  });
}

function figure(box: HTMLInputElement, count: number | null): void {
  const [number = "", noun = ""] = count === null ? [] : segments(count).split(" ");
  box
    .closest("label")
    ?.querySelector(".k-count")
    ?.replaceChildren(...(count === null ? [] : [number, element("span", { class: "vh" }, ` ${noun}`)]));
}

const { format } = new Intl.NumberFormat(document.documentElement.lang || undefined);
const written = (count: number): string => format(count);
const segments = (count: number): string => `${written(count)} ${count === 1 ? "segment" : "segments"}`;

/** Segments of each year that was searched. */
function yearsOf({ searched, inTiers }: Findings): Readonly<Record<string, number>> {
  const years: Record<string, number> = {};
  for (const { found } of searched) for (const { tier } of found) years[tier.slice(0, 4)] = 0;
  for (const tier of inTiers) years[tier.slice(0, 4)] = (years[tier.slice(0, 4)] ?? 0) + 1;
  return years;
}

/** A figure beside each year, and a bar in proportion. */
function showYears(controls: readonly Control[], counts: Readonly<Record<string, number>> | null): void {
  const most = Math.max(1, ...Object.values(counts ?? {}));
  for (const year of controls) {
    if (!(year instanceof HTMLInputElement) || year.name !== "year") continue;
    const count = counts?.[year.value] ?? null;
    figure(year, count);
    const label = year.closest("label");
    const bar = label?.querySelector<HTMLElement>(".k-bar i") ?? addBar(label?.querySelector(".k-count"));
    bar.style.setProperty("--part", String((count ?? 0) / most));
  }
}

function addBar(count: Element | null | undefined): HTMLElement {
  const bar = element("i", {});
  count?.before(element("span", { class: "k-bar", "aria-hidden": "true" }, bar), " ");
  return bar;
}
