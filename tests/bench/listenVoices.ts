import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { newEpisode } from "../../src/actions/new.ts";
import { cepstra, RATE } from "../../src/listen/alignFeatures.ts";
import { MODEL_FOLDER } from "../../src/listen/alignModel.ts";
import { voicesIn } from "../../src/listen/voices.ts";
import type { Episode, TranscriptCue } from "../../src/model/episode.ts";
import { castIn, quantile, sentencesOf, type Truth, truthOf } from "../support/evening.ts";
import { layProgramme } from "../support/ownProgramme.ts";
import { randomFrom } from "../support/random.ts";
import { readArchive } from "../support/readArchive.ts";

const say = (text: string) => process.stdout.write(`${text}\n`);

type Sentences = Truth["sentences"];
type Planned = Truth["segments"][number] & { readonly kind: string; readonly by: readonly string[] };

/** Who is heard: as what a name has to be found for. */
const ROLES = ["presenter", "reporter", "guest", "clip"] as const;
type Role = (typeof ROLES)[number];

interface Counted {
  words: number;
  named: number;
  right: number;
}

/** In points, and whose words have a speaker and the right one, in what `new` makes of a broadcast, with the recording listened to and without. */
export async function benchVoices(
  folder: string,
  ids: readonly string[],
  formatsIn: (broadcast: string) => readonly string[],
): Promise<void> {
  say("What `new` makes: in points, and words with a speaker (recall and precision)");
  for (const id of ids)
    for (const format of formatsIn(join(folder, id)))
      for (const listens of [false, true]) {
        const truth = truthOf(join(folder, id));
        const { cues, segments } = await madeOf(join(folder, id), id, format, listens);
        const counted = countedIn(cues, truth);
        say(`  ${id}, ${format}, ${listens ? "with the sound" : "without"}: ${pointsText(segments, truth)}`);
        say(`    ${countedText(counted)}; ${changesIn(cues, truth)}`);
        if (listens)
          say(
            `    ${namesText(
              cues,
              truth,
              castIn(join(folder, id)).people.map(({ name }) => name),
            )}`,
          );
      }
}

type Made = Pick<Episode, "cues" | "segments">;

async function madeOf(folder: string, id: string, format: string, listens: boolean): Promise<Made> {
  const content = await mkdtemp(join(tmpdir(), "voices-"));
  try {
    await layProgramme(folder, content);
    await newEpisode({
      content,
      id,
      transcript: join(folder, format),
      runningOrder: join(folder, "order.csv"),
      media: [join(folder, "aired.mp3")],
      cut: [],
      clock: "aired",
      now: new Date(`${id}T20:00:00Z`),
      listen: listens ? { model: MODEL_FOLDER, ffmpeg: "ffmpeg" } : null,
    });
    return readArchive(content).archive?.episodes[0] ?? { cues: [], segments: [] };
  } finally {
    await rm(content, { recursive: true });
  }
}

/** How far in points are from where they were laid down, the first left out: seconds. */
function pointsText(segments: Made["segments"], truth: Truth): string {
  const starts = new Map(segments.map((segment) => [segment.slug as string, segment.in]));
  const off = truth.segments
    .slice(1)
    .map(({ slug, in: wanted }) => Math.abs((starts.get(slug) ?? Number.POSITIVE_INFINITY) / 1000 - wanted));
  const near = (seconds: number) => off.filter((one) => one <= seconds).length;
  return `in points ${quantile(off, 0.5).toFixed(2)} s at the median, ${quantile(off, 0.95).toFixed(1)} s at 95 %; ${near(0.5)} of ${off.length} within 0.5 s, ${near(2)} within 2 s`;
}

/** So far beside the sentence with the name it may be told, in milliseconds: captions are made from what was misheard. */
const BESIDE = 1000;

/** Names that are told to be heard where other words stand. */
function namesText(cues: readonly TranscriptCue[], truth: Truth, people: readonly string[]): string {
  const sentences = sentencesOf(truth);
  const said = sentences.reduce((sum, { text }) => sum + people.filter((name) => text.includes(name)).length, 0);
  const told = cues.flatMap(({ heard = [] }) => heard);
  const right = told.filter(({ at, name }) =>
    sentences.some(
      ({ start, end, text }) => text.includes(name) && at > start * 1000 - BESIDE && at < end * 1000 + BESIDE,
    ),
  );
  return `names of people: ${said} said, ${told.length} told to be heard where other words stand, ${right.length} of them rightly`;
}

/** A caption may stand this long into the pause before the next: milliseconds. */
const LINGERS = 300;

/** Words lie evenly in their sentence: a speaker has more than one. */
function countedIn(cues: readonly TranscriptCue[], truth: Truth): ReadonlyMap<Role, Counted> {
  const counted = new Map(ROLES.map((role) => [role, { words: 0, named: 0, right: 0 }]));
  const sentences = sentencesOf(truth);
  const presenter = sentences[0]?.speaker ?? "";
  for (const { start, end, speaker, spoken } of sentences) {
    const segment = truth.segments.findLast((one) => one.in <= start) as Planned | undefined;
    const own = counted.get(roleOf(speaker, presenter, segment));
    const words = spoken.split(" ");
    words.forEach((_, n) => {
      const voice = voiceAt(cues, start + ((end - start) * (n + 0.5)) / words.length);
      if (own === undefined) return;
      own.words++;
      if (voice !== null) own.named++;
      if (voice === speaker) own.right++;
    });
  }
  return counted;
}

