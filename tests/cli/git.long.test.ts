import { execFileSync } from "node:child_process";
import {
  appendFileSync,
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { committedRecords, earlierVersions, removedRecords } from "../../src/actions/git.ts";
import { auditing, commit, correcting, FOLDER, ID, publishing, rules, type Stage, stage } from "./recordStage.ts";

let on: Stage;
beforeEach(async () => {
  on = stage();
  await publishing(on);
});
afterEach(() => on.clear());

const git = (...call: readonly string[]) =>
  execFileSync("git", ["-c", "user.name=Me", "-c", "user.email=me@example.org", ...call], {
    cwd: on.content,
    stdio: "pipe",
  }).toString();

test("the earlier versions of a file, the newest first, each once", async () => {
  commit(on);
  on.edit("transcript.vtt", "fourteen", "thirteen");
  commit(on);
  on.edit("transcript.vtt", "thirteen", "fourteen");
  commit(on);
  const versions = await earlierVersions(on.content, `${FOLDER}/transcript.vtt`);
  expect(versions.map((bytes) => /not (\w+)/.exec(Buffer.from(bytes).toString())?.[1])).toEqual([
    "fourteen",
    "thirteen",
  ]);
});

test("records of the last commit, and those that some commit took away", async () => {
  expect([...(await committedRecords(on.content))]).toEqual([]);
  commit(on);
  expect([...(await committedRecords(on.content))]).toEqual([[ID, on.read("record.jsonl")]]);
  expect(await removedRecords(on.content)).toEqual([]);
  renameSync(join(on.content, FOLDER), join(on.content, "episodes/2026/2026-10-09"));
  commit(on);
  expect([...(await committedRecords(on.content)).keys()]).toEqual(["2026-10-09"]);
  expect(await removedRecords(on.content)).toEqual([ID]);
});

describe("what version control knows is used by the audit", () => {
  test.each([
    ["a record that was taken away", () => on.remove("record.jsonl"), ["record-missing"]],
    ["a folder that was taken away", () => on.remove(""), ["record-missing"]],
    [
      "a year's folder that was renamed",
      () => renameSync(join(on.content, "episodes/2026"), join(on.content, "episodes/2016")),
      ["episode-in-wrong-year", "content-unreadable"],
    ],
    [
      "a record made anew from end to end",
      async () => {
        on.remove("record.jsonl");
        on.edit("transcript.vtt", "fourteen", "thirteen");
        await publishing(on);
      },
      ["record-rewritten"],
    ],
  ])("%s, before and after a commit of that", async (_what, change, expected) => {
    commit(on);
    await change();
    expect(rules(await auditing(on))).toEqual(expected);
    commit(on);
    // What was committed anew is found by the site or another copy only; what is missing is missing for ever.
    const rewritten = expected.filter((rule) => rule !== "record-rewritten");
    expect(rules(await auditing(on))).toEqual(rewritten);
  });

  test("goes on from what was committed: nothing to tell", async () => {
    commit(on);
    await correcting(on, { kind: "update", segment: "close" });
    expect(await auditing(on)).toEqual([]);
  });
});

/**
 * Settings of a repository that start a program, or make git go to the network (git-config(1), gitattributes(5),
 * githooks(5), git-clone(1) on partial clones). Each is set to a program that leaves a trace.
 */
const HOSTILE: readonly (readonly [key: string, value: (program: string) => string])[] = [
  ["core.fsmonitor", (program) => program],
  ["core.hooksPath", (program) => join(program, "../hooks")],
  ["core.pager", (program) => program],
  ["pager.log", (program) => program],
  ["pager.rev-list", (program) => program],
  ["core.editor", (program) => program],
  ["core.askPass", (program) => program],
  ["core.sshCommand", (program) => program],
  ["core.gitProxy", (program) => program],
  ["core.alternateRefsCommand", (program) => program],
  ["credential.helper", (program) => program],
  ["gpg.program", (program) => program],
  ["gpg.format", () => "openpgp"],
  ["log.showSignature", () => "true"],
  ["diff.external", (program) => program],
  ["diff.trace.command", (program) => program],
  ["diff.trace.textconv", (program) => program],
  ["filter.trace.clean", (program) => program],
  ["filter.trace.smudge", (program) => program],
  ["filter.trace.process", (program) => program],
  ["merge.trace.driver", (program) => program],
  ["alias.rev-list", (program) => `!${program}`],
  ["alias.cat-file", (program) => `!${program}`],
  ["uploadpack.packObjectsHook", (program) => program],
  ["extensions.partialClone", () => "origin"],
  ["remote.origin.url", (program) => `ext::${program}`],
  ["remote.origin.promisor", () => "true"],
  ["remote.origin.uploadpack", (program) => program],
  ["remote.origin.vcs", () => "ext"],
  ["protocol.allow", () => "always"],
  ["protocol.ext.allow", () => "always"],
  ["trace2.eventTarget", (program) => join(program, "../traced")],
];

test("an audit starts no program that the repository names", async () => {
  commit(on);
  on.edit("transcript.vtt", "fourteen", "thirteen");
  commit(on);
  const own = join(on.content, ".git/own");
  mkdirSync(join(own, "hooks"), { recursive: true });
  const program = join(own, "program");
  const script = `#!/bin/sh\necho "$0 $*" >> "${own}/traces"\ncat\n`;
  writeFileSync(program, script);
  chmodSync(program, 0o755);
  for (const hook of [
    "post-index-change",
    "reference-transaction",
    "post-checkout",
    "pre-auto-gc",
    "fsmonitor-watchman",
  ]) {
    for (const folder of [join(own, "hooks"), join(on.content, ".git/hooks")]) {
      mkdirSync(folder, { recursive: true });
      writeFileSync(join(folder, hook), script);
      chmodSync(join(folder, hook), 0o755);
    }
  }
  for (const [key, value] of HOSTILE) {
    const [, section = "", rest = ""] = /^([^.]+)\.(.*)$/.exec(key) ?? [];
    const at = rest.lastIndexOf(".");
    const head = at < 0 ? `[${section}]` : `[${section} "${rest.slice(0, at)}"]`;
    appendFileSync(join(on.content, ".git/config"), `${head}\n\t${rest.slice(at + 1)} = "${value(program)}"\n`);
  }
  writeFileSync(join(on.content, ".git/info/attributes"), "* diff=trace filter=trace\n");
  // An object that is missing, of a clone that promises to fetch it.
  const blob = git("rev-parse", `HEAD~1:${FOLDER}/episode.md`).trim();
  rmSync(join(on.content, ".git/objects", blob.slice(0, 2), blob.slice(2)), { force: true });
  rmSync(join(own, "traces"), { force: true });
  on.edit("episode.md", "What is left", "What is gone");
  const told = await auditing(on);
  expect(rules(told)).toContain("content-changed");
  expect(told.map(({ says }) => says).join(" ")).toContain('"fourteen" became "thirteen"');
  expect(existsSync(join(own, "traces")) ? readFileSync(join(own, "traces"), "utf8") : "").toBe("");
  expect(readdirSync(own).sort()).toEqual(["hooks", "program"]);
});

test("settings from outside lead nowhere else", async () => {
  commit(on);
  const before = process.env.GIT_DIR;
  process.env.GIT_DIR = "/nowhere";
  try {
    expect((await committedRecords(on.content)).size).toBe(1);
  } finally {
    if (before === undefined) delete process.env.GIT_DIR;
    else process.env.GIT_DIR = before;
  }
});
