import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { alignWords, type RoughWord } from "../../src/listen/align.ts";
import { cepstra, RATE } from "../../src/listen/alignFeatures.ts";
import { EVENING, sentencesOf, truthOf } from "../support/evening.ts";
import { debianModel, HAS_MODEL } from "../support/listening.ts";
import { monoOf } from "../support/sounds.ts";

const WEB = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05/web.mp3");
if (!HAS_MODEL) console.warn("pocketsphinx-en-us isn't installed: no words were looked for in the sound.");

/** The demo's first minute and a half; truth.json has when each sentence was laid down there. */
const END = 90;
const heard = async (): Promise<Float32Array> => {
  const own = cepstra();
  own.take((await monoOf(WEB, RATE)).samples.subarray(0, END * RATE));
  return own.frames();
};
const sentences = sentencesOf(truthOf(EVENING)).filter(({ end }) => end < END - 2);

/** Words whose times are guesses: each sentence is thought to begin as much later as the two seconds that it may be off. */
const roughly = (texts: readonly { readonly text: string; readonly start: number }[]): readonly RoughWord[] =>
  texts.flatMap(({ text, start }, n) =>
    text.split(" ").map((word, k) => {
      const at = start * 1000 + k * 300 + (n % 2 === 0 ? 2000 : -2000);
      return { text: word, from: at, to: at + 300 };
    }),
  );

describe.skipIf(!HAS_MODEL)("words in the demo's recording", () => {
  test("are found where they are said, from times that are two seconds off", async () => {
    const frames = await heard();
    const { words } = alignWords(roughly(sentences), frames, debianModel());
    let at = 0;
    const off = sentences.map(({ text, start }) => {
      const word = words[at];
      at += text.split(" ").length;
      return Math.abs((word?.start ?? Number.POSITIVE_INFINITY) - start * 1000);
    });
    expect(off.length).toBeGreaterThan(15);
    expect(off.toSorted((a, b) => a - b)[off.length >> 1]).toBeLessThan(40);
    expect(Math.max(...off)).toBeLessThan(300);
    expect(words.every((word, n) => (word?.start ?? 0) >= (words[n - 1]?.end ?? 0))).toBe(true);
  });

  test("that nobody says are not found, and those beside them stay in their place", async () => {
    const frames = await heard();
    const [first, second, ...rest] = sentences;
    if (first === undefined || second === undefined) throw new Error("the fixture has no sentences");
    const invented = {
      text: "Subtitles were provided by the transcription service of another channel.",
      start: second.start,
    };
    const { words } = alignWords(roughly([first, invented, second, ...rest]), frames, debianModel());
    const count = first.text.split(" ").length;
    const inventedWords = words.slice(count, count + 10);
    expect(inventedWords.filter((word) => word !== null).length).toBeLessThanOrEqual(1);
    expect(Math.abs((words[count + 10]?.start ?? 0) - second.start * 1000)).toBeLessThan(100);
  });

  test("are found though a sentence that is said is not among them", async () => {
    const frames = await heard();
    const { words } = alignWords(roughly(sentences.filter((_, n) => n !== 3)), frames, debianModel());
    const before = sentences.slice(0, 3).reduce((sum, { text }) => sum + text.split(" ").length, 0);
    expect(Math.abs((words[before]?.start ?? 0) - (sentences[4]?.start ?? 0) * 1000)).toBeLessThan(150);
  });
});

test("silence has no words", () => {
  if (!HAS_MODEL) return;
  const own = cepstra();
  own.take(new Float32Array(5 * RATE));
  const { words } = alignWords(roughly([{ text: "Good evening.", start: 2.5 }]), own.frames(), debianModel());
  expect(words).toEqual([null, null]);
});

test("no words, and no sound, are no fault", () => {
  if (!HAS_MODEL) return;
  expect(alignWords([], new Float32Array(0), debianModel()).words).toEqual([]);
  expect(alignWords(roughly([{ text: "Good evening.", start: 0 }]), new Float32Array(0), debianModel()).words).toEqual([
    null,
    null,
  ]);
});
