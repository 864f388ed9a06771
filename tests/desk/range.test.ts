import { describe, expect, test } from "vitest";
import { plainRange } from "../../src/desk/range.ts";

describe("a Range header for a file of 1,000 bytes", () => {
  test.each([
    ["from the beginning", "bytes=0-", "bytes=0-999"],
    ["a piece", "bytes=10-19", "bytes=10-19"],
    ["the first byte", "bytes=0-0", "bytes=0-0"],
    ["past the end", "bytes=990-2000", "bytes=990-999"],
    ["the last 100", "bytes=-100", "bytes=900-999"],
    ["the last of more than there are", "bytes=-5000", "bytes=0-999"],
    ["begins past the end", "bytes=1000-", "beyond"],
    ["the last none", "bytes=-0", "beyond"],
    ["ends before it begins", "bytes=20-10", null],
    ["several parts", "bytes=0-1,5-6", null],
    ["another unit", "seconds=0-1", null],
    ["neither end", "bytes=-", null],
    ["no numbers", "bytes=a-b", null],
  ])("%s", (_why, header, wanted) => {
    expect(plainRange(header, 1000)).toBe(wanted);
  });
  test("an empty file has no piece", () => {
    expect(plainRange("bytes=0-", 0)).toBe("beyond");
  });
});
