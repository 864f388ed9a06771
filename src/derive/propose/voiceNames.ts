import { PRESENTED_ALONE } from "../../model/proposal.ts";
import type { Span } from "../captioning/lending.ts";
import { isTalk, type ProposedVoice, presenterIn, presentersOf, type Scene, type Stretch } from "./scene.ts";

/** Which pieces of speech have one voice: by piece its number; null: it is too short to tell, or not in the recording. */
export interface VoicesHeard {
  readonly of: readonly (number | null)[];
  /** By piece: it lies for the most part where nobody speaks, so its words are the recogniser's own. */
  readonly unspoken: readonly boolean[];
  /** Whether two voices might be one person's after all. */
  readonly alike: (a: number, b: number) => boolean;
}

/** Tells voices apart. @param pieces milliseconds of the transcript's clock, in their order. */
export type TellApart = (pieces: readonly Span[]) => VoicesHeard;

/** A sentence, and whose voice it has. */
export type HeardScene = Scene & { readonly span: Span; readonly heard: number | null };

/** A stretch of the running order, its sentences, and who speaks them as far as their words tell. */
export interface Part {
  readonly stretch: Stretch;
  readonly scenes: readonly HeardScene[];
  readonly clued: readonly ProposedVoice[];
}

/** A voice with this share of what the presenter alone is heard in is the presenter's; and one that is like such a voice, with less. */
const [MAIN, SHARE] = [0.15, 0.03] as const;
/** Whoever leads to so many reports and conversations presents; that many sentences at the beginning of each are looked at. */
const [LEADS, LEAD] = [3, 3] as const;
/** A reporter says at least this share of a report, the presenter left out. */
const REPORTS = 0.25;
/** So many sentences before a voice is first heard, somebody may be introduced. */
const BEFORE = 2;

/**
 * Gives names to voices. The presenter's are those heard where the presenter is alone. In a report the first voice after
 * that is the reporter's, in a conversation the one that speaks most is the guest's; another voice is that of whoever was
 * named just before it, or thanked just after it. A voice that nothing names stays without one.
 */
export function byVoice(
  parts: readonly Part[],
  presenters: readonly string[],
  heard: VoicesHeard,
): readonly ProposedVoice[] {
  const known = presentersHeard(parts, presenters, heard);
  if (known.size === 0) return parts.flatMap(({ clued }) => clued);
  return parts.flatMap((part) => {
    const { stretch, clued } = part;
    if (!PRESENTED_ALONE.has(stretch.kind))
      return named(part, namesIn(part, presenters, known, heard), isTalk(stretch));
    // Where several present together, each is known by the voice.
    return presentersOf(stretch, presenters).length > 1 ? named(part, known, true) : clued;
  });
}

/** The voices of all presenters, each with its name. A voice that might be two people's is the one's who has more of it. */
function presentersHeard(
  parts: readonly Part[],
  presenters: readonly string[],
  heard: VoicesHeard,
): ReadonlyMap<number, string> {
  const known = new Map<number, { readonly name: string; readonly time: number }>();
  for (const name of presenters) {
    // What two present together says nothing of either.
    const own = parts.filter(
      ({ stretch }) => presentersOf(stretch, presenters).length < 2 && presenterIn(stretch, presenters) === name,
    );
    const among = presenters.length === 1 ? parts : own;
    const times = timeOf(among.filter(isAlone).flatMap(({ scenes }) => scenes));
    for (const voice of presentersIn(among, name, heard)) {
      const time = times.get(voice) ?? 0;
      if (time >= (known.get(voice)?.time ?? 0)) known.set(voice, { name, time });
    }
  }
  return new Map([...known].map(([voice, { name }]) => [voice, name]));
}

const isAlone = ({ stretch }: Part): boolean => PRESENTED_ALONE.has(stretch.kind);

const timeOf = (scenes: readonly HeardScene[]): ReadonlyMap<number, number> => {
  const times = new Map<number, number>();
  for (const { heard, span } of scenes)
    if (heard !== null) times.set(heard, (times.get(heard) ?? 0) + span.end - span.start);
  return times;
};

const sumOf = (times: ReadonlyMap<number, number>): number => [...times.values()].reduce((sum, own) => sum + own, 0);

/** The voices of a part's first sentences that the presenter says by their words. */
const leadersOf = ({ scenes, clued }: Part, presenter: string): ReadonlySet<number> =>
  new Set(scenes.slice(0, LEAD).flatMap(({ heard }, n) => (clued[n]?.voice === presenter ? (heard ?? []) : [])));

