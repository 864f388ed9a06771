import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { buildSite } from "../../src/build/build.ts";
import { SILENT } from "../../src/build/progress.ts";
import { makeFolders, requireRoom, WriteFault, writeFault } from "../../src/write/files.ts";
import { AFTERAIR } from "../support/program.ts";

const CONTENT = join(import.meta.dirname, "../fixtures/checks/content");
const RAW = join(import.meta.dirname, "../fixtures/raw/evening/raw.vtt");
const ID = "2026-10-05";
let root = "";

beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), "afterair-disk-"));
  cpSync(CONTENT, join(root, "content"), { recursive: true });
  // What the program is compiled to is written before.
  spawnSync(process.execPath, [AFTERAIR, "--version"]);
  writeFileSync(join(root, "words.txt"), "Tamsin Hathersay: Good evening.\n");
});
afterAll(() => rmSync(root, { recursive: true }));

/** Every file below the content, with its text. */
const all = () =>
  readdirSync(join(root, "content"), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(
      (entry) => `${join(entry.parentPath, entry.name)} ${readFileSync(join(entry.parentPath, entry.name), "base64")}`,
    )
    .sort();

const shell = (script: string, ...args: readonly string[]) =>
  spawnSync("sh", ["-c", script, "sh", process.execPath, AFTERAIR, ...args], { encoding: "utf8", cwd: root });

/**
 * Calls the command where no file may be written, for whoever runs this: POSIX has a write beyond the limit fail with EFBIG
 * where the signal SIGXFSZ is ignored.
 */
const unable = (...args: readonly string[]) => shell(`trap "" XFSZ; ulimit -f 0; exec "$@"`, ...args);

const CALLS: readonly (readonly [string, readonly string[]])[] = [
  ["build", ["build", "--drafts", "--out", "out"]],
  ["preview", ["preview", "--out", "out"]],
  [
    "new",
    ["new", "2026-10-09", "--transcript", RAW, "--media", "https://media.example.org/a.mp3", "--duration", "1:00"],
  ],
  ["publish", ["publish", ID]],
  ["check --fix", ["check", ID, "--fix", "names"]],
  ["retime", ["retime", ID, "--text", "words.txt", "--yes"]],
];

test.skipIf(process.platform === "win32").each(CALLS)("%s tells in one sentence that it can't write", (_what, args) => {
  const before = all();
  const { status, stderr } = unable(...args, "--content", "content");
  const last = stderr.trimEnd().split("\n").at(-1);
  expect(last).toMatch(/^\S+ can't be written: .* Let it, and run the command again\. \S.*\.$/);
  expect(stderr).not.toMatch(/EFBIG|\n\s+at |--trace/);
  expect(status).toBe(2);
  expect(all()).toEqual(before);
});

test("what is left of a build that could not write is no hindrance to the next", async () => {
  unable("build", "--drafts", "--out", "later", "--content", "content");
  const options = { content: join(root, "content"), out: join(root, "later"), drafts: true, on: "2026-10-12" };
  expect((await buildSite({ ...options, now: new Date("2026-10-12T20:00:00Z") })).site).not.toBeNull();
});

test.skipIf(process.platform !== "linux")("an output that is full is told, too", () => {
  const { status, stderr } = shell(`exec "$@" >/dev/full`, "check", "--content", "content");
  expect(stderr).toBe(
    "The output can't be written: the disk is full. Make room and run the command again. Some of it is missing.\n",
  );
  expect(status).toBe(2);
});

describe("what the system says, in words", () => {
  const said = (code: string) =>
    writeFault(Object.assign(new Error(`${code}: raw`), { code }), "there", "All is as it was.");

  test.each([
    ["ENOSPC", "the disk is full. Make room and run the command again."],
    ["EDQUOT", "this user's share of the disk is used up. Make room and run the command again."],
    ["EROFS", "it is on a disk that can only be read. Run the command where it can be written."],
    ["EACCES", "this user may not write there. Let it, and run the command again."],
    ["EIO", "the system says EIO. Mend that and run the command again."],
  ])("%s", (code, why) => {
    expect(said(code)).toBeInstanceOf(WriteFault);
    expect(said(code)).toMatchObject({ message: `there can't be written: ${why} All is as it was.` });
  });

  test.each(["ERR_INVALID_ARG_TYPE", "MODULE_NOT_FOUND"])("%s is a fault of ours, and stays one", (code) => {
    expect(said(code)).not.toBeInstanceOf(WriteFault);
  });
});

test.each([
  ["EACCES", /web\.mp3 can't be read \(EACCES\)\. Let this user read it\.$/],
  ["ENOSPC", /out can't be written: the disk is full\. .* What stands there is whole\.$/],
])("a build tells what it could not read from what it could not write: %s", async (code, message) => {
  const content = join(root, "content");
  const begin = (): never => {
    throw Object.assign(new Error("raw"), { code, path: join(content, "episodes/2026/2026-10-05/web.mp3") });
  };
  const options = {
    content,
    out: join(root, "out"),
    drafts: true,
    on: "2026-10-12",
    now: new Date("2026-10-12T20:00:00Z"),
  };
  await expect(buildSite({ ...options, progress: { ...SILENT, begin } })).rejects.toThrow(message);
});

/** A disk that can only be read, where this user may have one for a command alone. */
const READ_ONLY = `mount -t tmpfs -o ro none "$0" && exec "$@"`;
const readOnly = (place: string, ...args: readonly string[]) =>
  spawnSync("unshare", ["-rm", "sh", "-c", READ_ONLY, place, process.execPath, AFTERAIR, ...args], {
    encoding: "utf8",
    cwd: root,
  });
const HAS_NAMESPACES = spawnSync("unshare", ["-rm", "true"]).status === 0;

test.skipIf(!HAS_NAMESPACES)("a disk that can only be read is called so, however many folders are missing", () => {
  mkdirSync(join(root, "disk"));
  const { status, stderr } = readOnly(
    join(root, "disk"),
    "build",
    "--drafts",
    "--content",
    "content",
    "--out",
    "disk/a/b",
  );
  expect(stderr).toBe(
    "disk/a/b can't be written: it is on a disk that can only be read. Run the command where it can be written. What stands there is whole.\n",
  );
  expect(status).toBe(2);
});

test("room is asked for where there is some, and where there is none", async () => {
  const folder = join(root, "not/there/yet");
  await expect(requireRoom(folder, 1)).resolves.toBeUndefined();
  await expect(requireRoom(folder, 2 ** 60)).rejects.toMatchObject({ code: "ENOSPC" });
});

test("folders that are missing are made, and one that can't be says why", () => {
  makeFolders(join(root, "a/b/c"));
  expect(readdirSync(join(root, "a/b"))).toEqual(["c"]);
  writeFileSync(join(root, "file"), "");
  expect(() => makeFolders(join(root, "file/b"))).toThrow(/ENOTDIR/);
});
