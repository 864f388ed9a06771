import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { deskFindings, deskLook } from "../../src/actions/desk/publish.ts";
import { textOfWords } from "../../src/actions/desk/textEdit.ts";
import { openWords, wordsOf } from "../../src/actions/desk/words.ts";
import { parseVtt } from "../../src/webvtt/index.ts";

const DEMO = join(import.meta.dirname, "../../content");

describe("a published episode at the desk", () => {
  const EVENING = "2026-10-06";
  const AFTER = new Date("2026-10-12T12:00:00Z");
  const file = (name: string) => readFile(join(DEMO, "episodes/2026", EVENING, name), "utf8");

  test("has no withdrawn word, title or summary, in its words or its text", async () => {
    const [first, is] = [await file("transcript.vtt"), await openWords(DEMO, EVENING, AFTER)];
    expect(first).toContain("Sollen Town go to Hallan");
    expect(await file("episode.md")).toContain("Bran Dunmarrow on the boat");
    for (const text of [
      wordsOf(is)
        .captions.map((caption) => caption.text)
        .join(" "),
      textOfWords(is),
    ])
      expect(text.includes("go to Hallan with a lead")).toBe(false);
    expect(wordsOf(is).segments.map(({ title }) => title)).not.toContain("Bran Dunmarrow on the boat to Hallan");
  });

  test("keeps every caption's number in the file, by which findings and links name it", async () => {
    const all = parseVtt(await file("transcript.vtt")).cues;
    const { captions } = wordsOf(await openWords(DEMO, EVENING, AFTER));
    expect(captions.length).toBeLessThan(all.length - 10);
    expect(captions.map(({ n, start }) => [n, start])).toEqual(
      captions.map(({ n }) => [n, Math.round((all[n]?.startTime ?? NaN) * 1000)]),
    );
    expect(captions.at(-1)?.n).toBe(all.length - 1);
  });

  test("nothing that is found or looked at is in what was withdrawn", async () => {
    const { segments } = wordsOf(await openWords(DEMO, EVENING, AFTER));
    const sport = segments.find(({ slug }) => slug === "sport");
    const look = await deskLook(DEMO, EVENING, AFTER);
    const found = [...look.figures, ...look.findings, ...(await deskFindings(DEMO, EVENING, AFTER))];
    const inSport = found.filter(({ at }) => at !== null && sport !== undefined && sport.in < at && at < sport.out);
    expect([sport?.title, inSport]).toEqual(["Withdrawn", []]);
  });

  test("has its words as a transcript correction changed them, and as broadcast where only a note was added", async () => {
    const text = textOfWords(await openWords(DEMO, "2026-10-05", AFTER)).replace(/\s+/g, " ");
    expect(text).toContain("25 knots around the Skerrow Bank");
    expect(text).not.toContain("15 knots around the Skerrow Bank");
    expect(text).toContain("11 sailings a week");
  });
});
