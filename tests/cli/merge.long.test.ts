import { execFileSync, spawnSync } from "node:child_process";
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { audit } from "../../src/cli/audit.ts";
import { correct } from "../../src/cli/correct.ts";
import { publish } from "../../src/cli/publish.ts";
import { readRecord } from "../../src/record/entry.ts";
import { DEMO } from "../support/site.ts";
import { FOLDER, ID, publishing, rules, type Stage, stage, world } from "./recordStage.ts";

const OTHER_ID = "2026-10-06";

/** Two clones of one repository, each with a published episode, and a second episode. */
let on: Stage;
let [one, two]: string[] = [];
const AUTHOR = ["-c", "user.name=Me", "-c", "user.email=me@example.org"] as const;
const git = (folder: string, ...call: readonly string[]) =>
  spawnSync("git", [...AUTHOR, ...call], { cwd: folder, encoding: "utf8" });
const inside = (folder: string | undefined, path: string): string => join(folder ?? "", FOLDER, path);

beforeEach(async () => {
  on = stage();
  cpSync(join(DEMO, ".gitattributes"), join(on.content, ".gitattributes"));
  const programme = join(on.content, "programme.md");
  const text = readFileSync(programme, "utf8");
  writeFileSync(programme, text.replace("poster:", 'mediahosts: ["https://media.example.org"]\nposter:'));
  await publishing(on);
  const second = join(on.content, "episodes/2026", OTHER_ID);
  cpSync(join(on.content, FOLDER), second, { recursive: true });
  rmSync(join(second, "record.jsonl"));
  const file = join(second, "episode.md");
  writeFileSync(file, readFileSync(file, "utf8").replace("aired: 2026-10-05", "aired: 2026-10-06"));
  await publish({ ...OPEN, content: on.content, episode: OTHER_ID }, world("2026-10-06T20:00:00Z").io);
  git(on.content, "init", "-q", "-b", "main");
  git(on.content, "add", "-A");
  git(on.content, "commit", "-q", "-m", "As it is");
  [one, two] = ["one", "two"].map((name) => join(dirname(on.content), name));
  for (const clone of [one, two]) execFileSync("git", ["clone", "-q", on.content, clone ?? ""]);
});
afterEach(() => on.clear());

const OPEN = { reissue: null, repair: false, dryRun: false, checks: () => [] };
const CORRECTION = {
  ...{ kind: null, segment: null, at: null, field: null, said: null, now: null, every: false },
  ...{ signed: "Standards editor", supersedes: null, note: "We got it wrong.", dryRun: false, yes: true },
};
const correcting = (content: string | undefined, given: object, now: string, episode = ID) =>
  correct({ ...CORRECTION, content: content ?? "", episode, ...given }, world(now).io);
const auditing = (content: string | undefined, against: string | null = null) =>
  audit(
    { content: content ?? "", episodes: [], against, site: null, format: "text" },
    world("2026-10-10T08:00:00Z").io,
  );
const merging = (content: string | undefined, record: string | null = null, told = world("2026-10-08T08:00:00Z")) =>
  publish({ ...OPEN, content: content ?? "", episode: ID, merge: { record } }, told.io);
const commit = (folder: string | undefined): void => {
  git(folder ?? "", "add", "-A");
  git(folder ?? "", "commit", "-q", "-m", "More");
};
/** Brings the second clone's commits into the first. */
const pull = () => git(one ?? "", "pull", "-q", "--no-rebase", two ?? "", "main");
const entriesIn = (content: string | undefined) =>
  readRecord(readFileSync(inside(content, "record.jsonl"), "utf8")).lines.flatMap(({ entry }) =>
    entry === null ? [] : [entry],
  );
const correctionsIn = (content: string | undefined) => readdirSync(inside(content, "corrections")).sort();

const SAID = { kind: "on-air", said: "forty years" };
const WORDS = { kind: "transcript", said: "Osric Tarrick", now: "Osmund Tarrick" };

