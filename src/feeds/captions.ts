import { splitAtCuts } from "../derive/splitAtCuts.ts";
import { CAPTION_FIGURES, type CaptionFigures } from "../model/captions.ts";
import { formatClock } from "../model/clock.ts";
import type { CuePiece } from "../model/episode.ts";
import { toMediaEdge } from "../model/timeMap.ts";
import { captionWords } from "../record/captionWords.ts";
import type { ShownSegment, ShownText } from "../record/shown.ts";
import { composeCaptions, composeChapters } from "../webvtt/compose.ts";

/** A segment that the recording has, as a chapter. Times in milliseconds of the media file. */
export interface Chapter {
  readonly title: string;
  readonly start: number;
  readonly end: number;
  /** False for what may not be played: it has its place, but nobody is led to it. */
  readonly listed: boolean;
}

/**
 * Captions of the recording, in its own time: what was cut or may not be given is not there. Cues in which a correction
 * replaced words are laid into lines anew.
 */
export function captionsVtt(shown: ShownText, figures: CaptionFigures = CAPTION_FIGURES): string {
  const cues = shown.segments
    .flatMap((segment) => segment.cues)
    .map(({ id, start, end, settings, pieces }) => {
      const own = pieces.map((piece): CuePiece => {
        const { voice, proposed, language } = piece;
        return { voice, ...(proposed === true ? { proposed } : {}), language, words: captionWords(piece, figures) };
      });
      return { id, start, end, settings, pieces: own };
    });
  const spoken = splitAtCuts(cues, shown.episode).flatMap((cue) => {
    const pieces = cue.pieces.filter(({ words }) => words.trim() !== "");
    return pieces.length > 0 ? [{ ...cue, pieces }] : [];
  });
  return composeCaptions({ cues: spoken.toSorted((a, b) => a.start - b.start) });
}

export function chaptersOf(shown: ShownText): readonly Chapter[] {
  if (shown.episode.withdrawn) return [];
  return shown.segments.flatMap(({ segment, span, holding }) =>
    span === null
      ? []
      : [
          {
            title: segment.title,
            start: span.from,
            end: span.to,
            listed: !holding.withheld && !segment.withdrawn,
          },
        ],
  );
}

export const chaptersVtt = (shown: ShownText): string => composeChapters({ cues: chaptersOf(shown) });

/** Chapters in the JSON of the open podcast namespace (version 1.2): times in seconds of the media file. */
export function chaptersJson(shown: ShownText): string {
  const chapters = chaptersOf(shown).map(({ title, start, end, listed }) => ({
    startTime: start / 1000,
    endTime: end / 1000,
    title,
    ...(listed ? {} : { toc: false }),
  }));
  return `${JSON.stringify({ version: "1.2.0", chapters }, null, 1)}\n`;
}

/** The words alone, under the title of each segment, with the names of the speakers; for readers and for quoting. */
export function plainText(shown: ShownText, programme: string, url: string): string {
  const { episode, date } = shown;
  if (episode.withdrawn) return `${programme}, ${date}\n${url}\n\nThis edition has been withdrawn.\n`;
  const head = [`${programme}, ${date}`, episode.title, url].join("\n");
  return `${[head, ...shown.segments.filter(hasSomething).map((own) => segmentText(own, shown))].join("\n\n\n")}\n`;
}

const hasSomething = ({ segment, cues, span }: ShownSegment): boolean =>
  segment.kind !== "break" || span !== null || cues.length > 0;

function segmentText(own: ShownSegment, shown: ShownText): string {
  const { segment, span, speech: turns, holding } = own;
  if (segment.withdrawn) return "[Withdrawn]";
  const at = span === null ? "not in the recording" : formatClock(toMediaEdge(segment.in, shown.episode));
  const heading = `${segment.title} (${at})`;
  // Paragraphs of a turn have no label either: one that nobody is named for must not read as the last speaker's.
  const nobody = turns.some((turn) => turn.is === "turn" && turn.voice !== null) ? "Speaker not named: " : "";
  const speech = turns.map((turn) => {
    if (turn.is === "sound") return `[${turn.text}]`;
    const paragraphs = turn.paragraphs.map(({ pieces }) =>
      pieces.map(({ piece }) => piece.words.replace(/\s+/g, " ").trim()).join(" "),
    );
    const guess = turn.proposed === true ? ", proposed" : "";
    return `${turn.voice === null ? nobody : `${turn.voice}${guess}: `}${paragraphs.join("\n\n")}`;
  });
  return [heading, ...(holding.withheld && !holding.words ? ["[Withheld]"] : speech)].join("\n\n");
}
