import { firstWhere } from "../../model/firstWhere.ts";
import type { RegisteredName } from "../../model/programme.ts";
import { PRESENTED_ALONE } from "../../model/proposal.ts";
import type { SpokenWord } from "../../model/spoken.ts";
import { nameWord } from "../captioning/stops.ts";
import { type Echo, findEchoes, roleWordsOf, type Sounded } from "./echoes.ts";
import { withHeardNames } from "./heardNames.ts";
import { piecesOf, type Recording } from "./recording.ts";
import { isTalk, type ProposedVoice, presenterIn, presentersOf, type Scene, type Stretch } from "./scene.ts";
import type { Sentence } from "./sentences.ts";
import { HANDS_OVER, hasOneOf } from "./signs.ts";
import { talkVoices } from "./talk.ts";
import { byVoice, type Part } from "./voiceNames.ts";

/** Who may be heard, and where their names are. */
export interface Cast {
  /** The register's people. */
  readonly people: readonly Sounded[];
  /** In the order of the words. */
  readonly echoes: readonly Echo[];
}

/** @param recording null: nobody listens, and names are known by the words alone. */
export function castOf(
  words: readonly SpokenWord[],
  names: readonly RegisteredName[],
  recording: Recording | null = null,
): Cast {
  const people = names.filter(({ kind }) => kind === "person");
  return { people, echoes: withHeardNames(findEchoes(words, people), words, recording?.names ?? []) };
}

const INTRODUCES = [
  "says",
  "said",
  "is the",
  "is a",
  "put it",
  "told",
  "explains",
  "lives",
  "was pleased",
  "should have",
];
const BREAK_AHEAD = ["after the break", "stay with us"];
/** A name that is less likely is not proposed where nobody listens, from 0 to 1. */
export const SURE = 0.5;
const THANKS = ["thank you", "thanks", "reporting there", "there with"];
const FIRST_PERSON = new Set("i we me my our us i'm we're i've".split(" "));
/** Sentences that somebody heard in a report speaks at a stretch. Common practice, no source. */
const LONGEST_CLIP = 4;

/**
 * Proposes who speaks: the presenter, until the reporter of the running order is introduced; the reporter, until the
 * sign-off or the thanks; people of the register after they are introduced; in interviews by question and answer.
 * Where voices are told apart by their sound, a name goes with its voice.
 */
export function proposeVoices(
  words: readonly SpokenWord[],
  stretches: readonly Stretch[],
  presenters: readonly string[],
  cast: Cast,
  recording: Recording | null = null,
): readonly ProposedVoice[] {
  const sentences = piecesOf(words, recording);
  const spans = sentences.map(({ from, to }) => ({ start: words[from]?.start ?? 0, end: words[to - 1]?.end ?? 0 }));
  const heard = recording?.tellApart(spans) ?? null;
  // Words rise in time, and sentences with them.
  const firstFrom = (moment: number) => firstWhere(spans.length, (n) => (spans[n]?.start ?? 0) >= moment - EDGE);
  const presenting = (stretch: Stretch): Presenting =>
    heard === null
      ? { presenters, leads: surePresenter(stretch, stretches, presenters), sure: SURE }
      : { presenters, leads: presenterIn(stretch, presenters), sure: 0 };
  const parts = stretches.map((stretch): Part => {
    const first = firstFrom(stretch.in);
    const scenes = sentences.slice(first, firstFrom(stretch.out)).map((sentence, n) => {
      const span = spans[first + n] ?? { start: 0, end: 0 };
      return { ...sceneOf(sentence, words, cast), span, heard: heard?.of[first + n] ?? null };
    });
    return { stretch, scenes, clued: voiced(scenes, stretch, presenting(stretch), cast) };
  });
  const proposed = heard === null ? parts.flatMap(({ clued }) => clued) : byVoice(parts, presenters, heard);
  const told = new Map(proposed.map((one) => [one.from, one]));
  return joined(sentences.map((sentence) => told.get(sentence.from) ?? { ...sentence, voice: presenters[0] ?? null }));
}

/** Who presents a stretch. `sure`: a name that is less likely is left out. */
interface Presenting {
  readonly presenters: readonly string[];
  /** Who leads through it; null: it may be one or another. */
  readonly leads: string | null;
  readonly sure: number;
}

/** The only one who can lead through a stretch by the running order: the one whom it puts there, or the only one whom it puts anywhere. */
export function surePresenter(
  stretch: Stretch,
  stretches: readonly Stretch[],
  presenters: readonly string[],
): string | null {
  const own = presentersOf(stretch, presenters);
  const named = own.length > 0 ? own : [...new Set(stretches.flatMap((one) => presentersOf(one, presenters)))];
  return named.length > 1 ? null : (named[0] ?? presenters[0] ?? null);
}

/** In points stand a little before or after a first word; in milliseconds. */
const EDGE = 250;

/** A name that begins so early stands at a sentence's beginning: "Edda Vantrell has …", "That's Edda Vantrell". */
const FIRST_WORDS = 2;

export function sceneOf(sentence: Sentence, words: readonly SpokenWord[], { people, echoes }: Cast): Scene {
  const text = words.slice(sentence.from, sentence.to).map((word) => nameWord(word.text));
  const begun = (word: number) => firstWhere(echoes.length, (n) => (echoes[n]?.from ?? 0) >= word);
  const inside = echoes.slice(begun(sentence.from), begun(sentence.to)).filter(({ to }) => to <= sentence.to);
  const heard = inside.map(({ name }) => name);
  const asks = words[sentence.to - 1]?.text.endsWith("?") === true;
  const first = inside.find(({ from }) => from < sentence.from + FIRST_WORDS)?.name ?? null;
  return { sentence, text, names: heard.length > 0 ? heard : namedByRole(text, people), first, asks };
}