test("two who correct different episodes on one day at one moment: git merges, the audit and the build pass", async () => {
  await correcting(one, SAID, "2026-10-07T09:00:00Z");
  await correcting(two, SAID, "2026-10-07T09:00:00Z", OTHER_ID);
  commit(one);
  commit(two);
  expect(pull().status).toBe(0);
  expect(rules(await auditing(one))).toEqual([]);
  const out = join(dirname(on.content), "site");
  const built = await buildSite({
    content: one ?? "",
    out,
    on: null,
    now: new Date("2026-10-09T12:00:00Z"),
    drafts: false,
  });
  expect(built.findings.filter(({ level }) => level === "blocks")).toEqual([]);
  expect(readdirSync(join(out, "corrections")).filter((name) => name.startsWith("2026-10-07-"))).toHaveLength(2);
});

describe("two who write a correction by hand, with one number of one day for two episodes", () => {
  const NUMBER = "2026-10-07-1";
  const byHand = async (clone: string | undefined, id: string, front: string): Promise<void> => {
    const folder = join(clone ?? "", "episodes/2026", id, "corrections");
    mkdirSync(folder, { recursive: true });
    const text = `---\ndated: 2026-10-07T09:00:00+01:00\n${front}\nsigned: Me\n---\nWe got it wrong.\n`;
    writeFileSync(join(folder, `${NUMBER}.md`), text);
    expect(
      rules(await publish({ ...OPEN, content: clone ?? "", episode: id }, world("2026-10-07T12:00:00Z").io)),
    ).toEqual([]);
  };
  const build = (out: string) =>
    buildSite({ content: one ?? "", out, on: null, now: new Date("2026-10-09T12:00:00Z"), drafts: false });
  const renaming = (rename: string, now = "2026-10-08T08:00:00Z") =>
    publish({ ...OPEN, content: one ?? "", episode: ID, rename }, world(now).io);
  beforeEach(async () => {
    await byHand(one, ID, "kind: transcript\nsaid: Osric Tarrick\nnow: Osmund Tarrick");
    await byHand(two, OTHER_ID, "kind: on-air\nsaid: forty years");
    commit(one);
    commit(two);
    expect(pull().status).toBe(0);
  });

  test("are told how one gets another name, which its record says; nothing is lost, and the audit and the build pass", async () => {
    const out = join(dirname(on.content), "site");
    const blocked = (await build(out)).findings.filter(({ level }) => level === "blocks");
    expect(blocked.map(({ rule }) => rule)).toEqual(["address-taken"]);
    expect(blocked[0]?.mend).toMatch(
      /where it is entered already, run `afterair publish 2026-10-0[56] --rename 2026-10-07-1`/,
    );
    const text = readFileSync(inside(one, `corrections/${NUMBER}.md`), "utf8");
    expect(rules(await renaming(NUMBER))).toEqual([]);
    const [name = ""] = correctionsIn(one);
    expect(name).toMatch(/^2026-10-07-[2-9a-z]{5}\.md$/);
    expect(correctionsIn(one)).toEqual([name]);
    expect(readFileSync(inside(one, `corrections/${name}`), "utf8")).toBe(text);
    expect(entriesIn(one).map(({ what }) => what)).toEqual(["published", "corrected", "renamed"]);
    commit(one);
    expect(rules(await auditing(one))).toEqual([]);
    expect((await build(out)).findings.filter(({ level }) => level === "blocks")).toEqual([]);
    const folder = join(out, "corrections");
    expect(readdirSync(folder).filter((found) => found.startsWith("2026-10-07-"))).toEqual(
      [NUMBER, name.slice(0, -3)].sort(),
    );
    // More corrections go on from there.
    expect(rules(await correcting(one, SAID, "2026-10-09T09:00:00Z"))).toEqual([]);
    expect(rules(await auditing(one))).toEqual([]);
  });

  test("a file that a killed command left under its old name is taken away by the next", async () => {
    const text = readFileSync(inside(one, `corrections/${NUMBER}.md`), "utf8");
    await renaming(NUMBER);
    const [name = ""] = correctionsIn(one);
    writeFileSync(inside(one, `corrections/${NUMBER}.md`), text);
    await publish({ ...OPEN, content: one ?? "", episode: ID }, world("2026-10-08T09:00:00Z").io);
    expect(correctionsIn(one)).toEqual([name]);
    expect(rules(await auditing(one))).toEqual([]);
  });

  test.each([
    ["that is not there", "2026-10-07-9", /is no correction that is entered/],
    ["twice", NUMBER, /is no correction that is entered/],
  ])("no other name for one %s", async (what, id, why) => {
    if (what === "twice") await renaming(NUMBER);
    await expect(renaming(id, "2026-10-08T10:00:00Z")).rejects.toThrow(why);
  });

  test("no other name for one that another takes the place of", async () => {
    await correcting(
      one,
      { ...WORDS, said: "Osmund Tarrick", now: "Oswin Tarrick", supersedes: NUMBER },
      "2026-10-08T09:00:00Z",
    );
    await expect(renaming(NUMBER, "2026-10-08T10:00:00Z")).rejects.toThrow(
      /rename the correction of the other episode/,
    );
  });

  test("the note under the new name can't be changed, nor the entry that says so", async () => {
    await renaming(NUMBER);
    const [name = ""] = correctionsIn(one);
    const [file, record] = [inside(one, `corrections/${name}`), inside(one, "record.jsonl")];
    const [text, lines] = [readFileSync(file, "utf8"), readFileSync(record, "utf8")];
    writeFileSync(file, text.replace("wrong", "right"));
    expect(rules(await auditing(one))).toContain("correction-edited");
    writeFileSync(file, text);
    writeFileSync(record, lines.replace(`"from":"${NUMBER}"`, '"from":"2026-10-07-2"'));
    expect(rules(await auditing(one))).not.toEqual([]);
  });
});

