import { NO_STORY, type SegmentKind } from "../model/episode.ts";
import { grouped } from "../model/grouped.ts";
import { stemOf } from "./propose/stems.ts";

/** A segment as it may belong to a story. All but `story` are slugs, stems or ids. */
export interface StorySegment {
  readonly episode: string;
  readonly slug: string;
  readonly kind: SegmentKind;
  readonly topics: readonly string[];
  /** Places and people. */
  readonly names: readonly string[];
  /** From `tellingWords`. */
  readonly words: readonly string[];
  /** The slug of the story that an editor named, or `NO_STORY`; null: nobody did. */
  readonly story: string | null;
}

/** A segment with the story that it is in; null: it began none, and was found to belong to none. */
export interface JoinedSegment extends StorySegment {
  readonly joined: string | null;
}

/** What came of some evenings. */
export interface JoinedStories {
  /** The segments of each story that got one, `2026-10-05/ferry-timetable`; that of an earlier evening with which it began too. */
  readonly stories: Readonly<Record<string, readonly string[]>>;
  /** The last evenings, for those that come after them. */
  readonly recent: readonly JoinedSegment[];
}

/**
 * How long a story may rest, in days; how many words must be shared, and how many words, places and people together;
 * in how many other segments of that time a word may stand and still tell of one matter. Chosen on invented evenings so
 * that nothing false is joined: no source.
 */
const RESTS = 21;
const WORDS = 2;
const SHARED = 3;
const ELSEWHERE = 2;

/** Every evening has one of these, and they speak of the same things: no story is found among them. */
const EVERY_EVENING: ReadonlySet<SegmentKind> = new Set([
  "headlines",
  "weather",
  "sport",
  "close",
  "break",
  "round-up",
]);

/** Stems of the longer words of a title and a summary, each once: the short ones tell of nothing. */
export const tellingWords = (text: string): readonly string[] => [
  ...new Set((text.toLowerCase().match(/\p{L}{5,}/gu) ?? []).map(stemOf)),
];

const dateOf = ({ episode }: StorySegment): string => episode.slice(0, 10);
const idOf = ({ episode, slug }: StorySegment): string => `${episode}/${slug}`;
const daysBetween = (earlier: string, later: string): number => (Date.parse(later) - Date.parse(earlier)) / 86_400_000;

/**
 * Joins segments of different evenings that share a topic, at least two words that hardly anything else of these weeks
 * has, and a third such word, a place or a person. Each is held against earlier ones alone, so that no later evening
 * changes what was joined. A story that nobody named is called by its first segment (`2026-10-05-ferry-timetable`), and
 * so keeps its address.
 * @param segments of whole evenings, in any order. @param before `recent` of the evenings before them.
 */
export function joinStories(segments: readonly StorySegment[], before: readonly JoinedSegment[]): JoinedStories {
  const stories = new Map<string, Set<string>>();
  const add = (story: string, own: StorySegment): void => {
    stories.set(story, (stories.get(story) ?? new Set()).add(idOf(own)));
  };
  let recent: readonly JoinedSegment[] = before;
  const byDate = grouped(segments.filter(mayBelong).toSorted(byId), dateOf);
  for (const [date, evening] of byDate) {
    recent = recent.filter((past) => daysBetween(dateOf(past), date) <= RESTS);
    const begun = new Map<JoinedSegment, string>();
    const holders = holdersOf(recent);
    const tonight = evening.map((own): JoinedSegment => {
      if (own.story !== null) return { ...own, joined: own.story === NO_STORY ? null : own.story };
      const first = nearest(own, recent, holders);
      if (first === null) return { ...own, joined: null };
      const joined = first.joined ?? idOf(first).replace("/", "-");
      if (first.joined === null) begun.set(first, joined);
      return { ...own, joined };
    });
    recent = recent.map((past) => ({ ...past, joined: begun.get(past) ?? past.joined }));
    for (const [first, story] of begun) add(story, first);
    for (const own of tonight) if (own.joined !== null) add(own.joined, own);
    recent = [...recent, ...tonight];
  }
  return { stories: Object.fromEntries([...stories].map(([story, ids]) => [story, [...ids]])), recent };
}

const mayBelong = ({ kind, story }: StorySegment): boolean => !EVERY_EVENING.has(kind) || story !== null;
const byId = (a: StorySegment, b: StorySegment): number => (idOf(a) < idOf(b) ? -1 : 1);

/** The earlier segment that one belongs to most, the latest of several; null: to none. */
function nearest(own: StorySegment, recent: readonly JoinedSegment[], holders: Holders): JoinedSegment | null {
  if (EVERY_EVENING.has(own.kind)) return null;
  let best: { readonly past: JoinedSegment; readonly shared: number } | null = null;
  for (const past of recent) {
    if (EVERY_EVENING.has(past.kind) || past.story === NO_STORY || dateOf(past) === dateOf(own)) continue;
    if (!shares(own.topics, past.topics)) continue;
    const words = own.words.filter((word) => past.words.includes(word) && isTelling(word, past, holders));
    const shared = words.length + own.names.filter((name) => past.names.includes(name)).length;
    if (words.length >= WORDS && shared >= SHARED && (best === null || shared >= best.shared)) best = { past, shared };
  }
  return best?.past ?? null;
}

const shares = (some: readonly string[], others: readonly string[]): boolean =>
  some.some((one) => others.includes(one));

/** The segments that have a word, by word. */
type Holders = ReadonlyMap<string, readonly JoinedSegment[]>;

function holdersOf(segments: readonly JoinedSegment[]): Holders {
  const holders = new Map<string, JoinedSegment[]>();
  for (const segment of segments) {
    for (const word of segment.words) {
      const own = holders.get(word);
      if (own === undefined) holders.set(word, [segment]);
      else own.push(segment);
    }
  }
  return holders;
}

/** Whether hardly anything but a segment and its story has a word. */
function isTelling(word: string, past: JoinedSegment, holders: Holders): boolean {
  const others = holders.get(word) ?? [];
  const elsewhere = others.filter((other) => other !== past && (past.joined === null || other.joined !== past.joined));
  return elsewhere.length <= ELSEWHERE;
}
