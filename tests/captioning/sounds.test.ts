import { expect, test } from "vitest";
import { placeSounds } from "../../src/derive/captioning/sounds.ts";
import { transcriptText } from "../../src/derive/captioning/transcriptText.ts";
import { CAPTION_FIGURES } from "../../src/model/captions.ts";
import { parseVtt, validateVtt } from "../../src/webvtt/index.ts";

const cue = (start: number, end: number, words: string, voice: string | null = "Ilse Marrane") => ({
  start,
  end,
  pieces: [{ voice, language: null, words }],
});

test.each([
  ["in a free stretch", { from: 6000, to: 9000 }, [6000, 9000]],
  ["no longer than a cue may stand", { from: 6000, to: 30_000 }, [6000, 12_000]],
  ["beside a cue that reaches into it", { from: 4000, to: 8000 }, [5000, 8000]],
  ["no room", { from: 1000, to: 4000 }, null],
  ["too short to read", { from: 5000, to: 5300 }, null],
])("a sound %s", (_why, span, wanted) => {
  const { cues, unplaced } = placeSounds(
    [cue(0, 5000, "Good evening.")],
    [{ text: "Sting", ...span }],
    CAPTION_FIGURES,
  );
  const sound = cues.find(({ pieces }) => pieces[0]?.words === "[Sting]");
  expect(sound === undefined ? null : [sound.start, sound.end]).toEqual(wanted);
  expect(unplaced).toHaveLength(wanted === null ? 1 : 0);
});

test("proposed voices are marked, and conform", () => {
  const text = transcriptText(
    [cue(2000, 4000, "<b> & so on"), cue(0, 2000, "Good evening.")].map((one) => ({
      ...one,
      pieces: one.pieces.map((piece) => ({ ...piece, proposed: true as const })),
    })),
    ["Could not be placed: words --> more"],
  );
  expect(text).toContain("<v.proposed Ilse Marrane>Good evening.</v>");
  expect(text).toContain("NOTE\nSpeakers marked v.proposed");
  const vtt = parseVtt(text);
  expect(vtt.cues.map(({ startTime }) => startTime)).toEqual([0, 2]);
  expect(validateVtt(vtt, "captions", "transcript.vtt")).toEqual([]);
});
