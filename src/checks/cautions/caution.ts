import { CAUTIONS, type Caution, type SegmentKind } from "../../model/episode.ts";
import { grouped } from "../../model/grouped.ts";
import type { LaidSegment } from "../../record/laid.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { finderOf } from "../finder.ts";
import { quoted, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { watchedWords } from "../watch.ts";
import { CAUTION_SAYS, CAUTION_WORDS } from "./lists.ts";

/** These only announce what a segment with its own label tells. */
const ANNOUNCES: ReadonlySet<SegmentKind> = new Set(["headlines", "close"]);
/** Who is younger is a minor: UN Convention on the Rights of the Child (1989), article 1. */
const ADULT = 18;

const NAMED: Readonly<Record<Caution, string>> = {
  court: "a court case",
  "self-harm": "self-harm",
  minors: "people under 18",
  graphic: "graphic matter",
};

const EXAMPLES: Readonly<Record<Caution, string>> = {
  court: "“pleaded guilty to one charge” in a reader without `cautions: [court]`.",
  "self-harm": "“took his own life” in an interview without `cautions: [self-harm]`.",
  minors: "“a boy aged 12” in a package without `cautions: [minors]`.",
  graphic: "“stabbed to death” in a reader without `cautions: [graphic]`.",
};

/** A check for each label, all of one kind. */
export const CAUTION_CHECKS: readonly Check[] = CAUTIONS.map((caution) => ({
  name: `caution-${caution}`,
  level: "warns",
  group: "cautions",
  reason: `${CAUTION_SAYS[caution]} A label tells the audience, and the next editor, before the segment begins.`,
  looks:
    `Segments without the label \`${caution}\` in whose words an entry of its list stands, or two of the weaker entries` +
    `${caution === "minors" ? ", or an age under 18" : ""}. The list is in src/checks/cautions/lists.ts; a programme changes it under ` +
    `\`watch.${caution}\` in programme.md. Headlines and close are told of only where no segment of the episode has the label.`,
  example: EXAMPLES[caution],
  accept: "The words were looked at, the station's own code was kept, and no label is needed.",
  judge: (subject) => {
    const tellsOf = tellerOf(caution, subject);
    const isAnnounced = subject.episode.segments.some(({ cautions }) => cautions.includes(caution));
    return subject.episode.segments
      .filter(({ kind, cautions }) => !cautions.includes(caution) && kind !== "break")
      .filter(({ kind }) => !(isAnnounced && ANNOUNCES.has(kind)))
      .flatMap((segment) => judgeSegment(caution, segment, tellsOf(segment), subject));
  },
}));

function judgeSegment(
  caution: Caution,
  { title }: LaidSegment,
  found: readonly Word[] | null,
  subject: Subject,
): readonly Doubt[] {
  if (found === null) return [];
  const says = `“${title}” seems to touch ${NAMED[caution]} (“${quoted(found)}”) and has no label. ${CAUTION_SAYS[caution]}`;
  const mend = `Add \`cautions: [${caution}]\` if it does; follow the station's own code, and ask for qualified advice where in doubt.`;
  return doubtOf(found, subject, says, mend);
}

/** Gives the words of a segment that tell; null when there are too few. */
function tellerOf(
  caution: Caution,
  { programme, figures, spoken }: Subject,
): (segment: LaidSegment) => readonly Word[] | null {
  const { plain, weak } = CAUTION_WORDS[caution];
  const [findPlain, findWeak] = [finderOf(watchedWords(caution, plain, programme)), finderOf(weak)];
  const young = grouped(
    figures.filter(({ kind, value }) => caution === "minors" && kind === "age" && value < ADULT),
    ({ sentence }) => sentence.segment,
  );
  return ({ slug }) => {
    const sentences = spoken.inSegment.get(slug)?.sentences ?? [];
    const [first] = findPlain(sentences);
    const told = first ?? young.get(slug)?.[0]?.words;
    if (told !== undefined) return told;
    const [one, second] = findWeak(sentences);
    return second === undefined ? null : (one ?? null);
  };
}
