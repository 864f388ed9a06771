import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openDesk } from "../../src/desk/desk.ts";
import type { Serving } from "../../src/desk/serve.ts";
import type { DeskEdit, DeskWords } from "../../src/model/desk.ts";
import { type Files, nodeFiles } from "../../src/write/record.ts";
import { layLongEpisode } from "../support/longEpisode.ts";
import { DEMO } from "../support/site.ts";

const ID = "2027-03-01";
let place: string;
let desk: Serving;
let token: string;
/** What the system says to every write; null: it writes. */
let refusal: string | null = null;

const writing = <A extends readonly unknown[], R>(write: (...given: A) => Promise<R>) => {
  return async (...given: A): Promise<R> => {
    if (refusal !== null) throw Object.assign(new Error(refusal), { code: refusal });
    return write(...given);
  };
};
const files: Files = { ...nodeFiles, writeSynced: writing(nodeFiles.writeSynced), rename: writing(nodeFiles.rename) };

const folder = () => join(place, "content/episodes/2027", ID);
const file = (name: string) => readFile(join(folder(), name), "utf8");
const ask = async (path: string, body?: unknown) => {
  const post = { method: "POST", headers: { "x-desk-token": token }, body: JSON.stringify(body) };
  const response = await fetch(desk.url + path, body === undefined ? {} : post);
  return { status: response.status, text: await response.text() };
};
const words = async (): Promise<DeskWords> => JSON.parse((await ask(`api/words/${ID}`)).text);
const edit = (made: DeskEdit, version: string) => ask(`api/words/${ID}`, { version, edit: made });
const typed: DeskEdit = { op: "words", caption: 3, text: "The boat is late.", isWhole: true };

beforeAll(async () => {
  place = await mkdtemp(join(tmpdir(), "desk-faults-"));
  await cp(DEMO, join(place, "content"), { recursive: true });
  await layLongEpisode(join(place, "content"), ID, 20);
  const world = { clock: () => new Date("2027-03-02T08:00:00Z"), files };
  const options = { content: join(place, "content"), out: join(place, "site"), cache: join(place, "cache") };
  desk = await openDesk({ ...options, world, listen: null, port: 0 });
  token = /name="desk-token" content="([^"]+)"/.exec((await ask("")).text)?.[1] ?? "";
});
afterAll(async () => {
  await desk.close();
  await rm(place, { recursive: true, force: true });
});

describe("a write that fails", () => {
  test.each([
    ["ENOSPC", "the disk is full. Make room and do it again."],
    ["EROFS", "it is on a disk that can only be read."],
    ["EACCES", "this user may not write there."],
    ["EIO", "the system says EIO."],
  ])("%s: it is said with its mend, the files are as they were, and it works afterwards", async (code, says) => {
    const { version } = await words();
    const before = [await file("transcript.vtt"), await file("episode.md"), await readdir(folder())];
    refusal = code;
    const failed = await edit(typed, version);
    refusal = null;
    expect([failed.status, JSON.parse(failed.text).says]).toEqual([500, expect.stringContaining(says)]);
    expect(failed.text).not.toMatch(/\\n {4}at /);
    expect([await file("transcript.vtt"), await file("episode.md"), await readdir(folder())]).toEqual(before);
    expect(JSON.parse((await edit(typed, version)).text).is).toBe("done");
    expect(JSON.parse((await edit({ op: "undo" }, (await words()).version)).text).is).toBe("done");
    expect(await file("transcript.vtt")).toBe(before[0]);
  });
});

describe("an episode whose files are broken while it is open", () => {
  test.each([
    ["episode.md", (text: string) => text.replace("clock: aired\n", ""), "`clock` is missing. Add it"],
    ["episode.md", (text: string) => text.replace("segments:", "segments: ["), "episode.md, line"],
    ["transcript.vtt", (text: string) => text.replace("WEBVTT", "WEB"), "Write WEBVTT in the first line"],
  ])(
    "%s: what is wrong, where and how it is mended is said, nothing is written, and it goes on when it is mended",
    async (name, broken, says) => {
      const { version } = await words();
      const before = await file(name);
      await writeFile(join(folder(), name), broken(before));
      for (const reply of [await ask(`api/words/${ID}`), await edit(typed, version)]) {
        expect(reply.status).toBe(422);
        expect(JSON.parse(reply.text).says).toContain(says);
      }
      expect(await file(name)).toBe(broken(before));
      await writeFile(join(folder(), name), before);
      expect(JSON.parse((await edit(typed, version)).text).is).toBe("done");
      await edit({ op: "undo" }, (await words()).version);
      expect(await file(name)).toBe(before);
    },
  );
});
