import { does } from "../../model/correctionKinds.ts";
import type { Correction, Episode, Withdrawal } from "../../model/episode.ts";
import { clockMs } from "../../model/units.ts";
import type { Recorded } from "../../record/enter.ts";
import type { LaidCue, LaidEpisode, LaidSegment } from "../../record/laid.ts";
import { layCorrections } from "../../record/lay.ts";
import { goesWith } from "../../record/stretch.ts";
import { withdrawalsIn } from "../../record/withdraw.ts";
import { type Sentence, spokenIn, writtenSentence } from "../speech.ts";
import type { WithdrawnText } from "./matter.ts";

/**
 * What the withdrawals of an episode took away, as far as its files still have it: words that were cut out of them since
 * are not looked for anywhere else. A segment of which nothing that was said is left is known by its title and summary,
 * its slug, its topics and the withdrawal's note.
 * @param on ISO 8601: the corrections of then. @param presenters who is named every evening, besides those credited.
 */
export function withdrawnTextsOf(
  episode: Episode,
  on: string,
  recorded: Recorded,
  presenters: readonly string[],
): readonly WithdrawnText[] {
  const withdrawn = withdrawalsIn(episode.corrections);
  if (withdrawn.episode === null && withdrawn.segments.size === 0) return [];
  const corrections = episode.corrections.filter((own) => !does(own, "takes-away"));
  const laid = layCorrections({ ...episode, corrections }, on, { reissued: recorded.reissued, withdrawn: [] });
  const credits = [...presenters, ...laid.segments.flatMap(({ by }) => by)];
  const lay = (withdrawal: Withdrawal): WithdrawnText => {
    const own = laid.segments.filter(({ slug }) => withdrawal.segment === null || slug === withdrawal.segment);
    const stretches = [
      ...own.flatMap(({ stood }) => stood),
      ...recorded.withdrawn.filter(({ segment }) => segment === withdrawal.segment),
    ];
    const isAll = withdrawal.segment === null;
    const cues = isAll ? laid.cues : laid.cues.filter((cue) => stretches.some((one) => goesWith(cue, one)));
    return textOf({ laid, cues, titled: isAll ? [laid, ...own] : own, withdrawal, credits });
  };
  return [...(withdrawn.episode === null ? withdrawn.segments.values() : [withdrawn.episode])].map(lay);
}

interface Taken {
  readonly laid: LaidEpisode;
  readonly cues: readonly LaidCue[];
  /** What had a title, a summary and topics of its own. */
  readonly titled: readonly (LaidEpisode | LaidSegment)[];
  readonly withdrawal: Withdrawal;
  readonly credits: readonly string[];
}

function textOf({ laid, cues, titled, withdrawal, credits }: Taken): WithdrawnText {
  const { id, segment, place, note } = withdrawal;
  const published = cues.map(asPublished);
  const isChanged = published.some((cue, n) => cue !== cues[n]);
  const spoken = [cues, ...(isChanged ? [published] : [])].map((own) => sentencesOf(own, laid));
  const about = titled.flatMap((own) => [
    own.title,
    own.summary ?? "",
    ...own.changes.flatMap(({ correction, was }) => (isText(correction) ? [was] : [])),
  ]);
  const isGone = spoken.every((sentences) => sentences.length === 0);
  const rest = isGone ? [...titled.flatMap(topicsOf), segment ?? "", note] : [];
  // Texts of what is withdrawn have no place that anybody is led to.
  const nowhere = { at: place, in: clockMs(0), slug: null };
  return {
    from: { episode: laid.id, segment, withdrawal: id, at: place },
    spoken,
    about: [...about, ...rest].flatMap((text) => writtenSentence(text, nowhere)),
    credits,
  };
}

const topicsOf = (own: LaidEpisode | LaidSegment): readonly string[] => ("topics" in own ? own.topics : []);
const isText = (correction: Correction): boolean =>
  does(correction, "replaces-field") && (correction.field === "title" || correction.field === "summary");

const sentencesOf = (cues: readonly LaidCue[], laid: LaidEpisode): readonly Sentence[] =>
  spokenIn({ ...laid, cues }).sentences;

/** A cue with the words as first published; itself where no correction replaced any. */
function asPublished(cue: LaidCue): LaidCue {
  if (cue.pieces.every(({ runs }) => runs.every(({ mark }) => (mark?.was ?? null) === null))) return cue;
  const pieces = cue.pieces.map((piece) => {
    const words = piece.runs.map(({ text, mark }) => mark?.was ?? text).join("");
    return { ...piece, words, runs: [{ text: words, mark: null }] };
  });
  return { ...cue, pieces };
}
