import { sharesOf } from "../derive/shares.ts";
import { absolute, type EPISODE_FILES, episodeFilePath, href, mediaPath, namePath } from "../model/address.ts";
import { formatClock } from "../model/clock.ts";
import type { Cut } from "../model/episode.ts";
import type { Unheard } from "../record/given.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";
import type { PageContext } from "./site.ts";
import type { EpisodePage, Player, Proposals, Share, Skip } from "./types.ts";
import { namesOf } from "./walkEpisode.ts";
import { dateLong, dayOf } from "./words.ts";

/** Where the media of an episode stands: a full address as it is, a file beside episode.md under the episode's address. */
export const mediaHref = (src: string, id: string, context: PageContext): string =>
  src.startsWith("https:") ? src : href(context.addresses, mediaPath(id, encodeURIComponent(src)));

export function playerOf(shown: ShownEpisode, from: number, to: number, context: PageContext): Player {
  const { episode } = shown;
  const own = (file: keyof typeof EPISODE_FILES) => href(context.addresses, episodeFilePath(episode.id, file));
  return {
    giving: shown.giving,
    hasPicture: shown.video,
    label: `${context.programme.title}, ${dayOf(episode.aired, context.calendar).long}`,
    media: episode.media.map(({ src, type }) => ({ src: mediaHref(src, episode.id, context), type })),
    captions: own("captions"),
    captionsLabel: languageName(context.programme.language),
    chapters: own("chapters"),
    text: own("plainText"),
    skips: shown.unheard.map((own) => skipOf(own, shown, context)),
    from,
    to,
  };
}

const LANGUAGES = new Intl.DisplayNames(["en"], { type: "language" });

/** English name of a language, as the rest of the page is in English; regions left out: `English`. */
const languageName = (tag: string): string => LANGUAGES.of(new Intl.Locale(tag).language) ?? tag;

function skipOf({ span, segment: slug }: Unheard, { segments }: ShownEpisode, context: PageContext): Skip {
  const stretch = { from: span.from / 1000, to: span.to / 1000 };
  const own = segments.find(({ segment }) => segment.slug === slug);
  if (own === undefined || own.segment.withdrawn) return { ...stretch, why: "Withdrawn" };
  const { until = null, holder = null, sound = null } = own.segment.rights ?? {};
  if (!own.holding.withheld && sound === "silenced") return { ...stretch, why: "The recording is silent there" };
  const when = until === null ? "Withheld" : `Withheld until ${dateLong(until, context.calendar)}`;
  return { ...stretch, why: holder === null ? when : `${when}: ${holder}` };
}

/** The people whom some turn is given to by a guess. */
const proposedVoices = (segments: readonly ShownSegment[]): ReadonlySet<string | null> =>
  new Set(
    segments.flatMap(({ speech }) =>
      speech.flatMap((one) => (one.is === "turn" && one.proposed === true ? [one.voice] : [])),
    ),
  );

/** How much of some segments nobody has accepted yet; null: nothing. `cuts`: those that belong to the page. */
export function proposalsOf(segments: readonly ShownSegment[], cuts: readonly Cut[]): Proposals | null {
  const speakers = proposedVoices(segments).size;
  const points = segments.filter(({ segment }) => segment.proposed === true).length;
  const guessed = cuts.filter(({ proposed }) => proposed === true).length;
  return speakers + points + guessed === 0 ? null : { speakers, points, cuts: guessed };
}

export function sharesIn(segments: readonly ShownSegment[], context: PageContext): readonly Share[] {
  const proposed = proposedVoices(segments);
  const pages = new Map(
    segments.flatMap((own) => namesOf(own).speakers.map(({ name, slug }) => [name, slug] as const)),
  );
  const hrefOf = (voice: string) => {
    const slug = pages.get(voice);
    return slug === undefined ? null : href(context.addresses, namePath("speakers", slug, null));
  };
  return sharesOf(segments.flatMap(({ speech }) => speech)).map(({ voice, ms, fraction }) => ({
    who: voice,
    href: hrefOf(voice),
    proposed: proposed.has(voice),
    seconds: Math.round(ms / 1000),
    length: formatClock(Math.round(ms / 1000) * 1000),
    fraction: Math.round(fraction * 1000) / 1000,
    percent: `${Math.round(fraction * 100)}%`,
  }));
}

/** Address for "report an error": the script adds the moment and the words. null: the programme gives none. */
export function reportHref(shown: ShownEpisode, segment: string | null, context: PageContext): string | null {
  const { reports } = context.programme;
  if (reports === null) return null;
  const { episode } = shown;
  const about = `${context.programme.title}, ${dateLong(episode.aired, context.calendar)}`;
  const address = new URL(reports);
  if (address.protocol === "mailto:") {
    return `${address.href}?subject=${encodeURIComponent(`Error in ${about}`)}`;
  }
  address.searchParams.set("episode", episode.id);
  if (segment !== null) address.searchParams.set("segment", segment);
  return address.href;
}

export function filesOf(shown: ShownEpisode, context: PageContext): EpisodePage["files"] {
  const own = (file: keyof typeof EPISODE_FILES) => href(context.addresses, episodeFilePath(shown.episode.id, file));
  return [
    { title: "Captions", ending: ".vtt", href: own("captions") },
    { title: "Plain text", ending: ".txt", href: own("plainText") },
    { title: "Data", ending: ".json", href: own("data") },
  ];
}

export function citationOf(
  title: string,
  path: string,
  shown: ShownEpisode,
  context: PageContext,
): EpisodePage["citation"] {
  const { programme } = context;
  const day = dateLong(shown.episode.aired, context.calendar);
  return {
    text: [`“${title}”`, programme.title, ...(programme.station === null ? [] : [programme.station]), day].join(", "),
    url: absolute(context.addresses, path),
  };
}