function voiced(
  scenes: readonly Scene[],
  { kind, by }: Stretch,
  { presenters, leads, sure }: Presenting,
  { people }: Cast,
): readonly ProposedVoice[] {
  const all = (voice: string | null) => scenes.map(({ sentence }) => ({ ...sentence, voice }));
  if (kind === "break") return all(null);
  const others = by.filter((name) => !presenters.includes(name));
  // A newsreader's own segment: the running order says so.
  if (PRESENTED_ALONE.has(kind)) return all(others.length === 1 && by.length === 1 ? (others[0] ?? null) : leads);
  const strangers = people.filter(({ name }) => !presenters.includes(name) && !by.includes(name));
  const second = others[0] ?? guestOf(scenes, strangers);
  if (second === null && !isTalk({ kind })) return all(leads);
  const proposed =
    second === null || isTalk({ kind })
      ? talkVoices(scenes, { presenter: leads, guest: second }, sure)
      : report(scenes, leads, second);
  // Of several who are expected there, the words alone don't tell which one it is.
  const known =
    others.length > 1 && sure > 0
      ? proposed.map((one) => (one.voice === second ? { ...one, voice: null } : one))
      : proposed;
  return known.map((one, n) =>
    scenes[n] !== undefined && hasOneOf(scenes[n], BREAK_AHEAD) ? { ...one, voice: leads } : one,
  );
}

/** Whose role is told: two words of it or more, and half of them. */
function namedByRole(text: readonly string[], people: readonly Sounded[]): readonly string[] {
  const named = people.find(({ role }) => {
    const words = roleWordsOf(role);
    const told = text.filter((word) => words.has(word)).length;
    return told >= 2 && told * 2 >= words.size;
  });
  return named === undefined ? [] : [named.name];
}

/** Whom an interview is with: the one whose name and role are heard most. */
export function guestOf(scenes: readonly Scene[], people: readonly Sounded[]): string | null {
  const all = new Set(scenes.flatMap(({ text }) => text));
  const judged = people.map(({ name, role }) => {
    const roleWords = [...roleWordsOf(role)];
    const told = roleWords.filter((word) => all.has(word)).length / Math.max(2, roleWords.length);
    return { name, sum: told + scenes.filter(({ names }) => names.includes(name)).length };
  });
  const [likeliest] = judged.sort((a, b) => b.sum - a.sum);
  return likeliest === undefined || likeliest.sum < 0.5 ? null : likeliest.name;
}

/** A report: the presenter introduces the reporter, who speaks to the sign-off, with others heard between. */
function report(scenes: readonly Scene[], presenter: string | null, reporter: string): readonly ProposedVoice[] {
  const start = introductionIn(scenes, reporter);
  const end = signOffIn(scenes, reporter, start);
  let clip: { voice: string; left: number } | null = null;
  return scenes.map((scene, n) => {
    if (n <= start || n > end) return { ...scene.sentence, voice: presenter };
    if (clip !== null && (clip.left === 0 || returns(scene, clip.voice))) clip = null;
    const voice = clip?.voice ?? reporter;
    if (clip !== null) clip.left--;
    const introduced = scene.names.findLast((name) => name !== reporter && name !== presenter);
    const next = scenes[n + 1];
    if (
      clip === null &&
      introduced !== undefined &&
      next !== undefined &&
      (hasOneOf(scene, INTRODUCES) || scene.text.length < 12) &&
      next.names.length === 0 &&
      n < end
    ) {
      clip = { voice: introduced, left: LONGEST_CLIP };
    }
    return { ...scene.sentence, voice };
  });
}

/** Whether the reporter speaks again: of somebody by name, or of what was said, and not in the first person. */
function returns(scene: Scene, voice: string): boolean {
  if (scene.names.length > 0) return true;
  const own = scene.text.some((word) => FIRST_PERSON.has(word));
  return (
    !own &&
    (hasOneOf(scene, INTRODUCES) || scene.names.includes(voice) || ["but", "he", "she"].includes(scene.text[0] ?? ""))
  );
}

/** The sentence that hands over to the reporter: by name, or by what is said then; the second one at the latest. */
function introductionIn(scenes: readonly Scene[], reporter: string): number {
  const early = scenes.slice(0, 7);
  const named = early.findIndex(({ names }) => names.includes(reporter));
  const told = early.findIndex((scene) => hasOneOf(scene, HANDS_OVER));
  return named !== -1 ? named : told !== -1 ? told : Math.min(1, scenes.length - 1);
}

/** The sentence that the reporter ends with: the last one, unless the presenter thanks after it. */
function signOffIn(scenes: readonly Scene[], reporter: string, start: number): number {
  for (let n = scenes.length - 1; n > Math.max(start, scenes.length - 4); n--) {
    const scene = scenes[n];
    if (scene === undefined) continue;
    if (
      hasOneOf(scene, ["this is", "that is the sport"]) ||
      (scene.names.includes(reporter) && !hasOneOf(scene, THANKS))
    )
      return n;
    if (hasOneOf(scene, THANKS)) return n - 1;
  }
  return scenes.length - 1;
}

function joined(voices: readonly ProposedVoice[]): readonly ProposedVoice[] {
  const runs: { from: number; to: number; voice: string | null }[] = [];
  for (const voice of voices) {
    const last = runs.at(-1);
    if (last?.voice === voice.voice) last.to = voice.to;
    else runs.push({ ...voice });
  }
  return runs;
}
