import type { IndexCard } from "../search/card.ts";
import type { Asked } from "./asked.ts";
import { element } from "./elements.ts";
import { hasAll } from "./having.ts";
import { isNarrowed, type Query, writeQuery } from "./query.ts";
import type { Counts, Findings, Found } from "./searchIndex.ts";

/**
 * "47 segments have sailings in them", or something near it, or what to try; and how far the search went.
 * @param shown the first of what was found, which alone is looked into.
 */
export function summaryOf(findings: Findings, query: Query, shown: readonly Found[]): readonly (Node | string)[] {
  const { counts, asked, instead, older } = findings;
  const since = older === null ? "" : ` since ${beginningOf(older.since)}`;
  const words = query.words === "" ? null : bold(instead ?? wordsOf(asked, query));
  const within = isNarrowed(query) ? `, narrowed to ${narrowingOf(query)}` : "";
  const end = older === null ? `${within}.` : `${within}. Older ones are searched when you ask.`;
  if (total(counts) === 0) return nothing(query, within, older === null ? null : [since, end]);
  if (words === null) return [...things(counts), since, end];
  const meant = instead === null ? [] : meantFor(query, instead, since);
  const having = countsOf(shown.filter(({ text }) => hasAll(text, asked.clauses)));
  const own = [
    ...things(having),
    since,
    ...(total(having) === 1 ? [" has ", words, " in it"] : [" have ", words, " in them"]),
  ];
  if (total(having) === total(counts)) return [...meant, ...own, end];
  // The others were not looked into.
  if (shown.length < total(counts))
    return [...meant, ...things(counts), since, " have ", words, " or something near it", end];
  const near = countsOf(shown.filter(({ text }) => !hasAll(text, asked.clauses)));
  const others = total(near) === 1 ? " has something near it" : " have something near it";
  if (total(having) === 0)
    return [
      ...meant,
      "No segment",
      since,
      " has ",
      bold(instead ?? query.words),
      " in it. ",
      ...things(near),
      others,
      end,
    ];
  return [...meant, ...own, "; ", ...things(near, "more "), others, end];
}

/** What was asked for, as it was typed; without what the search passes over. */
function wordsOf({ clauses, typed }: Asked, query: Query): string {
  const loose = clauses.flatMap(({ is, text }) => (is === "phrase" ? [] : text.split(" ")));
  if (loose.length === typed.length) return query.words;
  return clauses.map(({ is, text }) => (is === "phrase" ? `“${text}”` : text)).join(" ");
}

const bold = (words: string): Node => element("b", {}, words);

/** "No segment has Skerow in it. Did you mean Skerrow?" */
function meantFor(query: Query, meant: string, since: string): readonly (Node | string)[] {
  const link = element("a", { href: writeQuery({ ...query, words: meant }) }, meant);
  return ["No segment", since, " has ", bold(query.words), " in it. Did you mean ", link, "? "];
}

/** @param part how far a search went that is not at its end. */
function nothing(query: Query, within: string, part: readonly [string, string] | null): readonly (Node | string)[] {
  const what = query.words === "" ? [] : [" has ", bold(query.words), " in it"];
  if (part !== null) return ["No segment", part[0], ...what, part[1]];
  const tips = query.words.includes('"') ? "without quotation marks" : "fewer words, or another spelling";
  if (within === "") return ["No segment", ...what, `. Try ${tips}.`];
  const whole = { ...query, years: [], kinds: [], speaker: null, topic: null, place: null, corrected: false };
  const all = element("a", { href: writeQuery(whole) || location.pathname }, "Search everything");
  return ["No segment", ...what, `${within}. `, all, `, or try ${tips}.`];
}

const NAMES: Readonly<Record<IndexCard["is"], readonly [one: string, several: string]>> = {
  segment: ["segment", "segments"],
  edition: ["edition", "editions"],
  text: ["page", "pages"],
};
const KINDS = ["segment", "edition", "text"] as const;

/** "3 segments, 1 edition and 2 pages". */
function things(counts: Counts, more = ""): readonly (Node | string)[] {
  const named = KINDS.filter((is) => counts[is] > 0).map((is) => {
    const [one, several] = NAMES[is];
    return bold(`${counts[is].toLocaleString(language())} ${more}${counts[is] === 1 ? one : several}`);
  });
  return named.flatMap((node, at) => (at === 0 ? [node] : [at === named.length - 1 ? " and " : ", ", node]));
}

const total = ({ segment, edition, text }: Counts): number => segment + edition + text;

function countsOf(found: readonly Found[]): Counts {
  const count = (is: IndexCard["is"]) => found.filter(({ card }) => card.is === is).length;
  return { segment: count("segment"), edition: count("edition"), text: count("text") };
}

const language = (): string | undefined => document.documentElement.lang || undefined;

/** The first month of a tier in words: `2026-10` and `2025-09-to-10` begin with October 2026 and September 2025. */
function beginningOf(tier: string): string {
  const month = new Intl.DateTimeFormat(language(), { month: "long", year: "numeric", timeZone: "UTC" });
  return month.format(new Date(`${tier.slice(0, "2026-10".length)}-01T00:00:00Z`));
}

const narrowingOf = ({ years, speaker, topic, place, kinds, corrected }: Query): string =>
  [...years, speaker ?? [], topic ?? [], place ?? [], ...kinds, corrected ? "corrected" : []].flat().join(", ");
