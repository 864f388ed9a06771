import { cp, mkdtemp, readdir, readFile, rm, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type NewOptions, newEpisode } from "../../src/actions/new.ts";
import { retimeEpisode } from "../../src/actions/retime.ts";
import { madeText } from "../../src/cli/newText.ts";
import { retimedText } from "../../src/cli/retimeText.ts";
import { blocks } from "../../src/model/finding.ts";
import { UsageError } from "../../src/model/usageError.ts";
import { rulesOf } from "../incoming/raw.ts";
import { EVENING } from "../support/evening.ts";
import { readArchive } from "../support/readArchive.ts";
import { wavOf } from "../support/sounds.ts";

const DEMO = join(import.meta.dirname, "../../content");
const ID = "2027-03-01";
let content: string;

beforeEach(async () => {
  content = await mkdtemp(join(tmpdir(), "new-"));
  const programme = await readFile(join(DEMO, "programme.md"), "utf8");
  await writeFile(
    join(content, "programme.md"),
    programme.replace(/^own: .*\n/m, "mediahosts: [https://media.example.org]\n"),
  );
  await cp(join(DEMO, "poster.svg"), join(content, "poster.svg"));
  await cp(join(DEMO, "names"), join(content, "names"), { recursive: true });
});
afterEach(() => rm(content, { recursive: true, force: true }));

/** Seconds of silence: 8,000 bytes each, one channel of eight bits. */
const wav = (seconds: number): Uint8Array => wavOf([new Float32Array(seconds * 8000)], 8000, "u8");

const media = async (seconds: number, name = "web.wav") => {
  await writeFile(join(content, name), wav(seconds));
  return join(content, name);
};
const options = async (more: Partial<NewOptions> = {}): Promise<NewOptions> => ({
  content,
  id: ID,
  transcript: join(EVENING, "raw.vtt"),
  runningOrder: join(EVENING, "order.csv"),
  media: more.media ?? [await media(476)],
  cut: [],
  clock: "aired",
  now: new Date("2027-03-02T12:00:00Z"),
  ...more,
});
const file = (name: string, id = ID) => readFile(join(content, "episodes", id.slice(0, 4), id, name), "utf8");
const faults = async () => readArchive(content).findings.filter(blocks);

describe("an episode from a raw transcript, a running order and a recording", () => {
  test.each(["raw.vtt"])("%s: new, then retime; both conform", async (name) => {
    const { made, findings } = await newEpisode(await options({ transcript: join(EVENING, name) }));
    expect(findings.filter(blocks)).toEqual([]);
    expect(made?.draft.segments).toHaveLength(9);
    expect(await faults()).toEqual([]);
    expect(await file("transcript.vtt")).toContain("<v.proposed Ilse Marrane>");
    expect(rulesOf(readArchive(content).findings)).toContain("speakers-proposed");
    const retimed = await retimeEpisode({
      content,
      id: ID,
      text: join(EVENING, "truth.txt"),
      inPoints: true,
      dryRun: false,
    });
    expect(retimed.findings.filter(blocks)).toEqual([]);
    expect(await faults()).toEqual([]);
    const text = await file("transcript.vtt");
    expect(text).not.toContain("v.proposed");
    expect(text).toContain("<v Sabra Innick>We looked at every boat,\nevery day, for two years.</v>");
  });

  test("what it writes, and what it says", async () => {
    const { made, findings } = await newEpisode(await options({ title: "Fewer ferries" }));
    expect(rulesOf(findings)).toEqual(["voice-unnamed"]);
    const text = await file("episode.md");
    expect(text).toContain("title: Fewer ferries\naired: 2027-03-01T18:30:00\nduration: 7:56\n");
    expect(text).toContain("{ src: web.wav, type: audio/wav, bytes: 3808044 }");
    expect(text).toMatch(
      /slug: ferry-timetable\n {4}kind: package\n {4}title: .*\n {4}in: 0:3\d\.\d+ # proposed: clear, \d+ of \d+ such were within 2 s\n {4}planned: 1:40\n/,
    );
    expect(made === null ? "" : madeText(made)).toMatch(
      /9 segments[\s\S]*proposed, clear {5}package {4}Nine sailings a week from Sollen/,
    );
    expect((await readdir(join(content, "episodes", "2027"))).sort()).toEqual([ID]);
  });

  test("it never writes over anything", async () => {
    await newEpisode(await options());
    const before = await file("episode.md");
    await expect(newEpisode(await options({ title: "Another" }))).rejects.toThrow(UsageError);
    expect(await file("episode.md")).toBe(before);
    expect(await readdir(join(content, "episodes", "2027"))).toEqual([ID]);
  });
});

