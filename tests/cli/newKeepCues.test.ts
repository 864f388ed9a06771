import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type NewOptions, newEpisode } from "../../src/actions/new.ts";
import { parseTranscript } from "../../src/read/transcript.ts";
import { cuePieces, decodeVtt, parseVtt } from "../../src/webvtt/index.ts";

const DEMO = join(import.meta.dirname, "../../content");
const ID = "2027-03-01";
let content: string;

beforeEach(async () => {
  content = await mkdtemp(join(tmpdir(), "keep-"));
  const programme = await readFile(join(DEMO, "programme.md"), "utf8");
  await writeFile(join(content, "programme.md"), programme.replace(/^own: .*\n/m, ""));
  await cp(join(DEMO, "poster.svg"), join(content, "poster.svg"));
});
afterEach(() => rm(content, { recursive: true, force: true }));

const ORDER =
  "slug,title,kind,planned,by\nhead,Headlines,headlines,0:20,Tamsin Hathersay\nlight,The light,reader,0:20,Tamsin Hathersay\n";
const CAPTIONS = `1
00:00:00,000 --> 00:00:04,000
[Opening music]

2
00:00:04,120 --> 00:00:06,480
Good evening,
and welcome.

3
00:00:06,480 --> 00:00:09,960
- How is the light?
- It burns.

4
00:00:20,000 --> 00:00:24,000
(laughter)

5
00:00:26,000 --> 00:00:29,000
The light has burned
for a hundred years.
`;

/** The episode's captions: times, and the words of each voice with their lines. */
async function made(captions: string, more: Partial<NewOptions> = {}) {
  const [transcript, runningOrder] = [join(content, "captions.txt"), join(content, "order.csv")];
  await writeFile(transcript, captions);
  await writeFile(runningOrder, ORDER);
  const now = new Date("2027-03-02T12:00:00Z");
  const options = {
    content,
    id: ID,
    transcript,
    runningOrder,
    media: [],
    clock: "media" as const,
    now,
    keepCues: true,
  };
  const { findings } = await newEpisode({ cut: [], duration: "0:40", ...options, ...more });
  const bytes = await readFile(join(content, "episodes/2027", ID, "transcript.vtt"));
  const vtt = parseVtt(decodeVtt(bytes).text);
  const cues = vtt.cues.map((cue) => ({
    at: `${cue.startTime}-${cue.endTime}`,
    says: cuePieces(vtt, cue).map(({ voice, words }) => (voice === null ? words : `${voice}: ${words}`)),
  }));
  return { findings, cues, notes: vtt.text.split("\n\n").filter((block) => block.startsWith("NOTE")), bytes };
}

describe("captions that people made", () => {
  test("keep their times, words and lines; sounds stay sounds; a dash parts voices", async () => {
    const { cues, bytes } = await made(CAPTIONS);
    expect(cues).toEqual([
      { at: "0-4", says: ["[Opening music]"] },
      { at: "4.12-6.48", says: ["Good evening,\nand welcome."] },
      { at: "6.48-9.96", says: ["Unnamed voice: How is the light?\n", "Another unnamed voice: It burns."] },
      { at: "20-24", says: ["[laughter]"] },
      { at: "26-29", says: ["The light has burned\nfor a hundred years."] },
    ]);
    expect(parseTranscript({ file: "transcript.vtt", bytes }).ok).toBe(true);
  });

  test("take the proposed voice of their words, which nobody has accepted", async () => {
    const { cues } = await made(CAPTIONS.replace("- How is the light?\n- It burns.", "How is the light?\nIt burns."));
    expect(cues[1]?.says).toEqual(["Tamsin Hathersay: Good evening,\nand welcome."]);
    expect(cues[0]?.says).toEqual(["[Opening music]"]);
  });

  test("in a break that was cut, and past the end, are kept in notes", async () => {
    const { cues, notes } = await made(CAPTIONS.replace("- How is the light?\n- It burns.", "Buy now.\nBuy two."), {
      clock: "aired",
      cut: ["0:06-0:10=break"],
      duration: "0:18",
    });
    expect(cues.map(({ at }) => at)).toEqual(["0-4", "4.12-6.48", "20-22"]);
    expect(notes.join("\n")).toContain("Heard in the break, 0:06 to 0:10: Buy now. Buy two.");
    expect(notes.join("\n")).toContain("Past the end of the recording: The light has burned for a hundred years.");
  });

  test("that have no time stand where their words are", async () => {
    const stray = CAPTIONS.replace(
      "00:00:20,000 --> 00:00:24,000\n(laughter)",
      "00:00:02,000 --> 00:00:03,000\nIt is green.",
    );
    const { cues, findings } = await made(stray.replace("- How is the light?\n- It burns.", "How is it?"));
    expect(findings.map(({ rule }) => rule)).toContain("raw-out-of-order");
    const said = cues.flatMap(({ says }) => says.map((words) => words.replace(/^[\w ]+: /, ""))).join(" ");
    for (const words of ["Good evening,", "How is it?", "It is green.", "The light has burned"])
      expect(said.split(words)).toHaveLength(2);
  });

  test.each([
    ["text with times", "[0:00] Good evening.\n\n[0:10] And welcome.\n", "holds no captions"],
    [
      "captions that roll",
      ["one two three", "four five six", "seven eight nine", "ten eleven twelve", "a b c"]
        .map(
          (line, n, all) =>
            `${n + 1}\n00:00:0${n},000 --> 00:00:0${n + 1},000\n${n === 0 ? "" : `${all[n - 1]}\n`}${line}\n`,
        )
        .join("\n"),
      "roll",
    ],
  ])("%s can't be kept as they are", async (_why, text, says) => {
    await expect(made(text)).rejects.toThrow(says);
  });
});