/** @param seconds of the episode's clock. */
function voiceAt(cues: readonly TranscriptCue[], seconds: number): string | null {
  const at = seconds * 1000;
  return cues.findLast((one) => one.start <= at && at < one.end + LINGERS)?.pieces[0]?.voice ?? null;
}

/** Changes of speaker between sentences that follow one another; nobody named counts as somebody else. */
function changesIn(cues: readonly TranscriptCue[], truth: Truth): string {
  const told = sentencesOf(truth).map(({ start, end, speaker }) => ({
    speaker,
    voice: voiceAt(cues, (start + end) / 2),
  }));
  let [both, said, real] = [0, 0, 0];
  told.forEach(({ speaker, voice }, n) => {
    const before = told[n - 1];
    if (before === undefined) return;
    const [isSaid, isReal] = [voice !== before.voice, speaker !== before.speaker];
    if (isSaid) said++;
    if (isReal) real++;
    if (isSaid && isReal) both++;
  });
  return `changes found ${(both / real).toFixed(2)}, rightly told ${(both / said).toFixed(2)}`;
}

function roleOf(speaker: string, presenter: string, segment: Planned | undefined): Role {
  if (speaker === presenter) return "presenter";
  if (segment?.by.includes(speaker) === true) return "reporter";
  return segment?.kind === "interview" || segment?.kind === "two-way" ? "guest" : "clip";
}

function countedText(counted: ReadonlyMap<Role, Counted>): string {
  const all = [...counted.values()].reduce((sum, own) => ({
    words: sum.words + own.words,
    named: sum.named + own.named,
    right: sum.right + own.right,
  }));
  const rate = (part: number, whole: number) => (whole === 0 ? "-" : (part / whole).toFixed(3));
  return [["all", all] as const, ...counted]
    .filter(([, { words }]) => words > 0)
    .map(([role, { words, named, right }]) => `${role} ${rate(right, words)} and ${rate(right, named)} (${words})`)
    .join("; ");
}

/** A person, and what is said: one channel at `RATE`. */
export interface Person {
  readonly name: string;
  readonly sayings: readonly Float32Array[];
}

/** How long what is put together is, in seconds, and how many sayings a turn has. */
const [LENGTH, TURN] = [480, 4] as const;

/** Turns of one to four sayings by people in a random order, with pauses: changes of voice and grouping. */
export function benchGrouping(people: readonly Person[], seed: number): void {
  const random = randomFrom(seed);
  const own = cepstra();
  const sentences: { start: number; end: number; speaker: string }[] = [];
  let [at, last] = [0, ""];
  const take = (samples: Float32Array) => {
    own.take(samples);
    at += samples.length / RATE;
  };
  while (at < LENGTH) {
    const person = random.pick(people.filter(({ name }) => name !== last));
    last = person.name;
    for (let n = random.whole(1, TURN); n > 0; n--) {
      const start = at;
      take(random.pick(person.sayings));
      sentences.push({ start, end: at, speaker: person.name });
      take(
        Float32Array.from(
          { length: Math.round((0.25 + 0.3 * random.next()) * RATE) },
          () => (random.next() - 0.5) * 2e-4,
        ),
      );
    }
  }
  say(
    `People's prompts, ${people.length} voices, ${sentences.length} sayings: ${groupingText(own.frames(), sentences)}`,
  );
}

type Timed = Pick<Sentences[number], "start" | "end" | "speaker">;

/** Changes of voice between neighbours, and how much of a group is one person's and of a person one group's. */
export function groupingText(frames: Float32Array, sentences: readonly Timed[]): string {
  const { of } = voicesIn(
    frames,
    sentences.map(({ start, end }) => ({ start: start * 1000, end: end * 1000 })),
    { stretches: [{ kind: "speech", start: 0, end: Number.POSITIVE_INFINITY }], pauses: [] },
  );
  const told = sentences.flatMap((sentence, n) => {
    const voice = of[n] ?? null;
    return voice === null ? [] : [{ ...sentence, voice }];
  });
  let [both, said, real] = [0, 0, 0];
  told.forEach(({ voice, speaker }, n) => {
    const before = told[n - 1];
    if (before === undefined) return;
    if (voice !== before.voice) said++;
    if (speaker !== before.speaker) real++;
    if (voice !== before.voice && speaker !== before.speaker) both++;
  });
  const share = (by: (one: (typeof told)[number]) => unknown, of: (one: (typeof told)[number]) => unknown): string => {
    const groups = new Map<unknown, Map<unknown, number>>();
    for (const one of told) {
      const group = groups.get(by(one)) ?? new Map<unknown, number>();
      group.set(of(one), (group.get(of(one)) ?? 0) + one.end - one.start);
      groups.set(by(one), group);
    }
    const most = [...groups.values()].reduce((sum, group) => sum + Math.max(...group.values()), 0);
    return (most / told.reduce((sum, { start, end }) => sum + end - start, 0)).toFixed(3);
  };
  const rate = (whole: number) => (both / whole).toFixed(2);
  return (
    `changes rightly told ${rate(said)}, found ${rate(real)}; of a group's time one person's ${share(
      ({ voice }) => voice,
      ({ speaker }) => speaker,
    )}, ` +
    `of a person's time one group's ${share(
      ({ speaker }) => speaker,
      ({ voice }) => voice,
    )}`
  );
}
