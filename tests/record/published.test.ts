import { expect, test } from "vitest";
import { isPublished } from "../../src/record/entry.ts";

// What may no more be edited: beside a record that can't be read, nobody can say that nothing was published.
test.each([
  ["no record", null, false],
  ["an empty file", "", false],
  ["a whole line", '{"what":"published"}\n', true],
  ["a torn line", '{"wh', true],
])("with %s, of which %j is in the file, an episode is published: %s", (_, record, expected) => {
  expect(isPublished(record)).toBe(expected);
  expect(isPublished(record === null ? null : Buffer.from(record))).toBe(expected);
});
