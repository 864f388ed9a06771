import { CAUTIONS, type Caution, type SegmentKind } from "../../model/episode.ts";
import { grouped } from "../../model/grouped.ts";
import type { LaidSegment } from "../../record/laid.ts";
import type { Check, Doubt } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { finderOf } from "../finder.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { watchedWords } from "../watch.ts";
import { type Cases, casesOf } from "./cases.ts";
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

const ofCases = (caution: Caution): string =>
  caution === "court"
    ? ", or none that names the same people. Segments that name one person are told of as one case (not who reports, judges or pleads)"
    : "";

/** A check for each label, all of one kind. */
export const CAUTION_CHECKS: readonly Check[] = CAUTIONS.map((caution) => ({
  name: `caution-${caution}`,
  level: "warns",
  group: "cautions",
  reason: `${CAUTION_SAYS[caution]} A label tells the audience, and the next editor, before the segment begins.`,
  looks:
    `Segments without the label \`${caution}\` in whose words an entry of its list stands, or two of the weaker entries` +
    `${caution === "minors" ? ", or an age under 18" : ""}. The list is in src/checks/cautions/lists.ts; a programme changes it under ` +
    `\`watch.${caution}\` in programme.md. Headlines and close are told of only where no segment has the label or is told of${ofCases(caution)}.`,
  example: EXAMPLES[caution],
  accept: "The words were looked at, the station's own code was kept, and no label is needed.",
  judge: (subject) => judged(caution, subject),
}));

/** A segment without the label, and the words that ask for it. */
interface Touching {
  readonly segment: LaidSegment;
  readonly found: readonly Word[];
}

/** Every segment that reports; and of those that announce only what no other one speaks of. */
function judged(caution: Caution, subject: Subject): readonly Doubt[] {
  const { episode, spoken } = subject;
  const tellsOf = tellerOf(caution, subject);
  const cases = caution === "court" ? casesOf(subject) : null;
  const sentencesOf = ({ slug }: LaidSegment) => spoken.inSegment.get(slug)?.sentences ?? [];
  const [announcing, reports] = [true, false].map((announces) =>
    episode.segments.filter(({ kind }) => kind !== "break" && ANNOUNCES.has(kind) === announces),
  );
  const unlabelled = (segments: readonly LaidSegment[] = []) =>
    segments.filter(({ cautions }) => !cautions.includes(caution));
  const touching = unlabelled(reports).flatMap((segment): Touching[] => {
    const found = tellsOf(sentencesOf(segment));
    return found === null ? [] : [{ segment, found }];
  });
  const answering = [
    ...(reports ?? []).filter(({ cautions }) => cautions.includes(caution)),
    ...touching.map(({ segment }) => segment),
  ];
  const isAnswered = (sentences: readonly Sentence[]): boolean => {
    const people = cases?.peopleIn(sentences) ?? new Set();
    return answering.some((segment) => people.size === 0 || cases?.speaksOf(segment, people));
  };
  const announced = unlabelled(announcing).flatMap((segment): Touching[] => {
    const sentences = sentencesOf(segment);
    const own = answering.length === 0 ? [sentences] : sentences.map((sentence) => [sentence]);
    for (const some of own) {
      const found = isAnswered(some) ? null : tellsOf(some);
      if (found === null) continue;
      answering.push(segment);
      return [{ segment, found }];
    }
    return [];
  });
  const together = cases === null ? touching.map((one) => [one]) : byCase(touching, cases, sentencesOf);
  return [...together, ...announced.map((one) => [one])].flatMap((all) => tell(caution, all, subject));
}

/** Segments that name one person are of one case. */
function byCase(
  touching: readonly Touching[],
  { peopleIn, speaksOf }: Cases,
  sentencesOf: (segment: LaidSegment) => readonly Sentence[],
): readonly (readonly Touching[])[] {
  const all: { of: Touching[]; people: ReadonlySet<string> }[] = [];
  for (const one of touching) {
    const people = peopleIn(sentencesOf(one.segment));
    const same = all.find((own) => own.people.size > 0 && speaksOf(one.segment, own.people));
    if (same === undefined) all.push({ of: [one], people });
    else {
      same.of.push(one);
      same.people = new Set([...same.people, ...people]);
    }
  }
  return all.map(({ of }) => of);
}

function tell(caution: Caution, all: readonly Touching[], subject: Subject): readonly Doubt[] {
  const [first, ...others] = all;
  if (first === undefined) return [];
  const titles = all.map(({ segment, found }) => `“${segment.title}” (“${quoted(found)}”)`);
  const said =
    others.length === 0
      ? `“${first.segment.title}” seems to touch ${NAMED[caution]} (“${quoted(first.found)}”) and has no label.`
      : `${titles.slice(0, -1).join(", ")} and ${titles.at(-1)} seem to touch one court case and have no label.`;
  const mend = `Add \`cautions: [${caution}]\` ${others.length === 0 ? "" : "to each "}if it does; follow the station's own code, and ask for qualified advice where in doubt.`;
  const seen = others.flatMap(({ found }) => found.slice(0, 1));
  return doubtOf(first.found, subject, `${said} ${CAUTION_SAYS[caution]}`, mend, seen);
}

/** Gives the words of sentences that tell; null when there are too few. */
function tellerOf(
  caution: Caution,
  { programme, figures }: Subject,
): (sentences: readonly Sentence[]) => readonly Word[] | null {
  const { plain, weak } = CAUTION_WORDS[caution];
  const [findPlain, findWeak] = [finderOf(watchedWords(caution, plain, programme)), finderOf(weak)];
  const young = grouped(
    figures.filter(({ kind, value }) => caution === "minors" && kind === "age" && value < ADULT),
    ({ sentence }) => sentence,
  );
  return (sentences) => {
    const [first] = findPlain(sentences);
    const told = first ?? sentences.flatMap((sentence) => young.get(sentence) ?? [])[0]?.words;
    if (told !== undefined) return told;
    const [one, second] = findWeak(sentences);
    return second === undefined ? null : (one ?? null);
  };
}
