import { firstWhere } from "../../model/firstWhere.ts";
import type { RegisteredName } from "../../model/programme.ts";
import { PRESENTED_ALONE } from "../../model/proposal.ts";
import type { SpokenWord } from "../../model/spoken.ts";
import { nameWord } from "../captioning/stops.ts";
import { type Echo, findEchoes, roleWordsOf, type Sounded } from "./echoes.ts";
import { withHeardNames } from "./heardNames.ts";
import { piecesOf, type Recording } from "./recording.ts";
import { type ProposedVoice, presenterIn, type Scene, type Stretch } from "./scene.ts";
import type { Sentence } from "./sentences.ts";
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

const QUESTION = new Set(
  "what how why who when where which did does do is are was were will would can could has have".split(" "),
);
const HANDS_OVER = [
  "reports",
  "report",
  "has been",
  "joins me",
  "here is",
  "here's",
  "has the",
  "was there",
  "over to",
  "our reporter",
];
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
  const parts = stretches.map((stretch): Part => {
    const first = firstFrom(stretch.in);
    const scenes = sentences.slice(first, firstFrom(stretch.out)).map((sentence, n) => {
      const span = spans[first + n] ?? { start: 0, end: 0 };
      return { ...sceneOf(sentence, words, cast), span, heard: heard?.of[first + n] ?? null };
    });
    return { stretch, scenes, clued: voiced(scenes, stretch, presenters, cast) };
  });
  const proposed = heard === null ? parts.flatMap(({ clued }) => clued) : byVoice(parts, presenters, heard);
  const told = new Map(proposed.map((one) => [one.from, one]));
  return joined(sentences.map((sentence) => told.get(sentence.from) ?? { ...sentence, voice: presenters[0] ?? null }));
}

/** In points stand a little before or after a first word; in milliseconds. */
const EDGE = 250;

function sceneOf(sentence: Sentence, words: readonly SpokenWord[], { people, echoes }: Cast): Scene {
  const text = words.slice(sentence.from, sentence.to).map((word) => nameWord(word.text));
  const begun = (word: number) => firstWhere(echoes.length, (n) => (echoes[n]?.from ?? 0) >= word);
  const inside = echoes.slice(begun(sentence.from), begun(sentence.to)).filter(({ to }) => to <= sentence.to);
  const heard = inside.map(({ name }) => name);
  return { sentence, text, names: heard.length > 0 ? heard : namedByRole(text, people) };
}

function voiced(
  scenes: readonly Scene[],
  { kind, by }: Stretch,
  presenters: readonly string[],
  { people }: Cast,
): readonly ProposedVoice[] {
  const presenter = presenterIn({ by }, presenters);
  const alone = scenes.map(({ sentence }) => ({ ...sentence, voice: presenter }));
  if (PRESENTED_ALONE.has(kind)) return alone;
  const reporter = by.find((name) => !presenters.includes(name)) ?? null;
  const second =
    reporter ??
    guestOf(
      scenes,
      people.filter(({ name }) => !presenters.includes(name) && !by.includes(name)),
    );
  if (second === null) return alone;
  const proposed =
    kind === "interview" || kind === "two-way"
      ? conversation(scenes, presenter, second)
      : report(scenes, presenter, second);
  return proposed.map((one, n) =>
    scenes[n] !== undefined && has(scenes[n], BREAK_AHEAD) ? { ...one, voice: presenter } : one,
  );
}

/** Whose role is told: two words of it or more. */
function namedByRole(text: readonly string[], people: readonly Sounded[]): readonly string[] {
  const named = people.find(({ role }) => {
    const words = roleWordsOf(role);
    return text.filter((word) => words.has(word)).length >= 2;
  });
  return named === undefined ? [] : [named.name];
}

/** Whom an interview is with: the one whose name and role are heard most. */
function guestOf(scenes: readonly Scene[], people: readonly Sounded[]): string | null {
  const all = new Set(scenes.flatMap(({ text }) => text));
  const judged = people.map(({ name, role }) => {
    const roleWords = [...roleWordsOf(role)];
    const told = roleWords.filter((word) => all.has(word)).length / Math.max(2, roleWords.length);
    return { name, sum: told + scenes.filter(({ names }) => names.includes(name)).length };
  });
  const [likeliest] = judged.sort((a, b) => b.sum - a.sum);
  return likeliest === undefined || likeliest.sum < 0.5 ? null : likeliest.name;
}

const has = ({ text }: Scene, phrases: readonly string[]): boolean => {
  const whole = ` ${text.join(" ")} `;
  return phrases.some((phrase) => whole.includes(` ${phrase} `));
};

/** Question and answer: the presenter opens, asks in short sentences, and thanks; the other one speaks between. */
function conversation(scenes: readonly Scene[], presenter: string, other: string): readonly ProposedVoice[] {
  let answering = false;
  return scenes.map((scene, n) => {
    const thanks = n >= scenes.length - 3 && scene.text.length > 4 && has(scene, THANKS);
    const asks = isQuestion(scene);
    const voice = answering && !asks && !thanks ? other : presenter;
    answering = asks || (answering && !thanks) || (thanks && scene.text.at(-1) === "you");
    return { ...scene.sentence, voice };
  });
}

function isQuestion({ text }: Scene): boolean {
  if (text.length > 12) return false;
  const [first = "", second = ""] = text;
  if (first === "tell" && second === "us") return true;
  return (
    QUESTION.has(first === "and" || first === "so" || first === "but" ? second : first) ||
    text.slice(-3).includes("what")
  );
}

/** A report: the presenter introduces the reporter, who speaks to the sign-off, with others heard between. */
function report(scenes: readonly Scene[], presenter: string, reporter: string): readonly ProposedVoice[] {
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
      (has(scene, INTRODUCES) || scene.text.length < 12) &&
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
    (has(scene, INTRODUCES) || scene.names.includes(voice) || ["but", "he", "she"].includes(scene.text[0] ?? ""))
  );
}

/** The sentence that hands over to the reporter: by name, or by what is said then; the second one at the latest. */
function introductionIn(scenes: readonly Scene[], reporter: string): number {
  const early = scenes.slice(0, 7);
  const named = early.findIndex(({ names }) => names.includes(reporter));
  const told = early.findIndex((scene) => has(scene, HANDS_OVER));
  return named !== -1 ? named : told !== -1 ? told : Math.min(1, scenes.length - 1);
}

/** The sentence that the reporter ends with: the last one, unless the presenter thanks after it. */
function signOffIn(scenes: readonly Scene[], reporter: string, start: number): number {
  for (let n = scenes.length - 1; n > Math.max(start, scenes.length - 4); n--) {
    const scene = scenes[n];
    if (scene === undefined) continue;
    if (has(scene, ["this is", "that is the sport"]) || (scene.names.includes(reporter) && !has(scene, THANKS)))
      return n;
    if (has(scene, THANKS)) return n - 1;
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
