import fc from "fast-check";
import { expect, test } from "vitest";
import { clockMs, mediaMs } from "../../src/model/units.ts";
import { quotedWords } from "../../src/pages/quoted.ts";
import { idsOf } from "../../src/pages/segment.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { type ShownText, showText } from "../../src/record/shown.ts";
import { cue, episode, noted, segment, transcript } from "../record/broadcast.ts";
import { LATER } from "../record/laid.ts";

type Laid = ShownText["episode"]["laid"][number];

/** All words before the first mark, and all after its last, cut as the list wants them. */
function tried({ correction }: Laid, { segments }: ShownText) {
  for (const { cues } of segments) {
    const runs = cues.flatMap(({ pieces }) => pieces.flatMap((piece) => [...piece.runs, { text: " ", mark: null }]));
    const first = runs.findIndex(({ mark }) => mark?.correction.id === correction.id);
    if (first === -1) continue;
    const last = runs.findLastIndex(({ mark }) => mark?.correction.id === correction.id && mark.occurrence === 1);
    const text = (from: number, to: number) =>
      runs
        .slice(from, to)
        .map((run) => run.text)
        .join("")
        .replace(/\s+/g, " ");
    const [before, after] = [text(0, first), text(last + 1, runs.length)];
    const tail = before.replace(/^.*[.!?…]["'’”)]*\s/s, "");
    const head = /^.*?[.!?…]["'’”)]*(?=\s|$)/s.exec(after)?.[0] ?? after.trimEnd();
    return {
      before: tail.length <= 90 ? tail : `… ${tail.slice(-90).replace(/^\S*\s/, "")}`,
      was: runs[first]?.mark?.was ?? null,
      words: text(first, last + 1).trim(),
      after: head.length <= 90 ? head : `${head.slice(0, 90).replace(/\s\S*$/, "")} …`,
    };
  }
  return null;
}

test("the words around a mark are those that looking at all words gives", () => {
  const word = fc.constantFrom("nine", "sailings", "week.", "harbour”)", "  ", "\n", "Rowan!", "light?’");
  const words = fc.array(word, { minLength: 1, maxLength: 40 }).map((own) => own.join(" "));
  const said = fc.constantFrom("nine", "sailings", "Rowan", "harbour");
  fc.assert(
    fc.property(fc.array(words, { minLength: 1, maxLength: 6 }), fc.array(said, { maxLength: 4 }), (texts, all) => {
      const corrections = all.map((own, n) =>
        n % 2 === 0
          ? noted("on-air", { id: `2026-10-06-${n + 1}`, said: own, every: true })
          : transcript({ id: `2026-10-06-${n + 1}`, said: own, now: "other words", at: clockMs(n * 5000) }),
      );
      const cues = texts.map((text, n) => cue(n * 5, text));
      const laid = layCorrections(episode({ cues, corrections }), LATER);
      const shown = showText({ episode: laid, also: [] }, "2027-01-01");
      const wordsOf = quotedWords(shown);
      for (const own of shown.episode.laid) expect(wordsOf(own)).toEqual(tried(own, shown));
    }),
    { numRuns: 500 },
  );
});

test("ids of paragraphs that begin together are those that counting up from the first gives", () => {
  const text = showText(
    {
      episode: layCorrections(episode({ segments: [segment("all", 0, 40)], duration: mediaMs(40_000) }), LATER),
      also: [],
    },
    "2027-01-01",
  );
  const used = new Set<string>();
  const counted = (ms: number): string => {
    let id = `t=${Math.floor(ms / 1000)}`;
    for (let exact = ms; used.has(id); exact++) id = `t=${exact / 1000}`;
    used.add(id);
    return id;
  };
  const ids = idsOf({ ...text, draft: false, history: [], record: "", merged: [], texts: [] });
  fc.assert(
    fc.property(fc.integer({ min: 1000, max: 1010 }), (ms) => {
      expect(ids.idFor(clockMs(ms)).id).toBe(counted(ms));
    }),
    { numRuns: 500 },
  );
});
