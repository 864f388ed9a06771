import { expect, test } from "vitest";
import { renumbered } from "../../src/browser/desk/renumber.ts";
import type { DeskEdit } from "../../src/model/desk.ts";

const at = (...starts: readonly number[]) => starts.map((start) => ({ start }));
const SEEN = at(0, 10, 20, 30);

test.each<[string, DeskEdit, readonly { start: number }[], DeskEdit | null]>([
  [
    "the caption before it was taken out",
    { op: "words", caption: 2, text: "x", isWhole: true },
    at(0, 20, 30),
    { op: "words", caption: 1, text: "x", isWhole: true },
  ],
  [
    "the caption before it was parted",
    { op: "split", caption: 2, word: 1 },
    at(0, 10, 15, 20, 30),
    { op: "split", caption: 3, word: 1 },
  ],
  ["it was taken out itself", { op: "split", caption: 1, word: 1 }, at(0, 20, 30), null],
  [
    "a turn, with a caption before it taken out",
    { op: "accept", from: 1, to: 4 },
    at(10, 20, 30),
    { op: "accept", from: 0, to: 3 },
  ],
  [
    "a turn, with a caption in it parted",
    { op: "voice", from: 1, to: 3, voice: "A" },
    at(0, 10, 15, 20, 30),
    { op: "voice", from: 1, to: 4, voice: "A" },
  ],
  ["a turn whose last caption is no more", { op: "accept", from: 1, to: 3 }, at(0, 10, 30), null],
  ["nothing of captions", { op: "undo" }, at(0), { op: "undo" }],
])("a change that waited for another one is about the captions that somebody saw: %s", (_why, edit, now, expected) => {
  expect(renumbered(edit, SEEN, now)).toEqual(expected);
});
