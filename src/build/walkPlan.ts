import { listPath, namePath } from "../model/address.ts";
import { NAME_LISTS } from "../model/nameLists.ts";
import type { Page } from "../pages/types.ts";
import { partWith, type YearName } from "../pages/walk.ts";
import { namePage, namesPage } from "../pages/walkPages.ts";
import type { Group, PlannedSite, PlannedYear } from "./groups.ts";
import { keyOf } from "./state.ts";

/** How many editions a name's page shows at most from more than one year. Common practice, no source. */
const WHOLE = 60;

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
 * than a page can show has its newest year there, and a page for each year before: these know nothing of later years, so
 * that no evening changes them.
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
      const name = own.at(-1)?.name ?? slug;
      const partOf = ({ year }: NamedYear) => partWith(year.readWalk(), list, slug);
      const path = (year: string | null) => namePath(list, slug, year);
      const isWhole = own.length < 2 || own.reduce((sum, { editions }) => sum + editions, 0) <= WHOLE;
      if (isWhole) {
        const whole = () => namePage({ list, slug, name, part: own.flatMap(partOf), year: null, years: [] }, context);
        return [
          pageGroup(
            path(null),
            own.map(({ digest }) => digest),
            whole,
          ),
        ];
      }
      const [earlier, newest] = [own.slice(0, -1), own.slice(-1)];
      const counts = own.map(({ year, segments, editions }) => ({ year: year.facts.year, segments, editions }));
      const front = () =>
        namePage({ list, slug, name, part: newest.flatMap(partOf), year: null, years: counts }, context);
      return [
        pageGroup(path(null), [counts, newest.map(({ digest }) => digest)], front),
        ...earlier.map((past) => {
          const { year } = past.year.facts;
          const make = () => namePage({ list, slug, name: past.name, part: partOf(past), year, years: [] }, context);
          return pageGroup(path(year), past.digest, make);
        }),
      ];
    };
    return [
      pageGroup(listPath(list), counted, () => namesPage(list, counted, context)),
      ...[...byName].flatMap(groupsOf),
    ];
  });
}
