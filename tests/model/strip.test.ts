import { expect, test } from "vitest";
import { lyingThread, percent, tenths } from "../../src/model/strip.ts";

test("a thread is a closed box for each block, in seconds from where it begins", () => {
  expect(lyingThread([[0, 2.04]], 11)).toBe("M0 11h2v9h-2z");
  expect(
    lyingThread(
      [
        [1, 2],
        [4.5, 0.25],
      ],
      0,
      60,
    ),
  ).toBe("M61 0h2v9h-2zM64.5 0h0.3v9h-0.2z");
});

test("parts and seconds are as fine as a strip shows", () => {
  expect(percent(0.402689)).toBe("40.27%");
  expect(tenths(3.1234)).toBe(3.1);
});
