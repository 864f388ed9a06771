import { absolute, correctionPath, correctionsOfPath, fileOf, href } from "../model/address.ts";
import { CORRECTION_KINDS, type CorrectionKind, correctionKindName, kindDoes } from "../model/correctionKinds.ts";
import { grouped } from "../model/grouped.ts";
import type { YearFacts } from "./facts.ts";
import { correctionsFeedLink, type PageContext } from "./site.ts";
import type { CorrectionsPage, Entry, Narrowing, Page } from "./types.ts";
import { countedInFigures, dateLong, monthOf, monthTitle } from "./words.ts";

/** All corrections of the archive, newest first; of one moment, by id. */
export function entriesOf(years: readonly YearFacts[]): readonly Entry[] {
  return years
    .flatMap(({ entries }) => entries)
    .sort((a, b) => Date.parse(b.dated) - Date.parse(a.dated) || (a.ref < b.ref ? 1 : -1));
}

/** How many of the newest corrections a page shows that isn't a year's; the years' pages have all. */
const NEWEST = 100;

/** The log of corrections, whole and narrowed by year and kind. @param entries all, as `entriesOf` has them. */
export function correctionLog(entries: readonly Entry[], context: PageContext): readonly Page[] {
  const byYear = grouped(entries, ({ dated }) => monthOf(dated, context.calendar).slice(0, 4));
  const years = [...byYear.keys()];
  const piles = new Map([null, ...years].map((year) => [year, pileOf(year === null ? entries : byYear.get(year))]));
  return [...piles].flatMap(([year, pile]) =>
    [null, ...CORRECTION_KINDS].flatMap((kind): readonly Page[] => {
      const own = kind === null ? pile.all : (pile.ofKind.get(kind) ?? []);
      if (own.length === 0 && (year !== null || kind !== null)) return [];
      const path = fileOf(correctionsOfPath(year, kind));
      return [{ kind: "corrections", path, page: logPage({ year, kind, own, piles, newestYear: years[0] }, context) }];
    }),
  );
}

/** The corrections of a year, or all, and those of each kind among them. */
interface Pile {
  readonly all: readonly Entry[];
  readonly ofKind: ReadonlyMap<string, readonly Entry[]>;
}
const pileOf = (all: readonly Entry[] = []): Pile => ({ all, ofKind: grouped(all, ({ kind }) => kind) });

/** A correction's own page. */
export function correctionPage(entry: Entry, { site, addresses }: PageContext): Page {
  const heading = headingOf(entry);
  const path = correctionPath(entry.ref);
  return {
    kind: "correction",
    path: fileOf(path),
    page: {
      site,
      title: heading,
      description: entry.plain,
      canonical: absolute(addresses, path),
      structured: null,
      heading,
      entry,
    },
  };
}

/** What a correction is about; of what is withdrawn no name is left, only when it was broadcast. */
function headingOf({ kind, kindName, about, statement: { aired, isGone, isWhole } }: Entry): string {
  const what = isWhole ? `the edition of ${aired}` : `a segment of ${aired}`;
  if (!isGone) return `${kindName}: ${about.title}, ${aired}`;
  return kindDoes(kind, "takes-away") ? `Withdrawn: ${what}` : `${kindName}: ${what}, withdrawn since`;
}

/** A page of the log: of one year, one kind, both or neither. */
interface Log {
  readonly year: string | null;
  readonly kind: CorrectionKind | null;
  readonly own: readonly Entry[];
  readonly piles: ReadonlyMap<string | null, Pile>;
  readonly newestYear: string | undefined;
}

function logPage({ year, kind, own, piles, newestYear }: Log, context: PageContext): CorrectionsPage {
  const { calendar, addresses } = context;
  const shown = year === null ? own.slice(0, NEWEST) : own;
  const first = own.at(-1);
  const months = grouped(shown, ({ dated }) => monthOf(dated, calendar));
  const count = countedInFigures(own.length, "correction", "corrections");
  const name = kind === null ? "Corrections" : `Corrections: ${correctionKindName(kind).toLowerCase()}`;
  const heading = year === null ? name : `${name}, ${year}`;
  // The years before the newest don't say what changes with every new correction: their pages would change with it.
  const isClosed = year !== null && year !== newestYear;
  const narrowed = (to: string | null, ofKind: CorrectionKind | null, title: string): Narrowing => {
    const pile = piles.get(to);
    const some = (ofKind === null ? pile?.all : pile?.ofKind.get(ofKind)) ?? [];
    return {
      name: title,
      kind: ofKind,
      count: isClosed && (to === null || to === newestYear) ? null : some.length,
      href: href(addresses, correctionsOfPath(to, isClosed && to === newestYear ? null : ofKind)),
      current: to === year && ofKind === kind,
    };
  };
  return {
    site: context.site,
    title: heading,
    description: `What ${context.programme.title} has corrected, newest first.`,
    canonical: absolute(addresses, correctionsOfPath(year, kind)),
    structured: null,
    alternates: [correctionsFeedLink(context)],
    heading,
    dateline: first === undefined ? "No corrections so far" : `${count} since ${dateLong(first.dated, calendar)}`,
    kinds: [
      narrowed(year, null, "All kinds"),
      ...CORRECTION_KINDS.map((one) => narrowed(year, one, correctionKindName(one))),
    ],
    years: [
      narrowed(null, kind, "All years"),
      ...[...piles.keys()].flatMap((one) => (one === null ? [] : [narrowed(one, kind, one)])),
    ],
    newest: shown.length < own.length ? shown.length : null,
    feed: correctionsFeedLink(context).href,
    months: [...months].map(([id, some]) => ({ id: `m-${id}`, title: monthTitle(id, calendar), entries: some })),
  };
}
