import { absolute, CORRECTIONS_PATH, correctionPath, fileOf } from "../model/address.ts";
import { CORRECTION_KINDS } from "../model/episode.ts";
import { grouped } from "../model/grouped.ts";
import { correctionKindName } from "../model/kinds.ts";
import type { EpisodeSummary } from "./edition.ts";
import { correctionsFeedLink, type Setting } from "./site.ts";
import type { CorrectionsPage, Entry, Page } from "./types.ts";
import { countedInFigures, dateLong, monthOf, monthTitle } from "./words.ts";

/** All corrections of the archive, newest first; of one moment, by id. */
export function entriesOf(summaries: readonly EpisodeSummary[]): readonly Entry[] {
  return summaries
    .flatMap(({ entries }) => entries)
    .sort((a, b) => Date.parse(b.dated) - Date.parse(a.dated) || (a.ref < b.ref ? 1 : -1));
}

/** The log of corrections and each correction's own page. */
export function correctionPages(entries: readonly Entry[], setting: Setting): readonly Page[] {
  const { site, addresses } = setting;
  const own = entries.map((entry): Page => {
    const path = correctionPath(entry.ref);
    return {
      kind: "correction",
      path: fileOf(path),
      page: {
        site,
        title: `${entry.kindName}, ${dateLong(entry.dated, setting.calendar)}: ${entry.about.title}`,
        description: entry.plain,
        canonical: absolute(addresses, path),
        structured: null,
        entry,
        place: { title: entry.about.title, href: entry.about.href },
      },
    };
  });
  return [{ kind: "corrections", path: fileOf(CORRECTIONS_PATH), page: logPage(entries, setting) }, ...own];
}

function logPage(entries: readonly Entry[], setting: Setting): CorrectionsPage {
  const first = entries.at(-1);
  const months = grouped(entries, ({ dated }) => monthOf(dated, setting.calendar));
  const count = countedInFigures(entries.length, "correction", "corrections");
  return {
    site: setting.site,
    title: "Corrections",
    description: `Everything that ${setting.programme.title} has corrected, newest first.`,
    canonical: absolute(setting.addresses, CORRECTIONS_PATH),
    structured: null,
    alternates: [correctionsFeedLink(setting)],
    dateline:
      first === undefined ? "No corrections so far" : `${count} since ${dateLong(first.dated, setting.calendar)}`,
    kinds: [
      { kind: "all", name: "All kinds", count: entries.length },
      ...CORRECTION_KINDS.map((kind) => ({
        kind,
        name: correctionKindName(kind),
        count: entries.filter((entry) => entry.kind === kind).length,
      })),
    ],
    months: [...months].map(([id, own]) => ({ id: `m-${id}`, title: monthTitle(id, setting.calendar), entries: own })),
  };
}
