import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { newEpisode } from "../../src/actions/new.ts";
import { retimeEpisode } from "../../src/actions/retime.ts";
import { MODEL_FOLDER } from "../../src/listen/alignModel.ts";
import { parseVtt, wholeMs } from "../../src/webvtt/index.ts";
import { EVENING, sentencesOf, truthOf } from "../support/evening.ts";
import { HAS_MODEL } from "../support/listening.ts";
import { monoOf, wavOf } from "../support/sounds.ts";

const DEMO = join(import.meta.dirname, "../../content");
const ID = "2027-03-01";
/** The first minute of the demo's recording; nothing was cut from it. */
const END = 60;
const sentences = sentencesOf(truthOf(EVENING)).filter(({ end }) => end < END - 2);

let content: string;
const options = () => ({
  content,
  id: ID,
  transcript: join(content, "raw.txt"),
  media: [join(content, "web.wav")],
  cut: [],
  now: new Date("2026-10-12T12:00:00Z"),
  clock: "aired" as const,
});
const listen = { model: MODEL_FOLDER, ffmpeg: "ffmpeg" };

beforeAll(async () => {
  content = await mkdtemp(join(tmpdir(), "listen-"));
  for (const name of ["programme.md", "poster.svg", "names"])
    await cp(join(DEMO, name), join(content, name), { recursive: true });
  const programme = await readFile(join(DEMO, "programme.md"), "utf8");
  const hosts = programme.replace("framerate:", "mediahosts: [https://media.example]\nframerate:");
  await writeFile(join(content, "programme.md"), hosts);
  const { samples } = await monoOf(join(DEMO, "episodes/2026/2026-10-05/web.mp3"), 16_000);
  await writeFile(join(content, "web.wav"), wavOf([samples.subarray(0, END * 16_000)], 16_000));
  // Two lumps for all sentences: inside them, the text alone says little of when something is said.
  const half = sentences.length >> 1;
  const lumps = [sentences.slice(0, half), sentences.slice(half)].map(
    (own) => `[0:${String(Math.floor(own[0]?.start ?? 0)).padStart(2, "0")}] ${own.map(({ text }) => text).join(" ")}`,
  );
  await writeFile(join(content, "raw.txt"), lumps.join("\n\n"));
  await writeFile(join(content, "edited.txt"), sentences.map(({ text }) => `TAMSIN HATHERSAY: ${text}`).join("\n\n"));
}, 300_000);
afterAll(() => rm(content, { recursive: true, force: true }));

/** How far the captions that begin with a sentence begin from its voice, in milliseconds. */
async function farFromVoice(): Promise<readonly number[]> {
  const text = await readFile(join(content, `episodes/2027/${ID}/transcript.vtt`), "utf8");
  const { cues } = parseVtt(text);
  const words = cues.map((cue) => ({
    start: wholeMs(cue.startTime),
    text: cue.text.replace(/<[^>]*>/g, "").replace(/\s+/g, " "),
  }));
  return sentences.flatMap(({ text: own, start }) => {
    const [one, ...more] = words.filter((cue) => cue.text.trim().startsWith(own.split(" ").slice(0, 4).join(" ")));
    return one === undefined || more.length > 0 ? [] : [one.start - start * 1000];
  });
}
const median = (values: readonly number[]): number =>
  values.map(Math.abs).sort((a, b) => a - b)[values.length >> 1] ?? Infinity;

if (!HAS_MODEL) console.warn("pocketsphinx-en-us isn't installed: nobody listened to the demo.");

