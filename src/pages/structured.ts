import { markdownWords } from "../derive/markdown.ts";
import {
  ABOUT_PATH,
  absolute,
  CORRECTIONS_POLICY_PATH,
  correctionPath,
  episodeFilePath,
  episodePath,
  segmentPath,
} from "../model/address.ts";
import { isoDuration } from "../model/clock.ts";
import { toMediaEdge } from "../model/timeMap.ts";
import type { GivenLaid } from "../record/given.ts";
import type { ShownEpisode, ShownSegment } from "../record/shown.ts";
import { isListed } from "./order.ts";
import { mediaHref } from "./playable.ts";
import type { PageContext } from "./site.ts";

/** JSON that can stand in a script element: no `<` can end it. */
const embedded = (value: object): string => JSON.stringify(value).replaceAll("<", "\\u003c");

/** schema.org's account of an episode: RadioEpisode or TVEpisode with its clips and corrections (schema.org 30.0). */
export function structuredEpisode(shown: ShownEpisode, context: PageContext): string {
  const { episode } = shown;
  const { programme, addresses } = context;
  const kind = shown.video ? "TV" : "Radio";
  const own = (path: string) => absolute(addresses, episodePath(episode.id) + path);
  const dates = [episode.aired, ...episode.laid.map(({ correction }) => correction.dated)];
  return embedded({
    "@context": "https://schema.org",
    "@type": `${kind}Episode`,
    url: own(""),
    name: episode.title,
    ...(episode.summary === null ? {} : { description: episode.summary }),
    inLanguage: programme.language,
    datePublished: episode.aired,
    dateModified: latest(dates),
    duration: isoDuration(episode.duration),
    partOfSeries: { "@type": `${kind}Series`, name: programme.title, url: absolute(addresses, "") },
    publisher: {
      "@type": "NewsMediaOrganization",
      name: programme.station ?? programme.title,
      url: absolute(addresses, ABOUT_PATH),
      correctionsPolicy: absolute(addresses, CORRECTIONS_POLICY_PATH),
    },
    ...(shown.giving === "whole" ? recordings(shown, context) : {}),
    hasPart: shown.segments
      .filter((one) => isListed(one) && one.span !== null)
      .map((one) => clip(one, kind, shown, context)),
    ...corrections(episode.laid, context),
  });
}

/** The recording as a file: only where the file holds nothing that may not be given. */
function recordings({ episode }: ShownEpisode, context: PageContext): object {
  const { addresses } = context;
  const captions = absolute(addresses, episodeFilePath(episode.id, "captions"));
  return {
    associatedMedia: episode.media.map(({ src, type }) => ({
      "@type": type.startsWith("video/") ? "VideoObject" : "AudioObject",
      contentUrl: new URL(mediaHref(src, episode.id, context), addresses.url).href,
      encodingFormat: type,
      caption: { "@type": "MediaObject", contentUrl: captions, encodingFormat: "text/vtt" },
    })),
  };
}

export function structuredSegment(own: ShownSegment, shown: ShownEpisode, context: PageContext): string {
  const { episode } = shown;
  const kind = shown.video ? "TV" : "Radio";
  const laid = own.corrections.map((one) => one.laid);
  return embedded({
    "@context": "https://schema.org",
    ...clip(own, kind, shown, context),
    inLanguage: context.programme.language,
    datePublished: episode.aired,
    dateModified: latest([episode.aired, ...laid.map(({ correction }) => correction.dated)]),
    partOfEpisode: {
      "@type": `${kind}Episode`,
      name: episode.title,
      url: absolute(context.addresses, episodePath(episode.id)),
    },
    ...corrections(laid, context),
  });
}

function clip(own: ShownSegment, kind: string, shown: ShownEpisode, context: PageContext): object {
  const { segment } = own;
  return {
    "@type": `${kind}Clip`,
    name: own.segment.title,
    url: absolute(context.addresses, segmentPath(shown.episode.id, segment.slug)),
    ...(segment.summary === null || segment.withdrawn ? {} : { description: segment.summary }),
    startOffset: toMediaEdge(segment.in, shown.episode) / 1000,
    endOffset: toMediaEdge(segment.out, shown.episode) / 1000,
  };
}

function corrections(laid: readonly GivenLaid[], context: PageContext): object {
  if (laid.length === 0) return {};
  return {
    correction: laid.map(({ correction }) => ({
      "@type": "CorrectionComment",
      text: markdownWords(correction.note),
      datePublished: correction.dated,
      url: absolute(context.addresses, correctionPath(correction.id)),
    })),
  };
}

/** The latest of some ISO dates with offsets, as it was written. */
function latest(dates: readonly string[]): string {
  return dates.reduce((last, date) => (Date.parse(date) > Date.parse(last) ? date : last));
}
