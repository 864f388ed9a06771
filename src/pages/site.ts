import {
  ABOUT_PATH,
  type Addresses,
  ARCHIVE_PATH,
  addressesOf,
  CORRECTIONS_FEED,
  CORRECTIONS_PATH,
  href,
  NOTICES_PATH,
  RECORD_PATH,
  SEARCH_PATH,
  textPagePath,
} from "../model/address.ts";
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

/** Paths of what the site loads, without a leading slash. */
export interface AssetPaths {
  readonly style: string;
  readonly mark: string;
  readonly fonts: readonly string[];
  readonly player: string;
  readonly search: string;
  readonly poster: string;
}

/** For the head of pages that speak of corrections. */
export const correctionsFeedLink = ({ addresses }: PageContext) => ({
  title: "Corrections",
  href: href(addresses, CORRECTIONS_FEED),
  type: "application/atom+xml",
});

export function pageContextOf(programme: Programme, assets: AssetPaths): PageContext {
  const addresses = addressesOf(programme.url);
  const link = (path: string) => href(addresses, path);
  const { at, days } = programme.slot;
  return {
    programme,
    addresses,
    calendar: { zone: programme.timezone, language: programme.language },
    roles: new Map(programme.names.flatMap(({ name, role }) => (role === null ? [] : [[name, role] as const]))),
    site: {
      programme: programme.title,
      station: programme.station,
      language: programme.language,
      slotLine: `is broadcast on ${days} at ${at} by ${programme.station}.`,
      url: programme.url,
      home: link(""),
      archive: link(ARCHIVE_PATH),
      corrections: link(CORRECTIONS_PATH),
      search: link(SEARCH_PATH),
      about: link(ABOUT_PATH),
      record: link(RECORD_PATH),
      notices: link(NOTICES_PATH),
      textPages: [...programme.textPages]
        .sort((a, b) => a.order - b.order || (a.slug < b.slug ? -1 : 1))
        .map(({ title, slug }) => ({ title, href: link(textPagePath(slug)) })),
      reports: programme.reports,
      policy: contentPolicy(programme.mediaHosts),
      poster: link(assets.poster),
      posterAlt: programme.posterAlt,
      assets: {
        style: link(assets.style),
        mark: link(assets.mark),
        fonts: assets.fonts.map(link),
        player: link(assets.player),
        search: link(assets.search),
      },
    },
  };
}
