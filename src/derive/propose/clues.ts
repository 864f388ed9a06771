import type { PlannedSegment, SpokenWord } from "../../model/spoken.ts";
import { nameWord } from "../captioning/stops.ts";
import type { Echo } from "./echoes.ts";
import { LEAST_MUSIC, quietBefore, type Recording } from "./recording.ts";
import { soundClues } from "./soundClues.ts";
import { stemOf } from "./stems.ts";

/** A programme as it is heard, and what was planned. */
export interface Heard {
  readonly words: readonly SpokenWord[];
  readonly order: readonly PlannedSegment[];
  readonly echoes: readonly Echo[];
  /** Where the programme ends, in the transcript's clock. */
  readonly end: number;
  /** Nobody speaks in a break here: the words are an editor's. A recogniser hears words in the music. */
  readonly quietBreaks?: boolean;
  /** What listening to the recording tells; left out where nobody listens. */
  readonly recording?: Recording | null;
}

/** What speaks for and against a segment's place, as costs: less than 0 speaks for it. `a`, `b`: edges. */
export interface Clues {
  begin(k: number, a: number): number;
  end(k: number, b: number): number;
  inside(k: number, a: number, b: number, ms: number): number;
}

/** How far into a segment its introduction goes, and how far before its end a sign-off stands, in words. */
const [INTRO, OUTRO] = [35, 25] as const;

/** What the clues weigh. Chosen on the demo's three broadcasts; no source. */
const WEIGHT = {
  title: 3,
  titleInside: 3,
  intro: 1.5,
  signOff: 1.5,
  opens: 2,
  ends: 1.5,
  pause: 1.5,
  /** A rest that is heard says more than a gap between the times of words; and music, however short, before it is spoken. */
  rest: 4,
  sting: 1,
  silent: 3,
  /** Each word in a break that has none, and each where nobody speaks in anything else. */
  spoken: 0.5,
  /** Another voice than the presenter's begins it, or nobody's. Set before it was measured. */
  noBeginning: 3,
  /** The one before is thanked. Set before it was measured. */
  thanks: 2,
} as const;

/** A gap of this length between words speaks wholly for a beginning. Milliseconds. */
const WHOLE_GAP = 800;
/** A rest that is heard speaks for one from this length on, and wholly from this. Sentences of one voice rest shorter. Milliseconds. */
const [SOME_REST, WHOLE_REST] = [200, 1100] as const;
/** Words that open or end a kind of segment, in the first or last dozen words. Common practice, no source. */
const OPENS: Readonly<Record<string, readonly string[]>> = {
  weather: ["weather", "forecast", "wind"],
  sport: ["sport", "football"],
  close: ["that is the", "and that is", "that's all", "that is all"],
  agency: ["agency", "reports"],
};
const ENDS: Readonly<Record<string, readonly string[]>> = {
  weather: ["thank you"],
  sport: ["that is the sport", "the sport"],
  close: ["good night", "goodbye", "good evening"],
  package: ["this is", "reporting"],
  agency: ["agency", "reporting there", "reporting"],
  "two-way": ["thank you"],
  interview: ["thank you"],
};
/** What is said before the first story, after the headlines. */
const FIRST_STORY = ["first tonight", "first this evening", "first today", "our first", "we begin", "our top story"];
const BEFORE_BREAK = [
  "after the break",
  "stay with us",
  "don't go away",
  "join us after",
  "more after",
  "still to come",
  "coming up",
];
/** What is said of who was just heard, in the first words after it: nothing begins with it. Common practice, no source. */
const THANKS = ["that was", "thank you", "thanks", "many thanks"];
const FIRST_WORDS = 5;
const DOZEN = 12;