describe("two who correct one episode", () => {
  const fork = async (ours: object = WORDS, theirs: object = SAID) => {
    await correcting(one, ours, "2026-10-07T09:00:00Z");
    await correcting(two, theirs, "2026-10-07T10:00:00Z");
    commit(one);
    commit(two);
    expect(pull().status).not.toBe(0);
  };

  test("git merges no record by itself, and the audit says what to do", async () => {
    await fork();
    expect(readFileSync(inside(one, "record.jsonl"), "utf8")).not.toContain("<<<<");
    const told = world("2026-10-08T08:00:00Z");
    await merging(one, null, told);
    expect(told.out()).toContain("merged");
    expect(told.out()).toContain("Entered.");
  });

  test("one record of both: nothing lost, whole in itself, and going on from either copy", async () => {
    await fork();
    const [ours, theirs] = [one, two].map((clone) => readFileSync(inside(clone, "record.jsonl"), "utf8"));
    expect(rules(await merging(one))).toEqual([]);
    const entries = entriesIn(one);
    expect(entries.map(({ what }) => what)).toEqual(["published", "corrected", "merged", "corrected"]);
    expect(
      entries
        .flatMap(({ correction }) => correction?.id ?? [])
        .map((id) => `${id}.md`)
        .sort(),
    ).toEqual(correctionsIn(one));
    const merged = readdirSync(inside(one, "merged"));
    expect(merged.map((name) => readFileSync(inside(one, `merged/${name}`), "utf8"))).toEqual([theirs]);
    expect(readFileSync(inside(one, "record.jsonl"), "utf8").startsWith(ours ?? "")).toBe(true);
    commit(one);
    expect(rules(await auditing(one))).toEqual([]);
    expect(rules(await auditing(one, two ?? ""))).toEqual([]);
    // The other copy takes it over, and both go on.
    expect(git(two ?? "", "pull", "-q", "--no-rebase", one ?? "", "main").status).toBe(0);
    expect(await correcting(two, { kind: "update", segment: "close" }, "2026-10-09T09:00:00Z")).toEqual([]);
    expect(rules(await auditing(two))).toEqual([]);
  });

  test("a site that was built of the other copy is built on", async () => {
    await fork();
    const out = join(dirname(on.content), "site");
    const build = (content: string | undefined) =>
      buildSite({ content: content ?? "", out, on: null, now: new Date("2026-10-09T12:00:00Z"), drafts: false });
    expect((await build(two)).site).not.toBeNull();
    expect((await build(one)).site).toBeNull();
    await merging(one);
    expect((await build(one)).findings.filter(({ level }) => level === "blocks")).toEqual([]);
    expect(readdirSync(join(out, ID, "merged"))).toEqual(readdirSync(inside(one, "merged")));
  });

  test("a merge of a merge keeps both others", async () => {
    await fork();
    await merging(one);
    commit(one);
    await correcting(two, { kind: "update", segment: "close" }, "2026-10-08T09:00:00Z");
    commit(two);
    expect(pull().status).not.toBe(0);
    expect(rules(await merging(one, null, world("2026-10-09T08:00:00Z")))).toEqual([]);
    commit(one);
    expect(entriesIn(one).map(({ what }) => what)).toEqual([
      "published",
      "corrected",
      "merged",
      "corrected",
      "merged",
      "corrected",
    ]);
    expect(rules(await auditing(one, two ?? ""))).toEqual([]);
  });

  test("what the other withdrew stays withdrawn at its own times, wherever this one has moved its segment", async () => {
    const moved = { kind: "page", segment: "ferry-timetable", field: "in", said: "0:15", now: "0:20" };
    await fork(moved, { kind: "withdrawal", segment: "ferry-timetable" });
    expect(rules(await merging(one))).toEqual([]);
    const withdrawn = entriesIn(one)
      .at(-1)
      ?.withdrawn.map(({ from, to }) => [from, to]);
    expect(withdrawn).toContainEqual([15_000, 30_000]);
    const out = join(dirname(on.content), "site");
    await buildSite({ content: one ?? "", out, on: null, now: new Date("2026-10-09T12:00:00Z"), drafts: false });
    for (const path of readdirSync(join(out, ID), { recursive: true, encoding: "utf8" })) {
      if (/\.(html|vtt|txt|json)$/.test(path))
        expect(readFileSync(join(out, ID, path), "utf8"), path).not.toContain("harbour master");
    }
  });

  test("the record with the new text goes on, whichever copy it is in", async () => {
    writeFileSync(
      inside(two, "transcript.vtt"),
      readFileSync(inside(two, "transcript.vtt"), "utf8").replace("Good night.", "Good night to you."),
    );
    const reissue = { reason: "A word was left out.", earlier: on.content };
    await publish({ ...OPEN, reissue, content: two ?? "", episode: ID }, world("2026-10-07T08:00:00Z").io);
    await fork();
    expect(rules(await merging(one))).toEqual([]);
    expect(entriesIn(one).map(({ what }) => what)).toEqual([
      "published",
      "reissued",
      "corrected",
      "merged",
      "corrected",
    ]);
    commit(one);
    expect(rules(await auditing(one))).toEqual([]);
  });

  test("by the other record's file, without version control", async () => {
    await fork();
    const other = join(dirname(on.content), "other.jsonl");
    cpSync(inside(two, "record.jsonl"), other);
    rmSync(join(one ?? "", ".git"), { recursive: true });
    expect(rules(await merging(one, other))).toEqual([]);
    expect(rules(await auditing(one, two ?? ""))).toEqual([]);
  });

  test("marks that version control left in a record are told by one finding, and merged all the same", async () => {
    rmSync(join(one ?? "", ".gitattributes"));
    await fork();
    expect(readFileSync(inside(one, "record.jsonl"), "utf8")).toContain("<<<<<<<");
    const told = await auditing(one);
    expect(rules(told)).toEqual(["record-forked"]);
    expect(told[0]?.mend).toContain(`afterair publish ${ID} --merge`);
    expect(rules(await merging(one))).toEqual([]);
    commit(one);
    expect(rules(await auditing(one))).toEqual([]);
  });
});

