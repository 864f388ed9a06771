import { does } from "../model/correctionKinds.ts";
import type { Episode, Segment, TranscriptCue } from "../model/episode.ts";
import type { ArchivedEpisode } from "../model/programme.ts";
import { type Away, inClockOf, type Moves, movesOf, type Stretch, until } from "./points.ts";

/** The day that a site is for. */
export interface ScanDay {
  /** Local date, `2026-10-06`. */
  readonly date: string;
  /** Its last moment, ISO 8601. */
  readonly until: string;
}

/** How far a guessed time may be from the true one, in milliseconds; as the README says. */
const GUESS_MS = 5000;

/** What is known of an episode's segments, whatever text is asked about. */
export interface Matter {
  readonly archived: ArchivedEpisode;
  readonly day: ScanDay;
  /** The slugs that withdrawals name; null among them: the whole episode. */
  readonly withdrawn: ReadonlySet<string | null>;
  /** What is withdrawn, in the present text's clock. */
  readonly away: readonly Away[];
  /** Where the present segments stood that show nothing on the day. */
  readonly silent: readonly (Stretch & { readonly segment: Segment })[];
}

export function matterOf(archived: ArchivedEpisode, day: ScanDay): Matter {
  const withdrawn = new Set(archived.corrections.flatMap((own) => (does(own, "takes-away") ? [own.segment] : [])));
  const moves = movesOf(archived, until(archived.corrections, "9999-12-31T00:00:00Z"));
  const known = entered(archived.record);
  const awaits = archived.corrections.some((own) => does(own, "takes-away") && !known.ids.has(own.id));
  const silent = archived.segments
    .filter((segment) => isSilent(segment, day))
    .flatMap((segment) => (moves.stood.get(segment.slug) ?? []).map((own) => ({ ...own, segment })));
  return { archived, day, withdrawn, away: [...known.away, ...(awaits ? moves.away : [])], silent };
}

/** Whether anything of an episode is held back at all: of most, nothing is. */
export const holdsNothing = ({ archived, away, silent, withdrawn, day }: Matter): boolean =>
  away.length === 0 &&
  silent.length === 0 &&
  withdrawn.size === 0 &&
  archived.earlier.every(({ episode }) => episode?.segments.every((own) => !isSilent(own, day)) ?? true);

/** What the last line of a record says that is withdrawn, and the corrections that its lines name. */
function entered(record: string | null): { readonly away: readonly Away[]; readonly ids: ReadonlySet<string> } {
  const lines = (record ?? "").split("\n").flatMap((line) => lineOf(line) ?? []);
  const away = (lines.at(-1)?.withdrawn ?? []).map(({ segment, from, to }) => ({ slug: segment, from, to }));
  const ids = lines.flatMap(({ correction, renames }) =>
    [correction?.id, renames?.to].filter((id) => id !== undefined),
  );
  return { away, ids: new Set(ids) };
}

/** What is read of a line here. */
interface RecordLine {
  readonly correction?: { readonly id: string } | null;
  readonly renames?: { readonly to: string } | null;
  readonly withdrawn?: readonly { readonly segment: string | null; readonly from: number; readonly to: number }[];
}

/** Null where the line is torn, or no entry: the audit says so, and nothing is built. */
function lineOf(line: string): RecordLine | null {
  try {
    const read: unknown = JSON.parse(line);
    return isEntry(read) ? read : null;
  } catch {
    return null;
  }
}

function isEntry(read: unknown): read is RecordLine {
  if (!isObject(read)) return false;
  const { correction = null, renames = null, withdrawn = [] } = read;
  const names = (own: unknown, key: string) => own === null || (isObject(own) && typeof own[key] === "string");
  return names(correction, "id") && names(renames, "to") && Array.isArray(withdrawn) && withdrawn.every(isStretch);
}

function isStretch(read: unknown): boolean {
  if (!isObject(read)) return false;
  const { segment, from, to } = read;
  return (segment === null || typeof segment === "string") && typeof from === "number" && typeof to === "number";
}

const isObject = (read: unknown): read is Readonly<Record<string, unknown>> =>
  typeof read === "object" && read !== null;

function isSilent({ rights }: Pick<Segment, "rights">, { date }: ScanDay): boolean {
  return rights?.withheld === true && rights.show === "nothing" && (rights.until === null || date < rights.until);
}

/**
 * Whether a cue of a text may not be given on the day, in whatever form the site has that text: with its corrections, and
 * as it was published. A cue that one of the two may give is given. Nothing is held here for sharing a replaced passage.
 */
export function heldIn(text: Episode, matter: Matter): (cue: TranscriptCue) => boolean {
  const laid = until(matter.archived.corrections, matter.day.until);
  const forms = [laid, laid.filter((own) => does(own, "takes-away"))];
  const held = forms.map((corrections) => heldInForm(text, matter, movesOf(text, corrections)));
  return (cue) => held.every((isHeld) => isHeld(cue));
}

function heldInForm(text: Episode, matter: Matter, moves: Moves): (cue: TranscriptCue) => boolean {
  const { archived, withdrawn, day } = matter;
  const away = [...matter.away.map((own) => inClockOf(own, archived, text)), ...moves.away];
  if (withdrawn.has(null) || away.some(({ slug }) => slug === null)) return () => true;
  const present = new Map(archived.segments.map((segment) => [segment.slug, segment]));
  const heard = new Set(text.segments.flatMap(({ slug, edgesHeard }) => (edgesHeard ? [slug] : [])));
  const quiet = text.segments.filter((own) => isSilent(present.get(own.slug) ?? own, day));
  const silent = [
    ...quiet.flatMap((segment) => (moves.stood.get(segment.slug) ?? []).map((own) => ({ ...own, segment }))),
    ...matter.silent.map((own) => inClockOf(own, archived, text)),
  ];
  const slugs = new Set([...quiet.map(({ slug }) => slug), ...withdrawn]);
  return (cue) =>
    away.some(
      (own) => goesWith(cue, own) || (text.timesGuessed === true && !heard.has(own.slug ?? "") && isBeside(cue, own)),
    ) ||
    silent.some((own) => goesWith(cue, own) || (isGuess(own.segment, text) && isBeside(cue, own))) ||
    slugs.has(homeOf(cue, moves));
}

/** It begins there, or more than half of it lies there. */
const goesWith = ({ start, end }: TranscriptCue, { from, to }: Stretch): boolean =>
  (start >= from && start < to) || 2 * (Math.min(end, to) - Math.max(start, from)) > end - start;

const isBeside = ({ start, end }: TranscriptCue, { from, to }: Stretch): boolean =>
  start < to + GUESS_MS && end > from - GUESS_MS;

function isGuess({ slug, edgesHeard, proposed }: Segment, { segments, timesGuessed }: Episode): boolean {
  if (edgesHeard === true) return false;
  const next = segments[segments.findIndex((own) => own.slug === slug) + 1];
  return timesGuessed === true || proposed !== undefined || next?.proposed !== undefined;
}

/** The segment that most of a cue lies in; else the last that began before it. */
function homeOf({ start, end }: TranscriptCue, { end: points }: Moves): string | null {
  const shared = points.map((own) => Math.min(end, own.out) - Math.max(start, own.in));
  const most = Math.max(0, ...shared);
  const home = most > 0 ? points[shared.indexOf(most)] : points.findLast((own) => own.in <= start);
  return (home ?? points[0])?.slug ?? null;
}
