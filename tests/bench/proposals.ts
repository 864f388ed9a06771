import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { newEpisode } from "../../src/actions/new.ts";
import { retimeEpisode } from "../../src/actions/retime.ts";
import { formatClockExact } from "../../src/model/clock.ts";
import type { EdgeState, Episode } from "../../src/model/episode.ts";
import { blocks } from "../../src/model/finding.ts";
import {
  type ByBroadcast,
  NEAR_ENOUGH,
  POINTS_MEASURED,
  SPEAKERS_MEASURED,
  type SpeakerKind,
  speakerKindIn,
  type Tally,
} from "../../src/model/proposal.ts";
import { broadcastsIn, NothingMeasured } from "../support/broadcasts.ts";
import { sentencesOf, type Truth, truthOf } from "../support/evening.ts";
import { layProgramme } from "../support/ownProgramme.ts";
import { readArchive } from "../support/readArchive.ts";
import { leftOutOf, type Outcome, tallyOf } from "./proposalTally.ts";

const TRANSCRIPTS = ["raw.words.json", "raw.vtt", "raw.txt", "raw-noisy.txt"];

/** A broadcast: its date, its folder, and what was cut from its recording, in seconds of aired time. */
export interface Broadcast {
  readonly id: string;
  readonly folder: string;
  readonly cuts: NonNullable<Truth["cuts"]>;
}

/** Broadcasts of other programmes, by which nothing was set. */
const OTHERS = join(import.meta.dirname, "broadcasts");

/** A broadcast below a folder. */
export const broadcastIn = (folder: string, id: string): Broadcast => ({
  id,
  folder: join(folder, id),
  cuts: truthOf(join(folder, id)).cuts ?? [],
});

/** One of those in the table, to be counted anew. */
export const COUNTED = broadcastIn(OTHERS, "2026-11-04");

export interface Outcomes {
  readonly points: readonly Outcome<EdgeState>[];
  readonly speakers: readonly Outcome<SpeakerKind>[];
}

export const measuredFrom = ({ points, speakers }: Outcomes) => ({
  points: tallyOf(["at a cut", "clear", "doubtful"], points),
  speakers: tallyOf(["alone", "among others"], speakers),
});

/** What came of every proposal that `new`, and then `retime --in-points`, make of a broadcast's transcripts. */
export async function outcomesOf(broadcast: Broadcast): Promise<Outcomes> {
  const all: Outcomes[] = [];
  for (const transcript of TRANSCRIPTS)
    for (const cuts of [[], broadcast.cuts]) all.push(await outcomesIn({ ...broadcast, cuts }, transcript));
  return { points: all.flatMap(({ points }) => points), speakers: all.flatMap(({ speakers }) => speakers) };
}

async function outcomesIn({ id, folder, cuts }: Broadcast, transcript: string): Promise<Outcomes> {
  const truth = truthOf(folder);
  const content = await mkdtemp(join(tmpdir(), "proposals-"));
  try {
    await layProgramme(folder, content);
    const recording = join(content, "web.mp3");
    await writeFile(recording, "not a recording");
    const clock = (seconds: number) => formatClockExact(Math.round(seconds * 1000));
    await newEpisode({
      content,
      id,
      transcript: join(folder, transcript),
      runningOrder: join(folder, "order.csv"),
      media: [recording],
      duration: clock(truth.duration - cuts.reduce((sum, { from, to }) => sum + to - from, 0)),
      cut: cuts.map(({ from, to, why }) => `${clock(from)}-${clock(to)}=${why}`),
      now: new Date("2026-10-12T12:00:00Z"),
      clock: "aired",
    });
    const drafted = episodeIn(content);
    await retimeEpisode({ content, id, text: join(folder, "truth.txt"), inPoints: true, dryRun: false, yes: true });
    const points = [drafted, episodeIn(content)].flatMap((own) => pointsIn(own, truth));
    return { points, speakers: speakersIn(drafted, truth) };
  } finally {
    await rm(content, { recursive: true });
  }
}

function episodeIn(content: string): Episode {
  const { archive, findings } = readArchive(content);
  const [episode] = archive?.episodes ?? [];
  if (episode === undefined)
    throw new Error(`The episode can't be read: ${findings.find(blocks)?.says ?? "nothing is said"}`);
  return episode;
}

function pointsIn({ id, segments }: Episode, truth: Truth): Outcomes["points"] {
  return segments.flatMap(({ slug, in: start, proposed }) => {
    const edgeState = proposed?.edgeState ?? null;
    const own = truth.segments.find((one) => one.slug === slug);
    if (edgeState === null || own === undefined) return [];
    const right = Math.abs(start - own.in * 1000) <= NEAR_ENOUGH;
    return [{ kind: edgeState, broadcast: id, of: slug, right }];
  });
}

/** Of each sentence of the truth, who is proposed in the middle of it. */
function speakersIn({ id, segments, cues }: Episode, truth: Truth): Outcomes["speakers"] {
  return sentencesOf(truth).flatMap(({ start, end, speaker }) => {
    const middle = (start + end) * 500;
    const cue = cues.find((one) => one.start <= middle && middle < one.end);
    const segment = segments.findLast((one) => one.in <= (cue?.start ?? 0));
    const voice = cue?.pieces.length === 1 && cue.pieces[0]?.proposed === true ? cue.pieces[0].voice : null;
    if (segment === undefined || voice === null) return [];
    return [{ kind: speakerKindIn(segment.kind), broadcast: id, of: String(start), right: voice === speaker }];
  });
}

const say = (text: string) => process.stdout.write(`${text}\n`);
const tallyText = ({ right, of }: Tally) => `${right} of ${of}`.padEnd(11);

/**
 * Prints how many proposals of each kind were right, and, for each broadcast left out, what the others would have had us
 * state and what was true. Says where the table in `src/model/proposal.ts` has other figures.
 * @param folder broadcasts as `<id>/raw.vtt`, `truth.json` and so on; without one, those by which nothing
 * was set.
 */
export async function benchProposals(folder = OTHERS): Promise<void> {
  const broadcasts = broadcastsIn(folder).map((id) => broadcastIn(folder, id));
  const all: Outcomes[] = [];
  for (const broadcast of broadcasts) all.push(await outcomesOf(broadcast));
  const outcomes = { points: all.flatMap(({ points }) => points), speakers: all.flatMap(({ speakers }) => speakers) };
  if (outcomes.points.length + outcomes.speakers.length === 0)
    throw new NothingMeasured("Nothing was measured: nothing was proposed in these broadcasts.");
  const { points, speakers } = measuredFrom(outcomes);
  print(`In points within ${NEAR_ENOUGH / 1000} s`, points, POINTS_MEASURED);
  print("Sentences given to who spoke them", speakers, SPEAKERS_MEASURED);
}

type Measured = Readonly<Record<string, ByBroadcast>>;

function print(what: string, measured: Measured, table: Measured): void {
  say(`${what}; of the broadcast left out, what the others would have us state, and what was true`);
  for (const { kind, broadcast, stated, true: own } of leftOutOf(measured)) {
    const known = table[kind]?.[broadcast];
    const isKnown = known?.right === own.right && known.of === own.of;
    say(
      `  ${kind.padEnd(12)} ${broadcast}  stated ${tallyText(stated)} true ${tallyText(own)}${isKnown ? "" : "  not in the table"}`,
    );
  }
}