describe.skipIf(!HAS_MODEL)("with the recording and the model", () => {
  test("captions begin with their voice, of a new episode and after a retiming", { timeout: 400_000 }, async () => {
    const { made } = await newEpisode({ ...options(), listen });
    expect(made?.listened).toMatch(/^The times of words come from the recording/);
    const fresh = await farFromVoice();
    expect(fresh.length).toBeGreaterThan(5);
    expect(median(fresh)).toBeLessThan(60);
    const text = join(content, "edited.txt");
    const again = await retimeEpisode({ content, id: ID, text, inPoints: false, dryRun: false, yes: true, listen });
    expect(again.made?.listened).toMatch(/^The times of words come from the recording/);
    expect(median(await farFromVoice())).toBeLessThan(60);
    expect(again.findings.filter(({ rule }) => rule.startsWith("sound-"))).toEqual([]);
    const episode = join(content, `episodes/2027/${ID}/episode.md`);
    await writeFile(episode, (await readFile(episode, "utf8")).replace(/^duration: .*$/m, 'duration: "1:30"'));
    const invented = "Subtitles were provided by the transcription service of another channel.";
    const credit = "Subtitles by the Caption Circle, volunteers of the islands.";
    const written = (await readFile(text, "utf8")).replace("\n\n", `\n\nTAMSIN HATHERSAY: ${invented}\n\n`);
    await writeFile(text, `TAMSIN HATHERSAY: ${credit}\n\n${written}`);
    const { findings } = await retimeEpisode({
      content,
      id: ID,
      text,
      inPoints: false,
      dryRun: true,
      yes: true,
      listen,
    });
    const told = findings.filter(({ rule }) => rule === "words-not-heard").map(({ says }) => says);
    expect(told).toHaveLength(1);
    expect(told[0]).toContain("provided by the transcription service of another");
    expect(findings.map(({ rule }) => rule)).toContain("sound-length");
    // What is told to stand in music is not told a second time.
    const unspoken = findings.filter(({ rule }) => rule === "words-unspoken").map(({ says }) => says);
    expect(unspoken).toHaveLength(1);
    expect(unspoken[0]).toContain("Subtitles by the Caption Circle");
    await rm(join(content, "episodes"), { recursive: true });
  });

  test("words that a recogniser made up over music are told, and speech that it left out", {
    timeout: 400_000,
  }, async () => {
    const left = sentences.filter(({ start }) => start < 8 || start > 20);
    const text = `[0:00] Subtitles by the Caption Circle.\n\n[0:05] ${left.map((own) => own.text).join(" ")}`;
    await writeFile(join(content, "faulty.txt"), text);
    const { findings } = await newEpisode({ ...options(), transcript: join(content, "faulty.txt"), listen });
    const told = findings.filter(({ rule }) => /^(words-unspoken|speech-without-words)$/.test(rule));
    expect(told.map(({ rule }) => rule)).toEqual(["words-unspoken", "speech-without-words"]);
    expect(told[0]?.says).toContain("Subtitles by the Caption Circle.");
    expect(told.map(({ at: { file, line } }) => [file, line])).toEqual([
      ["faulty.txt", 1],
      ["faulty.txt", 3],
    ]);
    const gone = sentences.find((own) => !left.includes(own));
    expect(Math.abs((told[1]?.seconds ?? 0) - (gone?.start ?? 0))).toBeLessThan(2);
    await rm(join(content, "episodes"), { recursive: true });
  });

  test("a recording of something else is told, and the text's own times stay", { timeout: 400_000 }, async () => {
    const { samples } = await monoOf(join(DEMO, "episodes/2026/2026-10-07/web.mp3"), 16_000);
    const file = join(content, "other.wav");
    await writeFile(file, wavOf([samples.subarray(240 * 16_000, 300 * 16_000)], 16_000));
    const { made } = await newEpisode({ ...options(), media: [file], listen });
    expect(made?.listened).toMatch(/^Too few of the words are in the recording/);
    await rm(join(content, "episodes"), { recursive: true });
  });
});

describe("without", () => {
  test.each([
    ["the model", { ...listen, model: "/nowhere" }, "web.wav", "There is no acoustic model in /nowhere"],
    ["a recording on this machine", listen, "https://media.example/web.mp3", "The recording isn't on this machine"],
    ["sound in it", { ...listen, ffmpeg: "no-such-program" }, "raw.mp3", "can't be heard"],
  ])("%s, the times come from the text, and that is said", async (_what, how, name, says) => {
    await cp(join(content, "raw.txt"), join(content, "raw.mp3"));
    const media = [name.startsWith("https:") ? name : join(content, name)];
    const { made } = await newEpisode({ ...options(), media, duration: "1:00", listen: how });
    expect(made?.listened).toContain(says);
    await rm(join(content, "episodes"), { recursive: true });
  });

  test("being asked nobody listens, and nothing is said", async () => {
    const { made } = await newEpisode(options());
    expect(made?.listened).toBeNull();
    await rm(join(content, "episodes"), { recursive: true });
  });
});
