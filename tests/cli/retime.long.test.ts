import { cp, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { newEpisode } from "../../src/actions/new.ts";
import { type RetimeOptions, undoRetime } from "../../src/actions/retime.ts";
import type { Ask } from "../../src/cli/recordIo.ts";
import { retimedText, retime as retiming } from "../../src/cli/retime.ts";
import { wordsIn } from "../../src/derive/align/recue.ts";
import { soundIn, turnsOf } from "../../src/derive/turns.ts";
import { captionsVtt } from "../../src/feeds/captions.ts";
import type { Episode } from "../../src/model/episode.ts";
import { blocks } from "../../src/model/finding.ts";
import { UsageError } from "../../src/model/usageError.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { showText } from "../../src/record/shown.ts";
import { parseVtt } from "../../src/webvtt/index.ts";
import { rulesOf } from "../incoming/raw.ts";
import { EVENING, editedText, truthOf } from "../support/evening.ts";
import { readArchive } from "../support/readArchive.ts";

const DEMO = join(import.meta.dirname, "../../content");
const ID = "2027-03-01";
/** Where the demo's recording was cut, as somebody measured it: a break, and beside it an agency's report. */
const CUTS = ["4:51.464-5:15.714=break", "5:15.714-5:53.019=rights"];
const TEXT = join(EVENING, "truth.txt");
let content: string;

beforeEach(async () => {
  content = await mkdtemp(join(tmpdir(), "retime-"));
  for (const name of ["programme.md", "poster.svg", "names"])
    await cp(join(DEMO, name), join(content, name), { recursive: true });
});
beforeEach(() => writeFile(join(content, "web.mp3"), "not a recording"));
afterEach(() => rm(content, { recursive: true, force: true }));

/** What many tests begin with, made once: a folder of episodes, and what making them gave. */
const kept = new Map<string, { readonly folder: string; readonly made: unknown }>();
afterAll(() => Promise.all([...kept.values()].map((one) => rm(one.folder, { recursive: true }))));
async function once<T>(name: string, make: () => Promise<T>): Promise<T> {
  const known = kept.get(name);
  if (known !== undefined) {
    await cp(known.folder, join(content, "episodes"), { recursive: true });
    return known.made as T;
  }
  const made = await make();
  const own = await mkdtemp(join(tmpdir(), "kept-"));
  await cp(join(content, "episodes"), own, { recursive: true });
  kept.set(name, { folder: own, made });
  return made;
}

const begin = (cut: readonly string[] = CUTS, transcript = "raw.vtt") =>
  once(JSON.stringify([cut, transcript]), () =>
    newEpisode({
      content,
      id: ID,
      transcript: join(EVENING, transcript),
      runningOrder: join(EVENING, "order.csv"),
      media: [join(content, "web.mp3")],
      duration: cut.length === 0 ? "7:55.465" : "6:53.910",
      cut,
      now: new Date("2026-10-12T12:00:00Z"),
      clock: "aired",
    }),
  );
/** An episode begun, and its words put in. */
const beginWithWords = (cut: readonly string[], inPoints: boolean) =>
  once(JSON.stringify([cut, inPoints]), async () => {
    await begin(cut);
    await retime({ inPoints });
  });
const retime = (more: Partial<RetimeOptions> = {}, ask: Ask | null = null) =>
  retiming({ content, id: ID, text: TEXT, inPoints: false, dryRun: false, ...more }, ask);
const edited = async (text: string) => {
  await writeFile(join(content, "edited.txt"), text);
  return join(content, "edited.txt");
};
const folder = (id = ID) => join(content, "episodes", id.slice(0, 4), id);
const file = (name: string, id = ID) => readFile(join(folder(id), name), "utf8");
const write = (name: string, text: string) => writeFile(join(folder(), name), text);

function episode(id = ID): Episode {
  const { archive, findings } = readArchive(content);
  expect(findings.filter(blocks)).toEqual([]);
  const found = archive?.episodes.find((one) => one.id === id);
  if (found === undefined) throw new Error("there is no episode");
  return found;
}
const spoken = ({ cues }: Pick<Episode, "cues">) => cues.filter((cue) => soundIn(cue) === null);
const wordsOf = (cues: Episode["cues"]) => cues.flatMap(wordsIn).map(({ text }) => text);
const textOf = (own: Episode) =>
  turnsOf(own.cues)
    .map((one) => {
      if (one.is === "sound") return `[${one.text}]`;
      const words = one.paragraphs.map(({ pieces }) => pieces.map(({ piece }) => piece.words).join(" ")).join(" ");
      return `${(one.voice ?? "").toUpperCase()}: ${words}`;
    })
    .join("\n\n");

// Outside check: the words that the editor gave, and where the broadcast was cut.
describe("no word is lost", () => {
  const truth = truthOf(EVENING);
  const words = editedText(EVENING).words.map(({ text }) => text);
  /** Of each word whether the recording has it. */
  const inRecording = truth.sentences.flatMap(({ start, text }) =>
    text.split(" ").map(() => !(start > 291.4 && start < 353)),
  );

  test.each([
    ["raw.words.json", true],
    ["raw.vtt", true],
    ["raw.vtt", false],
    ["raw.srt", true],
    ["raw.txt", true],
    ["raw-noisy.txt", true],
  ])("%s, the cuts declared, in points moved: %s; put in twice", async (transcript, inPoints) => {
    await begin(CUTS, transcript);
    for (const _time of [1, 2]) {
      await retime({ inPoints });
      const own = episode();
      expect(wordsOf(spoken(own))).toEqual(words);
      const shown = showText({ episode: layCorrections(own, "2027-03-02T00:00:00Z"), also: [] }, "2027-03-02");
      expect(shown.segments.filter(({ segment }) => segment.kind === "break").flatMap(({ cues }) => cues)).toEqual([]);
      const captions = parseVtt(captionsVtt(shown)).cues.map(({ text }) => text.replace(/<[^>]*>/g, ""));
      expect(captions.join(" ").split(/\s+/)).toEqual(words.filter((_, n) => inRecording[n]));
    }
  });

  test("a break that is only proposed, and not cut: nothing stands in it", async () => {
    await begin([], "raw.txt");
    for (const inPoints of [false, true]) {
      await retime({ inPoints });
      const own = episode();
      expect(wordsOf(spoken(own))).toEqual(words);
      const [gap] = own.segments.filter(({ kind }) => kind === "break");
      const inside = spoken(own).filter(({ start, end }) => gap !== undefined && start < gap.out && end > gap.in);
      expect(inside).toEqual([]);
    }
  });

  test("what the recogniser heard in a cut break is in a note, and in no cue", async () => {
    const { findings } = await begin(CUTS, "raw.words.json");
    expect(rulesOf(findings)).toContain("words-in-cut-break");
    const vtt = await file("transcript.vtt");
    expect(vtt).toMatch(/NOTE\nHeard in the break, 4:51 to 5:15: \S+/);
    expect(spoken(episode()).filter(({ start, end }) => start < 315_714 && end > 291_464)).toEqual([]);
  });

  test("no room outside the break: they stand in it, and that blocks", async () => {
    await begin([]);
    const before = await file("episode.md");
    await write("episode.md", before.replace(/kind: (?!break)\S+/g, "kind: break"));
    const { made, findings } = await retime();
    const [own] = findings.filter(blocks);
    expect(own?.rule).toBe("words-in-break");
    const line = (await file("transcript.vtt")).split("\n")[(own?.at.line ?? 0) - 1];
    expect(line).toContain("Good evening.");
    expect(made?.words).toBe(words.length);
    expect(wordsOf(spoken(episode()))).toEqual(words);
  });
});

describe("the same text again changes no byte", () => {
  test.each(["2026-10-05", "2026-10-06", "2026-10-07"])("the demo's %s", async (id) => {
    await mkdir(folder(id), { recursive: true });
    for (const name of ["episode.md", "transcript.vtt"]) {
      await cp(join(DEMO, "episodes/2026", id, name), join(folder(id), name));
    }
    const media = (await readdir(join(DEMO, "episodes/2026", id))).filter((name) => name.startsWith("web."));
    for (const name of media) await writeFile(join(folder(id), name), "not a recording");
    const before = [await file("transcript.vtt", id), await file("episode.md", id)];
    const text = await edited(textOf(episode(id)));
    const { made, findings } = await retime({ id, text, inPoints: true });
    expect(findings.filter(blocks)).toEqual([]);
    expect(made === null ? "" : retimedText(made, false)).toContain("(as it was: nothing was written)");
    expect([await file("transcript.vtt", id), await file("episode.md", id)]).toEqual(before);
    expect(await readdir(folder(id))).not.toContain(".replaced");
  });

  test("also with sounds, with times from a raw transcript, and in points that move", async () => {
    await begin();
    const text = await edited(
      (await readFile(TEXT, "utf8"))
        .replace("\n\n", "\n\n[Sting]\n\n")
        .replace("Good evening.", "Good\n[Door]\nevening."),
    );
    for (const times of [{}, { times: join(EVENING, "raw.words.json") }]) {
      await retime({ text, inPoints: true, ...times });
      const before = [await file("transcript.vtt"), await file("episode.md")];
      await retime({ text, inPoints: true, ...times });
      expect([await file("transcript.vtt"), await file("episode.md")]).toEqual(before);
    }
    expect((await file("transcript.vtt")).match(/No room for a sound/g)).toHaveLength(1);
  });

  test("one word corrected: the other cues stay, whatever they hold", async () => {
    await beginWithWords(CUTS, false);
    const before = (await file("transcript.vtt")).replace(/(\d --> \S+)(?=\n<v Ilse)/g, "$1 line:0");
    await write("transcript.vtt", before);
    await retime({
      text: await edited((await readFile(TEXT, "utf8")).replace("11 sailings a week", "ten sailings a week")),
    });
    const after = await file("transcript.vtt");
    const blocksOf = (vtt: string) => vtt.split("\n\n");
    const changed = blocksOf(after).filter((block) => !blocksOf(before).includes(block));
    expect(changed.length).toBeGreaterThan(0);
    expect(changed.length).toBeLessThan(4);
    expect(changed.join(" ")).toContain("ten sailings");
  });
});

describe("much of what is there would go", () => {
  const [half] = [1200];
  const partial = async () => edited((await readFile(TEXT, "utf8")).slice(0, half));
  const asking = (answer: boolean | null) => {
    const asked: string[] = [];
    const ask: Ask = {
      text: async () => null,
      choose: async () => null,
      confirm: async (question) => {
        asked.push(question);
        return answer;
      },
    };
    return { ask, asked };
  };
  beforeEach(() => beginWithWords(CUTS, false));

  test("nobody can be asked: it is refused, shows the longest passages, and leaves all as it was", async () => {
    const before = await file("transcript.vtt");
    const { made, findings } = await retime({ text: await partial() });
    expect(made).toBeNull();
    const [own] = findings.filter(blocks);
    expect(own?.rule).toBe("words-would-go");
    expect(own?.says).toMatch(/^\d+ of the \d+ words that are there would go[\s\S]*left out, \d+ words: /);
    expect(own?.mend).toContain("--yes");
    expect(await file("transcript.vtt")).toBe(before);
  });
  test.each([
    ["yes", true],
    ["no", false],
    ["gone away", null],
  ])("somebody is asked: %s", async (_why, answer) => {
    const before = await file("transcript.vtt");
    const { ask, asked } = asking(answer);
    const { made } = await retime({ text: await partial() }, ask);
    expect(asked).toHaveLength(1);
    expect(made === null).toBe(answer !== true);
    expect((await file("transcript.vtt")) === before).toBe(answer !== true);
  });
  test("--yes, a trial, and a fifth or less: no question", async () => {
    const { ask, asked } = asking(false);
    expect((await retime({ text: await partial(), dryRun: true }, ask)).made).not.toBeNull();
    const text = await readFile(TEXT, "utf8");
    await retime({ text: await edited(text.slice(0, Math.floor(text.length * 0.85))) }, ask);
    await retime({ text: await partial(), yes: true }, ask);
    expect(asked).toEqual([]);
  });
});

describe("what was replaced is kept", () => {
  test("with numbers that rise, where no reader looks; it can be put back, and that too", async () => {
    await begin();
    const [first, points] = [await file("transcript.vtt"), await file("episode.md")];
    const { made } = await retime({ inPoints: true });
    expect(made?.kept).toMatch(/\.replaced\/transcript\.1\.vtt and \S+\.replaced\/episode\.1\.md$/);
    const second = await file("transcript.vtt");
    await retime({ text: await edited((await readFile(TEXT, "utf8")).replace("Good evening.", "Good day.")) });
    expect((await readdir(join(folder(), ".replaced"))).sort()).toEqual([
      "episode.1.md",
      "transcript.1.vtt",
      "transcript.2.vtt",
    ]);
    expect(await file(".replaced/transcript.1.vtt")).toBe(first);
    expect(await file(".replaced/episode.1.md")).toBe(points);
    expect(await file(".replaced/transcript.2.vtt")).toBe(second);
    episode();
    const third = await file("transcript.vtt");
    expect((await undoRetime({ content, id: ID })).back).toEqual([`episodes/2027/${ID}/transcript.vtt`]);
    expect(await file("transcript.vtt")).toBe(second);
    await undoRetime({ content, id: ID });
    expect(await file("transcript.vtt")).toBe(third);
  });
  test("nothing to put back; nothing of a published episode", async () => {
    await begin();
    await expect(undoRetime({ content, id: ID })).rejects.toThrow(UsageError);
    await retime();
    await write("record.jsonl", "{}\n");
    const before = await file("transcript.vtt");
    expect(rulesOf((await undoRetime({ content, id: ID })).findings)).toContain("transcript-published");
    expect(await file("transcript.vtt")).toBe(before);
  });
});

describe("one segment alone", () => {
  const SPORT = "DERMOT QUENNICK: Sollen beat Ostrey by three goals to one, and that is the sport.";
  beforeEach(() => beginWithWords([], true));
  test("its words are replaced, and all other cues stay byte for byte", async () => {
    const [before, own] = [await file("transcript.vtt"), episode()];
    const sport = own.segments.find(({ slug }) => slug === "sport");
    const { made } = await retime({ segment: "sport", text: await edited(SPORT), yes: true });
    expect(made?.words).toBe(13);
    const after = await file("transcript.vtt");
    const inside = (cue: { startTime: number; endTime: number }) =>
      cue.startTime * 1000 >= (sport?.in ?? 0) && cue.startTime * 1000 < (sport?.out ?? 0);
    const others = (text: string) =>
      parseVtt(text)
        .cues.filter((cue) => !inside(cue))
        .map(({ from, to }) => text.slice(from, to));
    expect(others(after)).toEqual(others(before));
    const news = spoken(episode()).filter(({ start }) => start >= (sport?.in ?? 0) && start < (sport?.out ?? 0));
    expect(wordsOf(news).join(" ")).toBe(SPORT.replace("DERMOT QUENNICK: ", ""));
    expect(news.every(({ end }) => end <= (sport?.out ?? 0))).toBe(true);
  });
  test("most of it going is asked of its words alone", async () => {
    const { made, findings } = await retime({ segment: "sport", text: await edited(SPORT) });
    expect(made).toBeNull();
    expect(findings.find(({ rule }) => rule === "words-would-go")?.says).toMatch(/^1\d\d of the 1\d\d words/);
  });
  test.each([
    ["a slip of the pen", "spotr", "segment-unknown", "Did you mean sport?"],
    ["nothing like it", "xyzzy", "segment-unknown", "There are `headlines`"],
    ["a break", "break", "segment-is-break", "Give its words to a segment"],
  ])("%s is refused", async (_why, segment, rule, mend) => {
    const before = await file("transcript.vtt");
    const { made, findings } = await retime({ segment, text: await edited(SPORT), yes: true });
    expect(made).toBeNull();
    const [own] = findings.filter(blocks);
    expect([own?.rule, own?.mend.startsWith(mend)]).toEqual([rule, true]);
    expect(await file("transcript.vtt")).toBe(before);
  });
  test("more words than can be said in it: nothing is changed", async () => {
    const before = await file("transcript.vtt");
    const text = await edited(`DERMOT QUENNICK: ${"Sollen beat Ostrey again tonight. ".repeat(100)}`);
    expect(rulesOf((await retime({ segment: "sport", text, yes: true })).findings)).toContain("words-without-room");
    expect(await file("transcript.vtt")).toBe(before);
  });
});

test("a text that names nobody leaves the speakers as they were, proposals too", async () => {
  await begin();
  const voices = () =>
    spoken(episode()).flatMap(({ pieces }) => pieces.map(({ voice, proposed }) => [voice, proposed]));
  const before = new Set(voices().map(String));
  const text = (await readFile(TEXT, "utf8")).replace(/^[A-Z][A-Z ]+: /gm, "");
  await retime({ text: await edited(text) });
  expect(voices().every(([voice, proposed]) => (voice !== null) === (proposed === true))).toBe(true);
  // A turn of a word or two may be wholly in a sentence of another's.
  const after = new Set(voices().map(String));
  expect([...after].filter((voice) => !before.has(voice))).toEqual([]);
  expect(after.size).toBeGreaterThan(before.size - 2);
  expect((await file("transcript.vtt")).match(/Speakers marked v\.proposed/g)).toHaveLength(1);
});
