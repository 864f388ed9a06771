import { utimes } from "node:fs/promises";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { UsageError } from "../../src/model/usageError.ts";
import { type Owner, ownerHere, ownerText } from "../../src/write/owner.ts";
import { changeRecord, type Files, nodeFiles } from "../../src/write/record.ts";
import { auditing, correcting, publishing, rules, type Stage, stage, world } from "./recordStage.ts";

let on: Stage;
beforeEach(() => {
  on = stage();
});
afterEach(() => on.clear());

/** The calls that change something. */
const CHANGES = [
  "writeSynced",
  "create",
  "rename",
  "remove",
  "removeFolder",
  "removeEmpty",
  "makeFolder",
  "syncFolder",
] as const;

/** The file calls, with something done before each that changes something. */
function watched(before: (call: keyof Files, path: string) => void): Files {
  const own: Record<string, unknown> = { ...nodeFiles };
  for (const call of CHANGES) {
    const real = nodeFiles[call] as (path: string, ...rest: unknown[]) => Promise<unknown>;
    own[call] = async (path: string, ...rest: unknown[]) => {
      before(call, path);
      return real(path, ...rest);
    };
  }
  return own as unknown as Files;
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
    if (on.read("record.jsonl").includes('"corrected"')) expect(on.corrections()).toHaveLength(1);
    // The lock of a process that is gone names it; this process lives, so its lock is taken away here.
    await nodeFiles.removeFolder(`${on.content}/.record.lock`);
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
    for (const call of ["makeFolder", "writeSynced"] as const) {
      const failing = watched((own) => {
        if (own === call) throw systemError(code);
      });
      const attempt = correcting(on, correction, at(failing));
      await expect(attempt).rejects.toThrow(UsageError);
      await expect(correcting(on, correction, at(failing))).rejects.toThrow(says);
      expect(seen()).toBe(old);
      expect(on.files().filter((path) => path.startsWith("."))).toEqual([]);
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
      if (call === "rename" && path.endsWith("/record.jsonl")) throw systemError("EIO");
    });
    await expect(correcting(on, correction, at(failing))).rejects.toThrow(/the next command ends it/);
    expect((await auditing(on)).map(({ rule }) => rule)).toContain("record-write-unfinished");
    await publishing(on, {}, world("2026-10-06T09:00:00Z").io);
    expect(await auditing(on)).toEqual([]);
    expect(on.corrections()).toHaveLength(1);
  });
});

describe("two at once", () => {
  test("both land, with two names", async () => {
    await publishing(on);
    const [first, second] = await Promise.all([
      correcting(on, correction),
      correcting(on, { kind: "on-air", said: "forty years" }),
    ]);
    expect([rules(first), rules(second)]).toEqual([[], []]);
    expect(on.corrections()).toHaveLength(2);
    expect(on.read("record.jsonl").split("\n")).toHaveLength(4);
    expect(await auditing(on)).toEqual([]);
  });

  const lockOf = async (owner: Partial<Owner>) => {
    await nodeFiles.makeFolder(`${on.content}/.record.lock`);
    const text = ownerText({ ...(await ownerHere()), ...owner });
    await nodeFiles.writeSynced(`${on.content}/.record.lock/one`, Buffer.from(text));
  };
  const quick = { waits: 0 };
  const nothing = async () => ({ files: [], answer: "done" });
  const place = () => ({ folder: on.content, content: on.content });

  test.each([
    // No process has this number: Linux gives none above 4194304.
    ["whose number nobody has", { pid: 99_999_999 }],
    ["whose number another process has since", { born: "in another boot 1" }],
  ])("a lock of a process that is gone, %s, is broken", async (_what, owner) => {
    await lockOf(owner);
    expect(await changeRecord(place(), nothing, nodeFiles, quick)).toBe("done");
    expect(await nodeFiles.names(on.content)).not.toContain(".record.lock");
  });

  test.each([
    ["that lives", {}],
    ["of another machine, of which nothing is known,", { place: "elsewhere", pid: 99_999_999 }],
  ])("the lock of a process %s is not broken, however old it is", async (_what, owner) => {
    await lockOf(owner);
    await utimes(`${on.content}/.record.lock/one`, 0, 0);
    await utimes(`${on.content}/.record.lock`, 0, 0);
    await expect(changeRecord(place(), nothing, nodeFiles, quick)).rejects.toThrow(
      /is being written by process \d+ on .* If that process is gone, take .*\.record\.lock away/,
    );
    expect(await nodeFiles.names(`${on.content}/.record.lock`)).toEqual(["one"]);
  });

  test("what a killed process left while it waited for the lock is taken away, a living one's is not", async () => {
    for (const [name, pid] of [
      ["dead", 99_999_999],
      ["living", process.pid],
    ] as const) {
      await nodeFiles.makeFolder(`${on.content}/.record.lock.${name}`);
      const text = ownerText({ ...(await ownerHere()), pid });
      await nodeFiles.writeSynced(`${on.content}/.record.lock.${name}/${name}`, Buffer.from(text));
    }
    await changeRecord(place(), nothing, nodeFiles, quick);
    expect((await nodeFiles.names(on.content)).filter((name) => name.startsWith(".record"))).toEqual([
      ".record.lock.living",
    ]);
  });
});
