import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { AFTERAIR } from "../support/program.ts";
import { DEMO, DEMO_DAY } from "../support/site.ts";

/** Calls the command as people do. */
const afterair = (...args: readonly string[]) => spawnSync(process.execPath, [AFTERAIR, ...args], { encoding: "utf8" });

describe("how a call ends (0 fine, 1 findings that block, 2 wrong usage)", () => {
  test.each([
    ["help", ["--help"], 0, /Commands:/, /^$/],
    ["an unknown command", ["biuld"], 2, /^$/, /Did you mean `build`\?/],
    ["an unknown flag", ["build", "--draft"], 2, /^$/, /Did you mean `--drafts`\?/],
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

describe("what a terminal would obey is shown to it", () => {
  const CLEAR = "\u001b[2J\u009b2J\u202E";
  const SHOWN = "\\u001b[2J\\u009b2J\\u202e";
  const GOOD = join(import.meta.dirname, "../fixtures/read/good/content");
  let root = "";
  beforeAll(() => {
    root = mkdtempSync(join(tmpdir(), "afterair-terminal-"));
    cpSync(GOOD, join(root, "content"), { recursive: true });
    const year = join(root, "content/episodes/2026");
    mkdirSync(join(year, `2026-10-07${CLEAR}`));
    writeFileSync(join(year, `2026-10-05/${CLEAR}\n0 faults, 0 warnings.md`), "");
    writeFileSync(join(root, `${CLEAR}.vtt`), `WEBVTT\n\n00:01.000 --> 00:02.000\n<b>${CLEAR}\n`);
  });
  afterAll(() => rmSync(root, { recursive: true }));

  test.each([
    ["check", ["check", "--content", "content"]],
    ["check for a code host", ["check", "--content", "content", "--format", "github"]],
    ["build", ["build", "--drafts", "--content", "content"]],
    ["the name of an episode in the call", ["publish", `2026-${CLEAR}`, "--content", "content"]],
    ["a flag that is none", ["build", `--${CLEAR}`]],
    ["cues", ["cues", `${CLEAR}.vtt`]],
    ["cues for programs", ["cues", `${CLEAR}.vtt`, "--json"]],
  ])("%s", (_why, args) => {
    const { stdout, stderr } = spawnSync(process.execPath, [AFTERAIR, ...args], { encoding: "utf8", cwd: root });
    expect(stdout + stderr).toContain(SHOWN);
    expect(stdout + stderr).not.toMatch(/[^\P{Cc}\n]|\u202E/u);
  });

  test("a name on two lines can't pass for the report's own", () => {
    const { stdout } = spawnSync(process.execPath, [AFTERAIR, "check", "--content", "content"], {
      encoding: "utf8",
      cwd: root,
    });
    expect(stdout).not.toMatch(/^0 faults/m);
  });

  test("programs read what they read before", () => {
    const { stdout } = spawnSync(process.execPath, [AFTERAIR, "cues", `${CLEAR}.vtt`, "--json"], {
      encoding: "utf8",
      cwd: root,
    });
    expect(JSON.parse(stdout)).toMatchObject({ file: `${CLEAR}.vtt`, cues: [{ text: `<b>${CLEAR}` }] });
  });
});
