import { describe, expect, test } from "vitest";
import { parseEdited } from "../../src/read/incoming/edited.ts";
import { rulesOf } from "./raw.ts";

const parse = (text: string) =>
  parseEdited({ file: "edited.txt", bytes: new TextEncoder().encode(text) }, ["Tamsin Hathersay", "Ruan McKell"]);
const turns = (text: string) => {
  const told: [string | null, string][] = [];
  for (const { voice, text: word } of parse(text).words) {
    const last = told.at(-1);
    if (last !== undefined && last[0] === voice) last[1] += ` ${word}`;
    else told.push([voice, word]);
  }
  return told;
};

describe("names before turns", () => {
  test.each([
    ["as the register spells it", "RUAN MCKELL: Yes.", [["Ruan McKell", "Yes."]]],
    ["small letters that are known", "tamsin hathersay: Yes.", [["Tamsin Hathersay", "Yes."]]],
    ["unknown, in capitals", "FERRY PASSENGER: Yes.", [["Ferry Passenger", "Yes."]]],
    ["a turn over two paragraphs", "TAMSIN HATHERSAY: One.\n\nTwo.", [["Tamsin Hathersay", "One. Two."]]],
    [
      "no name at first",
      "One.\nTAMSIN HATHERSAY: Two.",
      [
        [null, "One."],
        ["Tamsin Hathersay", "Two."],
      ],
    ],
    [
      "a colon that follows no name",
      "TAMSIN HATHERSAY: Well.\nAfter the break: football.",
      [["Tamsin Hathersay", "Well. After the break: football."]],
    ],
    ["a time left from the raw text", "[0:21] TAMSIN HATHERSAY: Well.", [["Tamsin Hathersay", "Well."]]],
    ["a single capital is no name", "A: one.", [[null, "A: one."]]],
  ])("%s", (_why, text, wanted) => expect(turns(text)).toEqual(wanted));
});

test("sounds on lines of their own stand before their words", () => {
  const { words, sounds } = parse("[Opening music]\nTAMSIN HATHERSAY: Good evening.\n[Sting]\n");
  expect(words).toHaveLength(2);
  expect(sounds).toEqual([
    { text: "Opening music", before: 0 },
    { text: "Sting", before: 2 },
  ]);
});

test("a stranger is told once, an empty text blocks", () => {
  expect(rulesOf(parse("RUAN MCKEL: One.\nRUAN MCKEL: Two.").findings)).toEqual(["speaker-not-in-register"]);
  expect(parse("RUAN MCKEL: One.").findings[0]?.mend).toBe("Did you mean Ruan McKell?");
  expect(parse("\n").findings.map(({ rule, level }) => [rule, level])).toEqual([["edited-empty", "blocks"]]);
});