describe("is refused, and nothing is written", () => {
  const files = () => readdirSync(inside(one, ""), { recursive: true, encoding: "utf8" }).sort();
  test.each([
    ["where there is nothing to merge", async () => undefined, null, /has no two records/],
    ["a record that is not there", async () => undefined, "nowhere.jsonl", /nowhere\.jsonl is not there/],
    [
      "a record that was changed",
      async () => {
        await correcting(two, SAID, "2026-10-07T10:00:00Z");
        const file = inside(two, "record.jsonl");
        writeFileSync(file, readFileSync(file, "utf8").replace("2026-10-06T08", "2026-10-06T07"));
      },
      "two",
      /Line 2 of the other record/,
    ],
    [
      "a record of another episode",
      async () => cpSync(join(two ?? "", "episodes/2026", OTHER_ID, "record.jsonl"), inside(two, "record.jsonl")),
      "two",
      /belongs to the episode 2026-10-06/,
    ],
    [
      "two new texts",
      async () => {
        for (const [clone, word] of [
          [one, "all"],
          [two, "you"],
        ] as const) {
          const file = inside(clone, "transcript.vtt");
          writeFileSync(file, readFileSync(file, "utf8").replace("Good night.", `Good night, ${word}.`));
          const reissue = { reason: "A word was left out.", earlier: on.content };
          await publish({ ...OPEN, reissue, content: clone ?? "", episode: ID }, world("2026-10-07T08:00:00Z").io);
        }
      },
      "two",
      /Both records have another text/,
    ],
  ])("%s", async (_what, change, record, why) => {
    await change();
    const before = [files(), readFileSync(inside(one, "record.jsonl"), "utf8")];
    const other = record === "two" ? inside(two, "record.jsonl") : record;
    await expect(merging(one, other)).rejects.toThrow(why);
    expect([files(), readFileSync(inside(one, "record.jsonl"), "utf8")]).toEqual(before);
  });
});

