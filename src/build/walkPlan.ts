import { listPath, namePath } from "../model/address.ts";
import { NAME_LISTS } from "../model/nameLists.ts";
import type { Page } from "../pages/types.ts";
import { type NameSpan, PAGE_EDITIONS, partWith, type YearName } from "../pages/walk.ts";
import { type NamePart, namePage, namesPage } from "../pages/walkPages.ts";
import type { Group, PlannedSite, PlannedYear } from "./groups.ts";
import { keyOf } from "./state.ts";

/** A page that is a group of its own. @param key what it depends on. */
export const pageGroup = (name: string, key: unknown, make: () => Page): Group => ({
  name,
  key: keyOf(key),
  make: async () => {
    const page = make();
    return [{ path: page.path, page }];
  },
});

interface NamedYear extends YearName {
  readonly year: PlannedYear;
}

/**
 * The pages of names, a group each, so that an evening makes those again that it is in. A name that is in more editions
 * than a page can show has its newest year there, and a page for each year before; a year that has more has its newest
 * month there, and a page for each month before. A year's or month's own page knows of nothing later, so that no evening
 * changes it.
 */
export function nameGroups({ context, years }: PlannedSite): readonly Group[] {
  const read = years.map((year) => ({ year, names: year.readNames() }));
  return NAME_LISTS.flatMap((list) => {
    const byName = new Map<string, NamedYear[]>();
    for (const { year, names } of read) {
      for (const [slug, own] of Object.entries(names[list])) {
        const before = byName.get(slug) ?? [];
        before.push({ ...own, year });
        byName.set(slug, before);
      }
    }
    const counted = [...byName].map(([slug, own]) => ({
      slug,
      name: own.at(-1)?.name ?? slug,
      segments: own.reduce((sum, { segments }) => sum + segments, 0),
    }));
    const groupsOf = ([slug, own]: readonly [string, readonly NamedYear[]]): readonly Group[] => {
      const partOf = ({ year }: NamedYear, month = "") =>
        partWith(year.readWalk(), list, slug).filter(({ aired }) => aired.startsWith(month));
      /** A page that shows the last of some spans, under an address; null: the name's own. */
      const group = (period: string | null, whole: Whole, shown: readonly NameSpan[], part: Part) =>
        pageGroup(namePath(list, slug, period), [whole, shown.map(({ digest }) => digest)], () =>
          namePage({ list, slug, name: shown.at(-1)?.name ?? slug, part: part(), period, ...whole }, context),
        );
      const yearGroups = (year: NamedYear, period: string | null, years: Whole["years"]): readonly Group[] => {
        const last = year.months.at(-1);
        if (last === undefined || year.months.length === 1)
          return [group(period, { years, months: [] }, [year], () => partOf(year))];
        const months = counts(year.months);
        return [
          group(period, { years, months }, [last], () => partOf(year, last.period)),
          ...year.months
            .slice(0, -1)
            .map((own) => group(own.period, { years: [], months: [] }, [own], () => partOf(year, own.period))),
        ];
      };
      const newest = own.at(-1);
      if (newest === undefined || own.length === 1) return own.flatMap((only) => yearGroups(only, null, []));
      if (own.reduce((sum, { editions }) => sum + editions, 0) <= PAGE_EDITIONS)
        return [group(null, { years: [], months: [] }, own, () => own.flatMap((year) => partOf(year)))];
      return [
        ...yearGroups(newest, null, counts(own)),
        ...own.slice(0, -1).flatMap((past) => yearGroups(past, past.period, [])),
      ];
    };
    return [
      pageGroup(listPath(list), counted, () => namesPage(list, counted, context)),
      ...[...byName].flatMap(groupsOf),
    ];
  });
}

/** What else of its name a page leads to. */
type Whole = Pick<NamePart, "years" | "months">;
type Part = () => NamePart["part"];

const counts = (spans: readonly NameSpan[]): Whole["years"] =>
  spans.map(({ period, segments, editions }) => ({ period, segments, editions }));
