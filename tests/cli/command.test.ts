import { spawnSync } from "node:child_process";
import { describe, expect, test } from "vitest";
import { AFTERAIR } from "../support/program.ts";
import { DEMO, DEMO_DAY } from "../support/site.ts";

/** Calls the command as people do. */
const afterair = (...args: readonly string[]) => spawnSync(process.execPath, [AFTERAIR, ...args], { encoding: "utf8" });

describe("how a call ends (0 fine, 1 findings that block, 2 wrong usage)", () => {
  test.each([
    ["help", ["--help"], 0, /Commands:/, /^$/],
    ["an unknown command", ["biuld"], 2, /^$/, /Did you mean build\?/],
    ["an unknown flag", ["build", "--draft"], 2, /^$/, /Did you mean --drafts\?/],
    ["no such content", ["check", "--content", "nowhere-at-all"], 2, /^$/, /There is no folder nowhere-at-all/],
    ["no such day", ["check", "--content", DEMO, "--on", "yesterday"], 2, /^$/, /--on takes a date/],
    ["no such episode", ["check", "--content", DEMO, "2026-10-99"], 2, /^$/, /There is no episode 2026-10-99/],
    ["a port out of reach", ["preview", "--content", DEMO, "--port", "70000"], 2, /^$/, /--port takes a whole number/],
    ["a file that isn't there", ["cues", "nowhere.vtt", "--json"], 2, /^$/, /nowhere\.vtt: can't be read/],
    ["the demo is fine", ["check", "--content", DEMO, "--on", DEMO_DAY, "--format", "github"], 0, /./, /^$/],
    [
      "the running order",
      ["check", "--content", DEMO, "--order", "2026-10-05"],
      0,
      /7:55 +-0:04 against the slot/,
      /^$/,
    ],
    ["the figures", ["check", "--content", DEMO, "--figures", "2026-10-05"], 0, /money +2,600 crown/, /^$/],
    ["the demo's record holds", ["audit", "--content", DEMO], 0, /Nothing of them changed in silence/, /^$/],
  ])("%s", (_why, args, status, stdout, stderr) => {
    const ended = afterair(...args);
    expect(ended.stderr).toMatch(stderr);
    expect(ended.stdout).toMatch(stdout);
    expect(ended.status).toBe(status);
    expect(ended.stderr).not.toContain("    at ");
  });

  test("JSON for machines: the documented shape, and nothing else on standard output", () => {
    const { stdout } = afterair("check", "--content", DEMO, "--on", DEMO_DAY, "--format", "json");
    const { findings } = JSON.parse(stdout) as { findings: readonly object[] };
    for (const finding of findings) {
      expect(Object.keys(finding)).toEqual(["rule", "level", "file", "line", "column", "seconds", "says", "mend"]);
    }
  });
});
