import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { SEGMENT_KINDS } from "../../../src/model/episode.ts";
import { registerFrom } from "../../checks/measure/archive.ts";
import { readScript } from "./script.ts";
import { VOICES } from "./voices.ts";

const HERE = import.meta.dirname;
const script = readScript(readFileSync(join(HERE, "morning-slack.txt"), "utf8"));

test("every segment has a kind, and everybody who speaks a voice and an entry in the register", () => {
  const names = registerFrom(readFileSync(join(HERE, "names.csv"), "utf8")).map(({ name }) => name);
  expect(script.length).toBeGreaterThan(5);
  for (const { kind, slug, turns, by } of script) {
    expect(SEGMENT_KINDS, slug).toContain(kind);
    for (const name of by) expect(names).toContain(name);
    for (const { speaker, sentences } of turns) {
      expect(Object.keys(VOICES)).toContain(speaker);
      expect(names).toContain(speaker);
      expect(sentences.every((sentence) => /[.?!]$/.test(sentence))).toBe(true);
    }
  }
  expect(new Set(script.map(({ slug }) => slug)).size).toBe(script.length);
});

test("the recogniser's words follow one another", () => {
  const words: { start: number; end: number }[] = JSON.parse(
    readFileSync(join(HERE, "morning-slack.words.json"), "utf8"),
  );
  expect(words.length).toBeGreaterThan(1000);
  expect(words.every(({ start, end }, n) => end >= start && start >= (words[n - 1]?.start ?? 0))).toBe(true);
});
