import { mkdirSync, renameSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { checksumList } from "../../src/model/checksums.ts";
import { UsageError } from "../../src/model/usageError.ts";
import { digestOf } from "../../src/record/digest.ts";
import {
  auditing,
  commit,
  correcting,
  FOLDER,
  ID,
  publishing,
  rules,
  type Stage,
  stage,
  world,
} from "./recordStage.ts";

let on: Stage;
beforeEach(async () => {
  on = stage();
  await publishing(on);
  await correcting(on, { kind: "on-air", said: "Osric Tarrick" });
});
afterEach(() => on.clear());

const told = async (given = {}): Promise<string> => {
  const { io, out } = world("2026-10-10T08:00:00Z");
  await auditing(on, given, io);
  return out();
};

test("says how much was proved", async () => {
  expect(await told()).toBe("Published: 1. Nothing of them changed in silence.");
  on.remove("record.jsonl");
  rmSync(join(on.content, FOLDER, "corrections"), { recursive: true });
  expect(await told()).toBe("Published: 0. 1 not published yet. Nothing of them changed in silence.");
});

describe("a record that is missing or can't be read is not one of an episode that was never published", () => {
  const record = () => join(on.content, FOLDER, "record.jsonl");
  test.each([
    ["deleted", () => rmSync(record()), ["record-missing"]],
    ["renamed", () => renameSync(record(), `${record()}.old`), ["record-missing"]],
    [
      "a link that leads nowhere",
      () => [rmSync(record()), symlinkSync("nowhere", record())],
      ["record-missing", "file-unreadable"],
    ],
    ["a folder", () => [rmSync(record()), mkdirSync(record())], ["record-missing", "file-misplaced"]],
    ["too large", () => writeFileSync(record(), "x".repeat(16_000_001)), ["record-missing", "file-too-large"]],
    [
      "in a year's folder that was renamed",
      () => renameSync(join(on.content, FOLDER, "../../2026"), join(on.content, "episodes/old-2026")),
      ["episode-misplaced"],
    ],
  ])("%s", async (_what, change, expected) => {
    change();
    expect(rules(await auditing(on)).toSorted()).toEqual(expected.toSorted());
  });
});

test("writes nothing", async () => {
  const before = on.files().map((path) => on.read(path));
  on.edit("transcript.vtt", "fourteen", "thirteen");
  await auditing(on);
  on.edit("transcript.vtt", "thirteen", "fourteen");
  expect(on.files().map((path) => on.read(path))).toEqual(before);
});

test("names the words that version control still has, with file and line", async () => {
  commit(on);
  on.edit("transcript.vtt", "fourteen", "thirteen");
  on.edit("episode.md", "What is left", "What is gone");
  const [file = ""] = on.corrections();
  on.edit(file, "We got it", "They got it");
  commit(on);
  const findings = await auditing(on);
  expect(findings.map(({ rule, at, says }) => [rule, at.file.slice(FOLDER.length + 1), at.line, says])).toEqual([
    [
      "content-changed",
      "transcript.vtt",
      7,
      'The transcript is not the one that was published. See line 2 of its record. "fourteen" became "thirteen" (line 7).',
    ],
    [
      "content-changed",
      "episode.md",
      expect.any(Number),
      'The fields of the episode are not those that were published. See line 2 of its record. segments.1.summary: "What is left." became "What is gone.".',
    ],
    [
      "correction-edited",
      file,
      9,
      `The correction ${file.slice("corrections/".length, -".md".length)} is not as it was entered. See line 2 of its record. "We" became "They" (line 9).`,
    ],
  ]);
});

test("findings as JSON, for machines, and nothing else", async () => {
  on.edit("transcript.vtt", "fourteen", "thirteen");
  const found = JSON.parse(await told({ format: "json" })) as { findings: { rule: string; file: string }[] };
  expect(found.findings).toMatchObject([{ rule: "content-changed", file: join(on.content, FOLDER, "transcript.vtt") }]);
});

describe("against", () => {
  /** A built site as far as the audit looks at one. */
  const site = (): string => {
    const folder = join(dirname(on.content), "site");
    mkdirSync(join(folder, ID), { recursive: true });
    writeFileSync(join(folder, ID, "record.jsonl"), on.read("record.jsonl"));
    return folder;
  };
  const list = (): string => {
    const path = join(dirname(on.content), "checksums.txt");
    writeFileSync(path, checksumList([{ path: `${ID}/record.jsonl`, digest: digestOf(on.read("record.jsonl")) }]));
    return path;
  };

  test.each([
    ["a content folder", () => on.copy()],
    ["a built site", site],
    ["a checksum list", list],
  ])("%s: what goes on from it is fine, what was made anew is found", async (_what, copy) => {
    const against = copy();
    await correcting(on, { kind: "update", segment: "close" });
    expect(await auditing(on, { against })).toEqual([]);
    expect(await told({ against })).toContain(`every record goes on from ${against}`);
    on.remove("record.jsonl");
    expect(rules(await auditing(on, { against }))).toEqual(["record-missing"]);
    expect(rules(await publishing(on, {}, world("2026-10-07T08:00:00Z").io))).toEqual(["record-missing"]);
    // Whoever makes one anew has to take the corrections away first.
    const corrections = on.files().filter((path) => path.startsWith("corrections/"));
    const texts = corrections.map((path) => on.read(path));
    for (const path of corrections) on.remove(path);
    await publishing(on, {}, world("2026-10-07T08:00:00Z").io);
    corrections.forEach((path, n) => {
      on.write(path, texts[n] ?? "");
    });
    await publishing(on, {}, world("2026-10-07T08:00:00Z").io);
    expect(rules(await auditing(on))).toEqual([]);
    expect(rules(await auditing(on, { against }))).toEqual(["record-rewritten"]);
  });

  test("an episode whose folder is gone", async () => {
    const against = on.copy();
    rmSync(join(on.content, FOLDER), { recursive: true });
    expect(rules(await auditing(on, { against }))).toEqual(["record-missing"]);
  });

  test.each([
    ["nothing", "nowhere"],
    ["a folder without records", "."],
  ])("%s is a fault of the call", async (_what, path) => {
    await expect(auditing(on, { against: path === "." ? join(on.content, FOLDER) : path })).rejects.toThrow(UsageError);
  });
});