function presentersIn(parts: readonly Part[], presenter: string, { alike }: VoicesHeard): ReadonlySet<number> {
  const alone = timeOf(parts.filter(isAlone).flatMap(({ scenes }) => scenes));
  const whole = sumOf(alone);
  const leading = parts.flatMap((part) => (isAlone(part) ? [] : [...leadersOf(part, presenter)]));
  const main = [...alone].filter(([, time]) => time >= whole * MAIN).map(([voice]) => voice);
  const others = [...new Set([...alone.keys(), ...leading])].filter(
    (voice) =>
      leading.filter((own) => own === voice).length >= LEADS ||
      ((alone.get(voice) ?? 0) >= whole * SHARE && main.some((own) => alike(own, voice))),
  );
  return new Set([...main, ...others]);
}

/** The names of the voices of a part. */
function namesIn(
  { stretch, scenes, clued }: Part,
  presenters: readonly string[],
  known: ReadonlyMap<number, string>,
  { alike }: VoicesHeard,
): ReadonlyMap<number, string> {
  const names = new Map(known);
  const isPresenter = (name: string | null) => name !== null && presenters.includes(name);
  const others = scenes.filter(({ heard }) => heard !== null && !known.has(heard));
  const times = timeOf(others);
  const most = [...times].sort((a, b) => b[1] - a[1])[0]?.[0];
  const first = others[0]?.heard ?? null;
  const isFirst = !isTalk(stretch) && first !== null && (times.get(first) ?? 0) >= sumOf(times) * REPORTS;
  const main = isFirst ? first : most;
  // Who that is, the words and the running order have told already.
  const second =
    stretch.by.find((name) => !isPresenter(name)) ??
    clued.find(({ voice }) => voice !== null && !isPresenter(voice))?.voice;
  if (main === undefined || second === undefined || second === null) return names;
  names.set(main, second);
  for (const [voice] of times) {
    if (names.has(voice)) continue;
    const at = scenes.findIndex(({ heard }) => heard === voice);
    const introduced = scenes
      .slice(Math.max(0, at - BEFORE), at)
      .flatMap(({ names: own }) => own)
      .findLast((name) => name !== second && !isPresenter(name));
    const canBe = (own: string) => own !== second && !isPresenter(own);
    const name =
      introduced ??
      thankedAfter(scenes, voice, canBe) ??
      (isTalk(stretch) ? undefined : calledAfter(scenes, voice, (other) => names.has(other), canBe));
    if (name !== undefined) names.set(voice, name);
    else if (!isTalk(stretch) && alike(voice, main)) names.set(voice, second);
  }
  return names;
}

/** What is said of somebody who was just heard: "That was …", "… there". Common practice, no source. */
const THANKED = new Set(["there", "was", "thanks", "thank"]);
/** So many words from the beginning of a sentence. */
const EARLY = 8;

/** Whose voice it was, by the sentence after its last one. */
function thankedAfter(
  scenes: readonly HeardScene[],
  voice: number,
  canBe: (name: string) => boolean,
): string | undefined {
  const next = scenes[scenes.findLastIndex(({ heard }) => heard === voice) + 1];
  return next?.text.slice(0, EARLY).some((word) => THANKED.has(word)) ? next.names.find(canBe) : undefined;
}

/**
 * Whose voice it was, where the sentence after one of its turns begins with a name, as reports often have it: "… has worked here for
 * years". Common practice, no source. Not where somebody else is heard soon after that: it may be theirs.
 */
function calledAfter(
  scenes: readonly HeardScene[],
  voice: number,
  isKnown: (voice: number) => boolean,
  canBe: (name: string) => boolean,
): string | undefined {
  for (const [n, { heard }] of scenes.entries()) {
    const next = scenes[n + 1];
    if (heard !== voice || next === undefined || next.heard === voice || next.first === null || !canBe(next.first))
      continue;
    const soon = scenes.slice(n + 2, n + 2 + BEFORE).map((scene) => scene.heard);
    if (soon.every((other) => other === null || other === voice || isKnown(other))) return next.first;
  }
  return undefined;
}

/** @param talk a short question stands between two answers: its words tell more than its neighbours. */
function named({ scenes, clued }: Part, names: ReadonlyMap<number, string>, talk: boolean): readonly ProposedVoice[] {
  const sure = scenes.map(({ heard }) => (heard === null ? undefined : (names.get(heard) ?? null)));
  return clued.map((clue, n) => {
    const own = sure[n];
    if (own !== undefined) return { ...clue, voice: own };
    const before = sure.slice(0, n).findLast((one) => one !== undefined);
    const after = sure.slice(n + 1).find((one) => one !== undefined);
    return { ...clue, voice: !talk && before === after && before !== undefined ? before : clue.voice };
  });
}
