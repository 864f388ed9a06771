import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { UsageError } from "../../src/cli/io.ts";
import { type Files, nodeFiles } from "../../src/write/record.ts";
import { auditing, correcting, publishing, rules, type Stage, stage, world } from "./recordStage.ts";

let on: Stage;
beforeEach(() => {
  on = stage();
});
afterEach(() => on.clear());

/** The file calls, with something done before each. */
function watched(before: (call: keyof Files, path: string) => void): Files {
  const on = <K extends keyof Files>(call: K, path: string): void => before(call, path);
  return {
    read: (path) => nodeFiles.read(path),
    list: (path) => nodeFiles.list(path),
    async writeSynced(path, bytes) {
      on("writeSynced", path);
      await nodeFiles.writeSynced(path, bytes);
    },
    async create(path, text) {
      on("create", path);
      return nodeFiles.create(path, text);
    },
    async rename(from, to) {
      on("rename", from);
      await nodeFiles.rename(from, to);
    },
    async remove(path) {
      on("remove", path);
      await nodeFiles.remove(path);
    },
    async makeFolder(path) {
      on("makeFolder", path);
      await nodeFiles.makeFolder(path);
    },
    async syncFolder(path) {
      on("syncFolder", path);
      await nodeFiles.syncFolder(path);
    },
  };
}

/** A system that says no. */
const systemError = (code: string): Error => Object.assign(new Error(code), { code });

/** What everybody can see of the episode: files that no reader looks at are left out. */
const seen = (): string =>
  JSON.stringify(
    on
      .files()
      .filter((path) => !/(^|\/)\./.test(path))
      .map((path) => [path, on.read(path)]),
  );

const correction = { kind: "transcript" as const, said: "Osric Tarrick", now: "Osmund Tarrick" };
const at = (files: Files) => world("2026-10-06T09:00:00Z", null, files).io;

test("a process that ends at any call leaves the old state, or one that the next command makes the new one", async () => {
  await publishing(on);
  const old = seen();
  let [calls, states] = [0, new Set<string>()];
  await correcting(on, correction, at(watched(() => void calls++)));
  const done = seen();
  expect(calls).toBeGreaterThan(10);
  for (let last = 0; last < calls; last += 1) {
    on.clear();
    on = stage();
    await publishing(on);
    let made = 0;
    const dying = watched(() => {
      made += 1;
      if (made > last) throw new Error("gone");
    });
    await expect(correcting(on, correction, at(dying))).rejects.toThrow("gone");
    // Whatever a reader finds now, it is never an entry without its file.
    if (on.read("record.jsonl").includes('"corrected"')) expect(on.files()).toContain("corrections/2026-10-06-1.md");
    // The lock of a process that is gone names it; this process lives, so its lock is taken away here.
    await nodeFiles.remove(`${on.content}/.record.lock`);
    await publishing(on, {}, world("2026-10-06T09:00:00Z").io);
    expect([old, done]).toContain(seen());
    expect(await auditing(on)).toEqual([]);
    expect(on.files().filter((path) => path.includes("/."))).toEqual([]);
    states.add(seen());
  }
  expect(states.size).toBe(2);
});

describe("where nothing can be written", () => {
  test.each([
    ["a full disk", "ENOSPC", /the disk is full. Make room and run the command again. Nothing was changed./],
    ["a disk that can only be read", "EROFS", /a disk that can only be read/],
    ["a folder of somebody else", "EACCES", /this user may not write there/],
    ["anything else", "EIO", /the system says EIO/],
  ])("%s is told, and nothing is half written", async (_what, code, says) => {
    await publishing(on);
    const old = seen();
    for (const call of ["create", "makeFolder", "writeSynced"] as const) {
      const failing = watched((own) => {
        if (own === call) throw systemError(code);
      });
      const attempt = correcting(on, correction, at(failing));
      await expect(attempt).rejects.toThrow(UsageError);
      await expect(correcting(on, correction, at(failing))).rejects.toThrow(says);
      expect(seen()).toBe(old);
      expect(on.files().some((path) => path.endsWith(".new"))).toBe(false);
    }
    expect(await correcting(on, correction)).toEqual([]);
    expect(await auditing(on)).toEqual([]);
  });

  test("a disk that fills up at any write leaves the old state", async () => {
    await publishing(on);
    const old = seen();
    for (let room = 0; room < 3; room += 1) {
      let written = 0;
      const filling = watched((call) => {
        if (call === "writeSynced" && written++ >= room) throw systemError("ENOSPC");
      });
      await expect(correcting(on, correction, at(filling))).rejects.toThrow(/disk is full/);
      expect(seen()).toBe(old);
    }
  });

  test("a rename that fails after the decision says that the next command ends it, and it does", async () => {
    await publishing(on);
    const failing = watched((call, path) => {
      if (call === "rename" && path.endsWith(".record.jsonl.new")) throw systemError("EIO");
    });
    await expect(correcting(on, correction, at(failing))).rejects.toThrow(/the next command ends it/);
    expect((await auditing(on)).map(({ rule }) => rule)).toContain("record-write-unfinished");
    await publishing(on, {}, world("2026-10-06T09:00:00Z").io);
    expect(await auditing(on)).toEqual([]);
    expect(on.files()).toContain("corrections/2026-10-06-1.md");
  });
});

describe("two at once", () => {
  test("both land, with two numbers", async () => {
    await publishing(on);
    const [first, second] = await Promise.all([
      correcting(on, correction),
      correcting(on, { kind: "on-air", said: "forty years" }),
    ]);
    expect([rules(first), rules(second)]).toEqual([[], []]);
    expect(on.files()).toEqual([
      "corrections/2026-10-06-1.md",
      "corrections/2026-10-06-2.md",
      "episode.md",
      "record.jsonl",
      "transcript.vtt",
    ]);
    expect(on.read("record.jsonl").split("\n")).toHaveLength(4);
    expect(await auditing(on)).toEqual([]);
  });

  test("a lock of a process that is gone is broken", async () => {
    // No process has this number: Linux gives none above 4194304.
    await nodeFiles.create(
      `${on.content}/.record.lock`,
      '{"pid":99999999,"host":"elsewhere"}\n'.replace("elsewhere", (await import("node:os")).hostname()),
    );
    expect(await publishing(on)).toEqual([]);
  });
});
