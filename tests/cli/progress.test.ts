import { describe, expect, test } from "vitest";
import { progressLine, progressTo } from "../../src/cli/progress.ts";

describe("how far a build is", () => {
  test.each([
    ["halfway", 500, 1000, 10_000, "500 of 1,000 episodes, 50 a second, 0:10 left"],
    ["minutes left", 1000, 11_000, 40_000, "1,000 of 11,000 episodes, 25 a second, 6:40 left"],
    ["the end", 11_000, 11_000, 440_000, "11,000 of 11,000 episodes, 25 a second, 0:00 left"],
  ])("%s", (_why, done, all, ms, line) => {
    expect(progressLine(done, all, ms)).toBe(line);
  });

  /** A teller that keeps what it is told, on a terminal or not. */
  function teller(terminal: boolean) {
    const lines: string[] = [];
    const states: string[] = [];
    let time = 0;
    return {
      lines,
      states,
      wait(ms: number) {
        time += ms;
      },
      line: (text: string) => void lines.push(text),
      status: terminal ? (text: string) => void states.push(text) : null,
      now: () => time,
    };
  }

  test("short builds say nothing, long ones now and then, and the line is cleared at the end", () => {
    const own = teller(true);
    const progress = progressTo(own, false);
    progress.begin(100);
    progress.done(10);
    expect(own.states).toEqual([]);
    own.wait(2000);
    progress.done(10);
    progress.done(10);
    expect(own.states).toEqual(["20 of 100 episodes, 10 a second, 0:08 left"]);
    progress.end();
    expect(own.states.at(-1)).toBe("");
  });

  test("into a pipe, nothing", () => {
    const own = teller(false);
    const progress = progressTo(own, false);
    progress.begin(100);
    own.wait(5000);
    progress.done(50);
    progress.made("2026-10-05/", 9, "its files changed");
    progress.end();
    expect(own.lines).toEqual([]);
  });

  test("verbose, why each page was made anew", () => {
    const own = teller(false);
    const progress = progressTo(own, true);
    progress.made("2026-10-05/", 9, "its files changed");
    progress.made("feed.xml", 0, "the front pages changed");
    expect(own.lines).toEqual(["2026-10-05/ (9 pages): its files changed", "feed.xml: the front pages changed"]);
  });
});
