import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { alignerInThreads } from "../../src/actions/alignThreads.ts";
import { CEPSTRA, cepstra, FRAMES, RATE } from "../../src/listen/alignFeatures.ts";
import { partsOf } from "../../src/listen/alignParts.ts";
import { EVENING, sentencesOf, truthOf } from "../support/evening.ts";
import { HAS_MODEL, modelFiles } from "../support/listening.ts";
import { monoOf } from "../support/sounds.ts";

const WEB = join(import.meta.dirname, "../../content/episodes/2026/2026-10-05/web.mp3");
/** The demo's first minute and a half, as often as it takes to be worth two threads. */
const [END, TIMES] = [90, 6];
const sentences = sentencesOf(truthOf(EVENING)).filter(({ end }) => end < END - 2);

describe.skipIf(!HAS_MODEL)("words looked for in threads", () => {
  test("are found where they are said, also where one thread's part goes over into the next", async () => {
    const own = cepstra();
    own.take((await monoOf(WEB, RATE)).samples.subarray(0, END * RATE));
    const once = own.frames().subarray(0, (END - 1) * FRAMES * CEPSTRA);
    const frames = new Float32Array(once.length * TIMES);
    for (let n = 0; n < TIMES; n++) frames.set(once, n * once.length);
    const rough = Array.from({ length: TIMES }, (_, n) => n * (END - 1) * 1000).flatMap((from) =>
      sentences.flatMap(({ text, start }) =>
        text.split(" ").map((word, k) => {
          const at = from + start * 1000 + k * 300 + 1000;
          return { text: word, from: at, to: at + 300, is: k === 0 ? from + start * 1000 : null };
        }),
      ),
    );
    expect(partsOf(rough.length, 2)).toHaveLength(2);
    const shares: number[] = [];
    const aligner = alignerInThreads(frames, modelFiles(), ["Tamsin Hathersay"], 2);
    const { words, names } = await aligner(rough, (share) => shares.push(share));
    const off = rough.flatMap(({ is }, n) =>
      is === null ? [] : [Math.abs((words[n]?.start ?? Number.POSITIVE_INFINITY) - is)],
    );
    expect(off.length).toBe(sentences.length * TIMES);
    expect(off.filter((ms) => ms > 150)).toEqual([]);
    // Said once in each round, at the same place.
    const said = sentences.find(({ text }) => text.includes("Tamsin Hathersay"))?.start ?? 0;
    expect(names).toHaveLength(TIMES);
    names.forEach(({ start }, n) => {
      expect(Math.abs(start - n * (END - 1) * 1000 - said * 1000)).toBeLessThan(2000);
    });
    expect(shares.at(-1)).toBeGreaterThan(0.9);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  });

  test("a fault in a thread is told", async () => {
    const rough = Array.from({ length: 1300 }, () => ({ text: "word", from: 0, to: 1 }));
    const files = { ...modelFiles(), mdef: new Uint8Array(8) };
    await expect(alignerInThreads(new Float32Array(CEPSTRA), files, [], 2)(rough)).rejects.toThrow();
  });
});
