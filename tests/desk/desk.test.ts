import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { request as send } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openDesk } from "../../src/desk/desk.ts";
import type { Serving } from "../../src/desk/serve.ts";
import { nodeFiles } from "../../src/write/files.ts";

const DEMO = join(import.meta.dirname, "../../content");
const ID = "2026-10-05";
let place: string;
let desk: Serving;
let token: string;

interface Reply {
  readonly status: number;
  readonly body: string;
  readonly headers: NodeJS.Dict<string | string[]>;
}

/** `fetch` would tidy the path and refuse to send these headers. */
function ask(method: string, path: string, headers: Record<string, string> = {}, body = ""): Promise<Reply> {
  return new Promise((done, fail) => {
    const request = send({ host: "127.0.0.1", port: desk.port, path, method, headers }, (response) => {
      let text = "";
      response.setEncoding("latin1").on("data", (piece: string) => {
        text += piece;
      });
      response.on("end", () => done({ status: response.statusCode ?? 0, body: text, headers: response.headers }));
    });
    request.on("error", fail).end(body);
  });
}

beforeAll(async () => {
  place = await mkdtemp(join(tmpdir(), "desk-server-"));
  await cp(DEMO, join(place, "content"), { recursive: true });
  await writeFile(join(place, "secret.txt"), "not to be served");
  desk = await openDesk({
    content: join(place, "content"),
    out: join(place, "site"),
    cache: join(place, "cache"),
    world: { clock: () => new Date("2026-10-12T12:00:00Z"), files: nodeFiles },
    listen: null,
    port: 0,
  });
  const { body } = await ask("GET", "/");
  token = /name="desk-token" content="([^"]+)"/.exec(body)?.[1] ?? "";
});
afterAll(async () => {
  await desk.close();
  await rm(place, { recursive: true, force: true });
});

describe("whoever is not the desk's own page", () => {
  const edit = JSON.stringify({ version: "", edit: { op: "accept", from: 0, to: 1 } });
  test.each([
    ["carries no token", {}],
    ["carries another", { "x-desk-token": "x".repeat(32) }],
    ["comes from another site", { origin: "https://example.org", "x-desk-token": "TOKEN" }],
    ["asks by another name", { host: "desk.example.org", "x-desk-token": "TOKEN" }],
  ])("and %s changes nothing", async (_why, headers: Record<string, string>) => {
    const own = Object.fromEntries(Object.entries(headers).map(([k, v]) => [k, v === "TOKEN" ? token : v]));
    for (const path of [
      `/api/words/${ID}`,
      `/api/publish/${ID}`,
      "/api/build",
      "/api/audit",
      "/api/begin",
      "/api/incoming/x",
    ])
      expect((await ask("POST", path, own, edit)).status, path).toBe(403);
  });

  test("is not let into a frame, and gets no script of anybody else's", async () => {
    const { headers } = await ask("GET", "/");
    expect(headers["content-security-policy"]).toContain("frame-ancestors 'none'");
    expect(headers["content-security-policy"]).toContain("script-src 'self'");
  });
});

describe("the desk's page", () => {
  const own = (body: unknown) => ask("POST", `/api/words/${ID}`, { "x-desk-token": token }, JSON.stringify(body));

  test("can't change what is published", async () => {
    const file = join(place, "content/episodes/2026", ID, "transcript.vtt");
    const before = await readFile(file, "utf8");
    const { status, body } = await own({ version: "", edit: { op: "words", caption: 1, text: "Bye.", isWhole: true } });
    expect([status, JSON.parse(body)]).toEqual([200, { is: "refused", says: expect.stringContaining("is published") }]);
    expect(await readFile(file, "utf8")).toBe(before);
  });

  test.each([
    ["/media/2026-10-05/..%2f..%2f..%2f..%2fsecret.txt", 422],
    ["/media/2026-10-05/episode.md", 422],
    ["/media/2026-10-05/web.mp3", 200],
    ["/api/words/2030-01-01", 422],
    ["/api/words/..%2f..", 404],
    ["/secret.txt", 404],
    ["/words/2026-10-05", 200],
    ["/fonts/../documents.tsx", 404],
  ])("%s: %i", async (path, status) => {
    const reply = await ask("GET", path);
    expect(reply.status).toBe(status);
    expect(reply.body).not.toContain("not to be served");
    expect(reply.body).not.toMatch(/\n {4}at /);
  });

  test("is told in a sentence what could not be read", async () => {
    const reply = await ask("POST", `/api/words/${ID}`, { "x-desk-token": token }, "{");
    expect([reply.status, reply.body]).toEqual([422, expect.stringContaining("can't be read")]);
  });

  test("reads the outline of the recording, and parts of it", async () => {
    const peaks = await ask("GET", `/api/peaks/${ID}`);
    // The demo's web file runs 413.9 seconds: 50 peaks for each.
    expect(Math.abs(peaks.body.length - 413.9 * 50)).toBeLessThan(60);
    const part = await ask("GET", `/media/${ID}/web.mp3`, { range: "bytes=0-99" });
    expect([part.status, part.body.length]).toEqual([206, 100]);
  });
});