describe("what it assumes, it tells", () => {
  test.each([
    ["no running order", { runningOrder: undefined }, ["order-missing", "title-assumed"]],
    ["a second edition", { id: `${ID}-late` }, ["aired-assumed", "title-assumed"]],
    [
      "a recording on another host",
      { media: ["https://media.example.org/a.mp3"] },
      ["duration-assumed", "title-assumed"],
    ],
    ["no recording", { media: [] }, ["duration-assumed", "title-assumed"]],
    ["a day that is to come", { now: new Date("2027-03-01T18:29:00Z") }, ["day-in-future", "title-assumed"]],
    ["a Saturday, of a programme of weeknights", { id: "2027-02-27" }, ["day-outside-slot", "title-assumed"]],
  ])("%s", async (_why, more, rules) => {
    const { runningOrder, ...given } = await options(more as Partial<NewOptions>);
    const { findings } = await newEpisode({ ...given, ...(runningOrder === undefined ? {} : { runningOrder }) });
    // Whom the words don't tell surely; where there is no running order, no speakers are proposed.
    const unnamed = rules.includes("order-missing") ? [] : ["voice-unnamed"];
    expect(rulesOf(findings).sort()).toEqual([...rules, ...unnamed]);
    expect(findings.every(({ mend }) => mend !== "")).toBe(true);
  });

  test("a host that programme.md does not name is refused before anything is written", async () => {
    const { made, findings } = await newEpisode(await options({ media: ["https://elsewhere.example.org/a.mp3"] }));
    expect(made).toBeNull();
    expect(findings.map(({ rule, level }) => [rule, level])).toEqual([["media-host-unknown", "blocks"]]);
    expect(findings[0]?.mend).toContain("https://elsewhere.example.org");
    expect(await readdir(content)).not.toContain("episodes");
  });

  test.each([
    ["overlap", ["1:00-2:00", "1:59-2:30=break"], /1:00-2:00 and --cut 1:59-2:30 overlap/],
    ["overlap, the later first", ["1:59-2:30", "1:00-2:00"], /overlap/],
    ["one inside another", ["1:00-2:00", "1:10-1:20"], /overlap/],
  ])("cuts that %s are refused, and nothing is written", async (_why, cut, says) => {
    await expect(newEpisode(await options({ cut }))).rejects.toThrow(says);
    expect(await readdir(content)).not.toContain("episodes");
  });

  test("an episode without a recording, of a programme without a slot", async () => {
    const programme = join(content, "programme.md");
    await writeFile(
      programme,
      (await readFile(programme, "utf8")).replace(/^(?:slot|framerate|presenters|poster|posteralt): .*\n/gm, ""),
    );
    await expect(newEpisode(await options({ media: [] }))).rejects.toThrow(/give --at/);
    const { made } = await newEpisode(await options({ media: [], at: "07:05" }));
    expect(made).not.toBeNull();
    const text = await file("episode.md");
    expect(text).toContain(`aired: ${ID}T07:05:00`);
    expect(text).not.toContain("media:");
    expect(await faults()).toEqual([]);
  });

  test("an edition with a slot of its own went out in it", async () => {
    const programme = join(content, "programme.md");
    const two =
      'slot: [{ at: "18:30", runs: "8:00", days: daily }, { at: "22:30", runs: "8:00", days: daily, edition: late }]';
    await writeFile(programme, (await readFile(programme, "utf8")).replace(/^slot: .*/m, two));
    const { findings } = await newEpisode(await options({ id: `${ID}-late` }));
    expect(rulesOf(findings)).toEqual(["voice-unnamed", "title-assumed"]);
    expect(await file("episode.md", `${ID}-late`)).toContain(`aired: ${ID}T22:30:00`);
    expect(await file("episode.md", `${ID}-late`)).toMatch(/^title: .*, 22:30"?$/m);
  });

  test("a recording shorter by its break: the break is taken to be cut", async () => {
    const { made, findings } = await newEpisode(await options({ media: [await media(454)] }));
    expect(rulesOf(findings)).toContain("cut-assumed");
    expect(made?.draft.cuts.map(({ why }) => why)).toEqual(["break"]);
    expect(await faults()).toEqual([]);
  });

  test("a transcript longer than the recording: what has no place is kept in a note", async () => {
    const { made, findings } = await newEpisode(await options({ media: [await media(380)] }));
    expect(rulesOf(findings).sort()).toEqual([
      "segments-past-media",
      "title-assumed",
      "transcript-past-media",
      "voice-unnamed",
    ]);
    expect(await faults()).toEqual([]);
    expect(await file("transcript.vtt")).toMatch(/NOTE\nPast the end of the recording: .*good night/);
    expect(await file("episode.md")).toContain("# past the end: close, close, Close");
    expect(made?.draft.segments.map(({ slug }) => slug)).not.toContain("close");
  });
});

describe("what it refuses", () => {
  test.each([
    ["a date that is none", { id: "2027-02-30" }],
    ["a way out of the folder", { id: "../2027-03-01" }],
    ["a file that is not there", { transcript: "nowhere.vtt" }],
    ["a cut that ends before it begins", { cut: ["5:00-4:00"] }],
    ["a duration of nothing", { duration: "0:00" }],
  ])("%s is a fault of the call", async (_why, more) => {
    await expect(newEpisode(await options(more))).rejects.toThrow(UsageError);
    expect(await readdir(content)).not.toContain("episodes");
  });

  test.each([
    ["an empty transcript", { transcript: "" }, "raw-empty"],
    ["no such recording", { media: ["nowhere.mp3"] }, "media-missing"],
    ["an address that is not https", { media: ["http://media.example.org/a.mp3"] }, "media-address"],
    ["a recording of no known kind", { media: ["notes.txt"] }, "media-type-unknown"],
  ])("%s blocks, and nothing is written", async (_why, more, rule) => {
    await writeFile(join(content, "empty.vtt"), "");
    const { made, findings } = await newEpisode(
      await options({ ...more, ...("transcript" in more ? { transcript: join(content, "empty.vtt") } : {}) }),
    );
    expect(made).toBeNull();
    expect(findings.filter(blocks)[0]?.rule).toContain(rule);
    expect(await readdir(content)).not.toContain("episodes");
  });
});

describe("retime", () => {
  const retimeTo = async (text: string, more: object = {}) => {
    await writeFile(join(content, "edited.txt"), text);
    return retimeEpisode({
      content,
      id: ID,
      text: join(content, "edited.txt"),
      inPoints: false,
      dryRun: false,
      ...more,
    });
  };
  beforeEach(async () => {
    await newEpisode(await options());
  });

  test("tells the word error rate and what was left out", async () => {
    const { made } = await retimeEpisode({
      content,
      id: ID,
      text: join(EVENING, "truth.txt"),
      inPoints: false,
      dryRun: true,
    });
    const told = made === null ? "" : retimedText(made, true);
    expect(told).toMatch(/Word error rate of the old words: 21\.\d % of 128\d/);
    expect(told).toMatch(/left out, \d+ words: /);
    expect(told).toContain("(not written)");
    expect(await file("transcript.vtt")).toContain("v.proposed");
  });

  test("times from the raw word list", async () => {
    const more = { times: join(EVENING, "raw.words.json") };
    await retimeEpisode({ content, id: ID, text: join(EVENING, "truth.txt"), inPoints: false, dryRun: false, ...more });
    expect(await file("transcript.vtt")).toContain("00:00:13.320 --> ");
  });

  test("accepted in points stay, proposed ones move", async () => {
    const path = join(content, "episodes", "2027", ID, "episode.md");
    const before = await readFile(path, "utf8");
    await writeFile(path, before.replace(/in: 2:2\S+ # proposed.*/, "in: 2:20"));
    await retimeEpisode({ content, id: ID, text: join(EVENING, "truth.txt"), inPoints: true, dryRun: false });
    const after = await readFile(path, "utf8");
    expect(after).toContain("in: 2:20\n");
    expect(after).toMatch(/slug: fund-court[\s\S]*?in: 3:3\S+ # proposed: (?:clear|doubtful), .*\n/);
    expect(await faults()).toEqual([]);
  });

  test("sounds: new ones where there is room, old ones kept, the others in a note", async () => {
    const text = (await readFile(join(EVENING, "truth.txt"), "utf8"))
      .replace(/\n\n/, "\n\n[Sting]\n\n")
      .replace("Good evening.", "Good\n[Door]\nevening.");
    const { findings } = await retimeTo(text);
    expect(rulesOf(findings)).toContain("sound-unplaced");
    const vtt = await file("transcript.vtt");
    expect(vtt).toMatch(/NOTE\nNo room for a sound at 0:0\d: \[Door\]/);
    expect(await faults()).toEqual([]);
  });

  test("a published transcript is never edited", async () => {
    await writeFile(join(content, "episodes", "2027", ID, "record.jsonl"), "{}\n");
    const before = await file("transcript.vtt");
    const { made, findings } = await retimeTo("TAMSIN HATHERSAY: Good evening.");
    expect(made).toBeNull();
    expect(rulesOf(findings)).toContain("transcript-published");
    expect(await file("transcript.vtt")).toBe(before);
  });

  test("an empty text, an episode that is not there", async () => {
    expect(rulesOf((await retimeTo("\n")).findings)).toContain("edited-empty");
    await expect(retimeTo("Good evening.", { id: "2027-03-02" })).rejects.toThrow(UsageError);
  });
});

test("a text that is larger than any is not read, and the call is told so", async () => {
  const transcript = join(content, "large.vtt");
  await writeFile(transcript, "");
  await truncate(transcript, 100_000_001);
  await expect(newEpisode(await options({ transcript }))).rejects.toThrow(UsageError);
  await expect(newEpisode(await options({ transcript }))).rejects.toThrow(
    /has 100000001 bytes; 100000000 are the most/,
  );
});
