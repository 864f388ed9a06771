import { isSilent } from "../../derive/propose/cutEdges.ts";
import { formatClock } from "../../model/clock.ts";
import type { Cut, Segment } from "../../model/episode.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";

export const wordsInBreak: Check = {
  name: "words-in-break",
  level: "blocks",
  group: "recogniser",
  reason:
    "In a break nobody speaks: words that stand there are the recogniser's own, or somebody's that got there by mistake. No page " +
    "and no caption shows them.",
  looks:
    "Captions of speech that lie for most of their time in a segment of the kind break, or in a cut that is one; and words of a " +
    "caption that its place over a cut leaves out of the recording's captions. In an episode that is published it only warns.",
  example: "“Stay with us awhile.” at 4:52, in the break.",
  accept:
    "Somebody did speak there, in a trailer for instance. What blocks can't be accepted: let the programme set it to `warns` first.",
  judge: (subject) => {
    const { episode } = subject;
    const cuts = episode.clock === "aired" ? episode.cuts : [];
    const byCue = subject.spoken.inCue;
    return [
      ...episode.segments.filter(({ kind }) => kind === "break").flatMap((own) => inSegment(own, subject)),
      ...cuts.filter((cut) => isSilent(cut, episode.segments)).flatMap((cut) => inCut(cut, byCue, subject)),
      ...[...byCue].flatMap(([cue, words]) => acrossCuts(cue, words, cuts, subject)),
    ].map((doubt) => (subject.published ? { ...doubt, level: "warns", mend: PUBLISHED_MEND } : doubt));
  },
};

const MEND =
  "Listen there. Delete what nobody said; where somebody did speak, correct the points of the break, or `cuts`.";
const PUBLISHED_MEND =
  "It is published, and never edited: correct the in point with `afterair correct`, or replace the text with `afterair publish --reissue`.";

type ByCue = ReadonlyMap<Word["cue"], readonly Word[]>;

function inSegment({ slug, title }: Segment, subject: Subject): readonly Doubt[] {
  const words = subject.spoken.inSegment.get(slug)?.words ?? [];
  return doubtOf(words, subject, says(words, `in the break “${title}”`), MEND);
}

/** Words in a cut that is a break, but that stand in no segment which is one. */
function inCut(cut: Cut, byCue: ByCue, subject: Subject): readonly Doubt[] {
  const isBreak = (slug: string | null) =>
    subject.episode.segments.some((own) => own.slug === slug && own.kind === "break");
  const words = [...byCue]
    .filter(([{ start, end }]) => cut.from <= start && end <= cut.to)
    .flatMap(([, own]) => own.filter(({ segment }) => !isBreak(segment)));
  const place = `in the break that was cut from ${formatClock(cut.from)} to ${formatClock(cut.to)}`;
  return doubtOf(words, subject, says(words, place), MEND);
}

/** Words of a caption over the edge of a cut that fall into it: the captions of the recording go without them. */
function acrossCuts(
  { start, end, pieces }: Word["cue"],
  words: readonly Word[],
  cuts: readonly Cut[],
  subject: Subject,
): readonly Doubt[] {
  const touched = cuts.filter(({ from, to }) => from < end && to > start);
  const covered = touched.reduce((sum, { from, to }) => sum + Math.min(end, to) - Math.max(start, from), 0);
  if (touched.length === 0 || covered >= end - start) return [];
  const length = pieces.reduce((sum, piece) => sum + piece.words.length, 0) || 1;
  const lost = words.filter(({ seconds, text }) => {
    const middle = seconds * 1000 + ((end - start) * text.length) / 2 / length;
    return touched.some(({ from, to }) => from <= middle && middle < to);
  });
  const cut = formatClock(touched[0]?.from ?? start);
  return doubtOf(
    lost,
    subject,
    says(lost, `in a caption that lies over the cut at ${cut}, and fall into it`),
    "End the caption at the cut and give the rest its own; or correct `cuts`.",
  );
}

const says = (words: readonly Word[], where: string): string =>
  words.length === 1
    ? `“${quoted(words)}” stands ${where}.`
    : `${words.length} words stand ${where}, from “${quoted(words.slice(0, 5))}”.`;
