import { checkEpisode } from "../../../src/checks/index.ts";
import type { Episode } from "../../../src/model/episode.ts";
import { clockMs } from "../../../src/model/units.ts";
import { type Random, randomFrom } from "../../support/random.ts";
import { around, episodeOf, programmeOf, subjectFrom, type Turn } from "./archive.ts";
import { GROUP_RULES } from "./broadcasts.ts";
import { type Speech, wordCount } from "./speeches.ts";
import { emptyTally, type Planted, type Tally, tallyUp } from "./tally.ts";

const turn = (text: string): Turn => ({ voice: null, segment: "a", text });

/** A phrase of one to twelve words, six to twelve times. */
function loop(sentences: string[], random: Random): Planted {
  const at = random.whole(5, sentences.length - 5);
  const phrase = (sentences[at] ?? "")
    .split(" ")
    .slice(0, random.whole(1, 12))
    .join(" ")
    .replace(/[,;:]$/, "");
  sentences.splice(at, 0, Array.from({ length: random.whole(6, 12) }, () => phrase).join(" "));
  return { name: `loop of “${phrase}”`, rules: ["phrase-loops"], isAt: () => true };
}

/** A sentence of eight words or more again, with its last 15 to 45 percent changed. */
function again(sentences: string[], random: Random): Planted {
  const long = sentences.flatMap((sentence, n) => (wordCount(sentence) >= 10 && wordCount(sentence) <= 40 ? [n] : []));
  const at = random.pick(long);
  const words = (sentences[at] ?? "").split(" ");
  const kept = Math.max(6, Math.round(words.length * (0.55 + random.next() * 0.3)));
  const other = (sentences[random.pick(long)] ?? "").split(" ").slice(-random.whole(2, 7));
  const second = [...words.slice(0, kept), ...other].join(" ");
  sentences.splice(at + 1, 0, second);
  return {
    name: `again “${second}”`,
    rules: ["sentence-said-twice"],
    isAt: ({ says }) => says.includes(words.slice(0, 5).join(" ")),
  };
}

const CREDITS = [
  "Subtitles by",
  "Transcribed by",
  "Captions by",
  "Captioned by",
  "Subtitles:",
  "Thanks for watching",
  "Translated by",
];
function credit(sentences: string[], random: Random): Planted {
  const line = `${random.pick(CREDITS)} the Northern Caption Union.`;
  sentences.splice(random.whole(0, sentences.length), 0, line);
  return { name: line, rules: ["stock-line"], isAt: ({ says }) => says.includes("Caption Union") };
}

/** Thirty to ninety words in two seconds, and then nothing until the time is right again. */
function stalled(episode: Episode, random: Random): { episode: Episode; planted: Planted } {
  const from = random.whole(5, episode.cues.length - 15);
  const count = random.whole(3, 9);
  const start = episode.cues[from]?.start ?? 0;
  const cues = episode.cues.map((cue, n) => {
    if (n < from || n >= from + count) return cue;
    const at = start + ((n - from) * 2000) / count;
    return { ...cue, start: clockMs(Math.round(at)), end: clockMs(Math.round(at + 2000 / count)) };
  });
  const until = (episode.cues[from + count]?.start ?? 0) / 1000;
  const isAt: Planted["isAt"] = ({ seconds }) => seconds !== null && seconds >= start / 1000 - 1 && seconds <= until;
  return {
    episode: { ...episode, cues },
    planted: { name: `stall of ${count} cues`, rules: ["times-stalled", "stretch-missing"], isAt },
  };
}

/** Recogniser faults put into speeches, one of each kind a speech. */
export async function measureFaults(speeches: readonly Speech[], seed: number): Promise<ReadonlyMap<string, Tally>> {
  const random = randomFrom(seed);
  const own = { ...(await around(programmeOf([]))), placeOf: ({ at }: { readonly at: Episode["at"] }) => at };
  const tallies = new Map(
    ["phrase-loops", "sentence-said-twice", "stock-line", "times-stalled"].map((rule) => [rule, emptyTally()]),
  );
  for (const speech of speeches) {
    for (const [rule, tally] of tallies) {
      const sentences = speech.sentences.slice(0, 80);
      const put = { "phrase-loops": loop, "sentence-said-twice": again, "stock-line": credit }[rule];
      const planted = put?.(sentences, random);
      const clean = episodeOf(sentences.map(turn));
      const { episode, planted: stall } =
        rule === "times-stalled" ? stalled(clean, random) : { episode: clean, planted };
      const findings = checkEpisode(subjectFrom(episode, own)).filter(({ rule: name }) =>
        GROUP_RULES.recogniser.has(name),
      );
      tallyUp(tally, stall === undefined ? [] : [stall], findings);
    }
  }
  return tallies;
}
