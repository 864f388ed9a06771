import {
  ABOUT_PATH,
  type Addresses,
  ARCHIVE_PATH,
  addressesOf,
  CORRECTIONS_FEED,
  CORRECTIONS_PATH,
  EPISODES_FEED,
  href,
  NOTICES_PATH,
  PLACES_PATH,
  RECORD_PATH,
  SEARCH_PATH,
  SPEAKERS_PATH,
  STORIES_PATH,
  TOPICS_PATH,
  textPagePath,
} from "../model/address.ts";
import { grouped } from "../model/grouped.ts";
import { contentPolicy } from "../model/policy.ts";
import type { Programme } from "../model/programme.ts";
import type { Site } from "./types.ts";
import type { Calendar } from "./words.ts";

/** What every page builder is given. */
export interface PageContext {
  readonly programme: Programme;
  readonly addresses: Addresses;
  readonly calendar: Calendar;
  readonly site: Site;
  /** The role of a person in the register, by name. */
  readonly roles: ReadonlyMap<string, string>;
}

/** When and by whom the programme is broadcast, in words that go after its name; null: nothing is known. */
export function slotLine({ slots, station }: Pick<Programme, "slots" | "station">): string | null {
  const days = grouped(slots, (slot) => slot.days);
  const times = [...days].map(([on, own]) => `on ${on} at ${listed(own.map(({ at }) => at))}`);
  if (times.length === 0 && station === null) return null;
  return `${["is broadcast", ...(times.length === 0 ? [] : [listed(times)]), ...(station === null ? [] : [`by ${station}`])].join(" ")}.`;
}

/** `a`, `a and b`, `a, b and c`. */
const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;

/** Paths of what the site loads, without a leading slash. */
export interface AssetPaths {
  readonly style: string;
  readonly print: string;
  readonly mark: string;
  readonly fonts: readonly string[];
  readonly player: string;
  readonly search: string;
  readonly quote: string;
  readonly counts: string;
  readonly suggest: string;
  readonly quoteStyle: string;
  readonly searchStyle: string;
  readonly poster: string | null;
}

/** For whoever needs no file of the site: addresses of pages and lines of the log don't depend on what its assets are called. */
export const NO_ASSETS: AssetPaths = {
  style: "",
  print: "",
  mark: "",
  fonts: [],
  player: "",
  search: "",
  quote: "",
  counts: "",
  suggest: "",
  quoteStyle: "",
  searchStyle: "",
  poster: null,
};

/** For the head of pages that speak of corrections. */
export const correctionsFeedLink = ({ addresses }: PageContext) => ({
  title: "Corrections",
  href: href(addresses, CORRECTIONS_FEED),
  type: "application/atom+xml",
});

export function pageContextOf(programme: Programme, assets: AssetPaths): PageContext {
  const addresses = addressesOf(programme.url);
  const link = (path: string) => href(addresses, path);
  return {
    programme,
    addresses,
    calendar: { zone: programme.timezone, language: programme.language },
    roles: new Map(programme.names.flatMap(({ name, role }) => (role === null ? [] : [[name, role] as const]))),
    site: {
      programme: programme.title,
      station: programme.station,
      language: programme.language,
      slotLine: slotLine(programme),
      url: programme.url,
      home: link(""),
      archive: link(ARCHIVE_PATH),
      corrections: link(CORRECTIONS_PATH),
      search: link(SEARCH_PATH),
      speakers: link(SPEAKERS_PATH),
      topics: link(TOPICS_PATH),
      places: link(PLACES_PATH),
      stories: link(STORIES_PATH),
      record: link(RECORD_PATH),
      notices: link(NOTICES_PATH),
      textPages: [
        { title: `About ${programme.title}`, href: link(ABOUT_PATH) },
        ...[...programme.textPages]
          .sort((a, b) => a.order - b.order || (a.slug < b.slug ? -1 : 1))
          .map(({ title, slug }) => ({ title, href: link(textPagePath(slug)) })),
      ],
      follow: [
        { title: "the programme", href: link(EPISODES_FEED) },
        { title: "corrections", href: link(CORRECTIONS_FEED) },
      ],
      reports: programme.reports,
      policy: contentPolicy(programme.mediaHosts),
      poster:
        assets.poster === null || programme.poster === null
          ? null
          : { src: link(assets.poster), alt: programme.poster.alt },
      assets: {
        style: link(assets.style),
        print: link(assets.print),
        mark: link(assets.mark),
        fonts: assets.fonts.map(link),
        player: link(assets.player),
        search: link(assets.search),
        quote: link(assets.quote),
        counts: link(assets.counts),
        suggest: link(assets.suggest),
        quoteStyle: link(assets.quoteStyle),
        searchStyle: link(assets.searchStyle),
      },
    },
  };
}
