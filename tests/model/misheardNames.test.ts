import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type MisheardName, misheardIn, misheardNote } from "../../src/model/misheardNames.ts";
import { parseTranscript } from "../../src/read/transcript.ts";
import { composeVtt } from "../../src/webvtt/index.ts";

/** As raw transcripts and registers have them: words with single spaces, no line ends. */
const text = fc
  .array(fc.string({ unit: fc.constantFrom(..."abcÉ-'.,:<>&"), minLength: 1, maxLength: 8 }), { minLength: 1 })
  .map((words) => words.join(" "));
const one: fc.Arbitrary<MisheardName> = fc.record({
  at: fc.nat(20_000_000),
  name: text.map((name) => name.replaceAll(":", "")).filter((name) => name.trim() === name && name !== ""),
  words: text,
});

describe("the note of names that are heard", () => {
  test("gives back what was written", () => {
    fc.assert(
      fc.property(fc.array(one), (all) => {
        expect(misheardIn(misheardNote(all))).toEqual(all);
      }),
    );
  });

  test.each([
    ["another note", "Heard in the break, 1:00 to 2:00: Ruan Skelland"],
    ["an empty one", ""],
    ["a line that somebody has changed", `${misheardNote([])}\nat two Ruan Skelland: ruins\n0:02 ruins`],
  ])("%s has none", (_why, note) => {
    expect(misheardIn(note)).toEqual([]);
  });

  test("its names go with the caption that stands there, or the one before", () => {
    const all = [100, 2500, 4600].map((at) => ({ at, name: "Ruan Skelland", words: "ruins --> <b>challenge" }));
    const cues = [1000, 3000].map((start) => ({ start, end: start + 1500, payload: "Words." }));
    const bytes = new TextEncoder().encode(composeVtt({ notes: ["Another.", misheardNote(all)], cues }));
    const read = parseTranscript({ file: "transcript.vtt", bytes });
    expect(read.findings).toEqual([]);
    const heard = read.ok ? read.value.map((cue) => cue.heard?.map(({ at }) => at)) : [];
    expect(heard).toEqual([[100, 2500], [4600]]);
    expect(read.ok && read.value[0]?.heard?.[0]?.words).toBe("ruins -- > <b>challenge");
  });
});