describe("a merged record that was tampered with is found", () => {
  test.each([
    ["taken away", (file: string) => rmSync(file), ["merged-missing"]],
    [
      "its last line taken off",
      (file: string) => writeFileSync(file, `${readFileSync(file, "utf8").split("\n")[0]}\n`),
      ["merged-missing"],
    ],
    [
      "a line before the last changed",
      (file: string) => writeFileSync(file, readFileSync(file, "utf8").replace('"seq":1', '"seq":3')),
      ["merged-changed"],
    ],
  ])("%s", async (_what, change, expected) => {
    await correcting(one, WORDS, "2026-10-07T09:00:00Z");
    await correcting(two, SAID, "2026-10-07T10:00:00Z");
    cpSync(inside(two, "corrections"), inside(one, "corrections"), { recursive: true });
    await merging(one, inside(two, "record.jsonl"));
    const [name = ""] = readdirSync(inside(one, "merged"));
    change(inside(one, `merged/${name}`));
    const found = rules(await auditing(one)).filter((rule) => rule.startsWith("merged"));
    expect([...new Set(found)]).toEqual(expected);
  });
});

describe("line ends", () => {
  const turned = (...call: readonly string[]): string => {
    const clone = join(dirname(on.content), "turned");
    execFileSync("git", ["clone", "-q", "-c", "core.autocrlf=true", ...call, on.content, clone]);
    return clone;
  };

  test("a clone that turns them leaves these files alone", async () => {
    const clone = turned();
    expect(readFileSync(inside(clone, "transcript.vtt"), "utf8")).not.toContain("\r");
    expect(await auditing(clone)).toEqual([]);
  });

  test("without the attributes each file that was turned is one finding, that says so", async () => {
    rmSync(join(on.content, ".gitattributes"));
    commit(on.content);
    const clone = turned();
    expect(readFileSync(inside(clone, "transcript.vtt"), "utf8")).toContain("\r\n");
    const told = await auditing(clone);
    expect(told.map(({ rule }) => rule)).toContain("records-unguarded");
    const found = rules(told);
    expect(new Set(found)).toEqual(new Set(["line-ends-changed"]));
  });
});