export function cluesOf(
  { words, order, echoes, quietBreaks = false, recording = null }: Heard,
  edges: readonly number[],
): Clues {
  const { noBeginning, unspoken } = soundClues(words, recording);
  const folded = words.map(({ text }) => nameWord(text));
  const stems = folded.map(stemOf);
  const commonness = countsOf(stems);
  const titles = order.map(({ title }) => titleStems(title));
  const hits = titles.map((title) => hitsOf(stems, title, commonness));
  const textAt = (from: number, to: number) => ` ${folded.slice(Math.max(0, from), to).join(" ")} `;
  const said = (phrases: readonly string[] | undefined, text: string) =>
    phrases?.some((phrase) => text.includes(` ${phrase} `)) === true;
  const heard = (names: readonly string[], from: number, to: number) =>
    echoes.some((echo) => echo.from >= from && echo.to <= to && names.includes(echo.name));
  const share = (k: number, from: number, to: number) => {
    const row = hits[k];
    const whole = titles[k]?.size ?? 0;
    return row === undefined || whole === 0
      ? 0
      : Math.min(1, ((row[Math.max(from, to)] ?? 0) - (row[from] ?? 0)) / whole);
  };
  /** The title's share in an introduction, its earlier words counting more. */
  const early = (k: number, from: number) => {
    const thirds = [1, 2, 3].map((n) => share(k, from, Math.min(words.length, from + Math.round((INTRO * n) / 3))));
    return thirds.reduce((sum, one) => sum + one, 0) / thirds.length;
  };
  const silenceBefore = (from: number) => {
    if (from === 0) return 0;
    const start = words[from]?.start ?? 0;
    if (recording === null) return shareOf((start - (words[from - 1]?.end ?? 0)) / WHOLE_GAP) * WEIGHT.pause;
    const quiet = quietBefore(recording, start);
    if (quiet === null) return 0;
    const rest = shareOf((quiet.length - SOME_REST) / (WHOLE_REST - SOME_REST)) * WEIGHT.rest;
    return rest + (quiet.music >= LEAST_MUSIC ? WEIGHT.sting : 0);
  };
  return {
    begin: once(order.length, edges.length, (k, a) => {
      const from = edges[a] ?? 0;
      const segment = order[k];
      if (segment === undefined) return 0;
      if (segment.kind === "break") return said(BEFORE_BREAK, textAt(from, from + DOZEN)) ? WEIGHT.opens : 0;
      return (
        (noBeginning.has(from) ? WEIGHT.noBeginning : 0) +
        (said(THANKS, textAt(from, from + FIRST_WORDS)) ? WEIGHT.thanks : 0) -
        WEIGHT.title * early(k, from) -
        (k === 1 && said(FIRST_STORY, textAt(from, from + DOZEN / 2)) ? WEIGHT.opens : 0) -
        (heard(segment.by, from, from + INTRO) ? WEIGHT.intro : 0) -
        (said(OPENS[segment.kind], textAt(from, from + DOZEN)) ? WEIGHT.opens : 0) -
        silenceBefore(from)
      );
    }),
    end: once(order.length, edges.length, (k, b) => {
      const to = edges[b] ?? 0;
      const segment = order[k];
      if (segment === undefined || segment.kind === "break") return 0;
      const beforeBreak = order[k + 1]?.kind === "break" && said(BEFORE_BREAK, textAt(to - OUTRO, to));
      return (
        -(heard(segment.by, to - OUTRO, to) ? WEIGHT.signOff : 0) -
        (said(ENDS[segment.kind], textAt(to - DOZEN, to)) ? WEIGHT.ends : 0) -
        (beforeBreak ? WEIGHT.opens : 0)
      );
    }),
    inside(k, a, b, ms) {
      const [from, to] = [edges[a] ?? 0, edges[b] ?? 0];
      const isBreak = order[k]?.kind === "break";
      const nobodys = (unspoken[to] ?? 0) - (unspoken[from] ?? 0);
      const pace = ((to - from - nobodys) * 60_000) / Math.max(1, ms);
      if (isBreak) return (pace / 60) * WEIGHT.silent + (quietBreaks ? (to - from) * WEIGHT.spoken : 0);
      return (
        -WEIGHT.titleInside * share(k, from, to) + Math.max(0, 1 - pace / 100) * WEIGHT.silent + nobodys * WEIGHT.spoken
      );
    },
  };
}

const shareOf = (whole: number): number => Math.min(1, Math.max(0, whole));

/** A judgement of a segment at an edge, made when it is first asked for and kept. */
function once(segments: number, edges: number, judge: (k: number, edge: number) => number): typeof judge {
  const judged = new Float64Array(segments * edges).fill(Number.NaN);
  return (k, edge) => {
    const at = k * edges + edge;
    const known = judged[at] ?? 0;
    if (!Number.isNaN(known)) return known;
    const cost = judge(k, edge);
    judged[at] = cost;
    return cost;
  };
}

function countsOf(stems: readonly string[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const stem of stems) counts.set(stem, (counts.get(stem) ?? 0) + 1);
  return counts;
}

/** Words of a title that say something. */
const SMALL = new Set("a an the of on in to for and or at by from with is are was as it its his her a".split(" "));

const titleStems = (title: string): ReadonlySet<string> =>
  new Set(
    title
      .split(/[\s,:;–-]+/)
      .map(nameWord)
      .filter((word) => word !== "" && !SMALL.has(word))
      .map(stemOf),
  );

/** hits[n]: how much of a title was heard before word n; a word heard all through the programme says less. */
function hitsOf(
  stems: readonly string[],
  title: ReadonlySet<string>,
  commonness: ReadonlyMap<string, number>,
): Float64Array {
  const hits = new Float64Array(stems.length + 1);
  stems.forEach((stem, n) => {
    hits[n + 1] = (hits[n] ?? 0) + (title.has(stem) ? 1 / Math.sqrt(commonness.get(stem) ?? 1) : 0);
  });
  return hits;
}
