import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { request as send } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Serving, serve } from "../../src/desk/serve.ts";

interface Reply {
  readonly status: number;
  readonly headers: NodeJS.Dict<string | string[]>;
  readonly body: string;
}

const POLICY = "default-src 'self'";
let folder = "";
let site: Serving;

/** `fetch` would tidy the path and refuse to send these headers. */
function ask(path: string, headers: Record<string, string> = {}, method = "GET", port = site.port): Promise<Reply> {
  return new Promise((done, fail) => {
    const request = send({ host: "127.0.0.1", port, path, method, headers }, (response) => {
      let body = "";
      response.setEncoding("latin1").on("data", (piece: string) => {
        body += piece;
      });
      response.on("end", () => done({ status: response.statusCode ?? 0, headers: response.headers, body }));
    });
    request.on("error", fail).end();
  });
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "serve-"));
  await writeFile(join(folder, "secret.txt"), "not to be served");
  await mkdir(join(folder, "site", "2026-10-05"), { recursive: true });
  const page = (words: string) =>
    `<!doctype html><html lang="en"><head><title>x</title></head><body>${words}</body></html>`;
  const files = {
    "index.html": page("home"),
    "404.html": page("not here"),
    "2026-10-05/index.html": page("an episode"),
    "2026-10-05/captions.vtt": "WEBVTT\n",
    "2026-10-05/web.ogg": "0123456789",
    "2026-10-05/a.mp3": "x",
    "a.wasm": "x",
    "a.json": "{}",
    "a.js": "0",
    "a.webmanifest": "{}",
    "a.txt": "x",
    ".hidden": "x",
  };
  for (const [path, text] of Object.entries(files)) await writeFile(join(folder, "site", path), text);
  site = await serve({
    folder: join(folder, "site"),
    base: "/tide/",
    port: 0,
    headers: { "Content-Security-Policy": POLICY, "Referrer-Policy": "same-origin" },
  });
});
afterAll(async () => {
  await site.close();
  await rm(folder, { recursive: true, force: true });
});

describe("what is served", () => {
  test.each([
    ["/tide/", 200, "text/html"],
    ["/tide/2026-10-05/", 200, "text/html"],
    ["/tide/2026-10-05/captions.vtt", 200, "text/vtt"],
    ["/tide/2026-10-05/web.ogg", 200, "audio/ogg; codecs=opus"],
    ["/tide/2026-10-05/a.mp3", 200, "audio/mpeg"],
    ["/tide/a.wasm", 200, "application/wasm"],
    ["/tide/a.json", 200, "application/json"],
    ["/tide/a.js", 200, "text/javascript"],
    ["/tide/a.webmanifest", 200, "application/manifest+json"],
    ["/tide/a.txt", 200, "text/plain; charset=utf-8"],
    ["/tide/nothing/", 404, "text/html"],
    ["/elsewhere", 404, "text/plain"],
  ])("%s: %i, %s", async (path, status, type) => {
    const reply = await ask(path);
    expect(reply.status).toBe(status);
    expect(reply.headers["content-type"]).toContain(type);
  });
  test("the site's own page where there is none, as it was built", async () => {
    expect((await ask("/tide/nothing/")).body).toContain("not here");
    expect((await ask("/tide/")).body).not.toContain("<script");
  });
  test("with its policies, whatever the answer", async () => {
    for (const path of ["/tide/", "/tide/a.js", "/tide/nothing", "/elsewhere"]) {
      const { headers } = await ask(path);
      expect(headers["content-security-policy"]).toBe(POLICY);
      expect(headers["referrer-policy"]).toBe("same-origin");
      expect(headers["x-content-type-options"]).toBe("nosniff");
    }
  });
  test("a folder without its slash leads to it, and keeps the query", async () => {
    const reply = await ask("/tide/2026-10-05?q=1");
    expect([reply.status, reply.headers.location]).toEqual([302, "/tide/2026-10-05/?q=1"]);
    expect((await ask("/")).headers.location).toBe("/tide/");
  });
  test.each(["//[", "//]", "http://[", "//a:b:c/", "//%"])(
    "%s is no address, and nobody's fault here",
    async (target) => {
      const reply = await ask(target);
      expect([reply.status, reply.body]).toEqual([400, "This is no address.\n"]);
    },
  );
  test("HEAD has no body", async () => {
    for (const path of ["/tide/", "/tide/a.json", "/tide/nothing/"])
      expect((await ask(path, {}, "HEAD")).body).toBe("");
  });
  test.each(["POST", "PUT", "DELETE", "OPTIONS"])("%s is refused", async (method) => {
    expect((await ask("/tide/", {}, method)).status).toBe(405);
  });
  test("another folder that takes the first one's place is seen", async () => {
    let current = join(folder, "site");
    const moving = await serve({ folder: () => current, base: "/", port: 0 });
    expect((await ask("/a.txt", {}, "GET", moving.port)).body).toBe("x");
    current = join(folder, "next");
    await mkdir(current);
    await writeFile(join(current, "a.txt"), "new");
    expect((await ask("/a.txt", {}, "GET", moving.port)).body).toBe("new");
    await moving.close();
  });
});

describe("pieces of a recording", () => {
  test.each([
    ["bytes=2-5", "2345", "bytes 2-5/10"],
    ["bytes=7-", "789", "bytes 7-9/10"],
    ["bytes=-3", "789", "bytes 7-9/10"],
    ["bytes=8-99", "89", "bytes 8-9/10"],
  ])("%s", async (range, body, stands) => {
    const reply = await ask("/tide/2026-10-05/web.ogg", { Range: range });
    expect([reply.status, reply.body, reply.headers["content-range"]]).toEqual([206, body, stands]);
    expect(reply.headers["content-length"]).toBe(String(body.length));
  });
  test("past the end: 416, with the size", async () => {
    const reply = await ask("/tide/2026-10-05/web.ogg", { Range: "bytes=10-" });
    expect([reply.status, reply.headers["content-range"]]).toEqual([416, "bytes */10"]);
  });
  test.each(["bytes=5-2", "bytes=0-1,4-5", "nonsense"])("%s: the whole", async (range) => {
    const reply = await ask("/tide/2026-10-05/web.ogg", { Range: range });
    expect([reply.status, reply.body]).toEqual([200, "0123456789"]);
  });
  test("says that it gives them", async () => {
    expect((await ask("/tide/2026-10-05/web.ogg")).headers["accept-ranges"]).toBe("bytes");
  });
});

describe("who is answered", () => {
  test.each([
    ["this machine by name", () => `localhost:${site.port}`, 200],
    ["in capitals", () => `LOCALHOST:${site.port}`, 200],
    ["a name that was made to lead here", () => `evil.example:${site.port}`, 403],
    ["another port", () => "127.0.0.1:1", 403],
    ["no port", () => "127.0.0.1", 403],
  ])("host: %s", async (_why, host, status) => {
    expect((await ask("/tide/", { Host: host() })).status).toBe(status);
  });
  test.each([
    ["this site", () => `http://127.0.0.1:${site.port}`, 200],
    ["another site", () => "https://evil.example", 403],
    ["a page without an origin", () => "null", 403],
    ["this machine, over TLS", () => `https://127.0.0.1:${site.port}`, 403],
  ])("origin: %s", async (_why, origin, status) => {
    expect((await ask("/tide/", { Origin: origin() })).status).toBe(status);
  });
  test.each([
    "/tide/../secret.txt",
    "/tide/..%2fsecret.txt",
    "/tide/%2e%2e/secret.txt",
    "/tide/%2e%2e%2fsecret.txt",
    "/tide/..%5csecret.txt",
    "/tide/x/..%2f..%2fsecret.txt",
    "/tide/%00",
    "/tide/%ff",
    "/tide/.hidden",
    "/tide//etc/passwd",
    "//etc/passwd",
    "/tide/2026-10-05/..%2f.hidden",
  ])("%s stays shut", async (path) => {
    const reply = await ask(path);
    expect(reply.status).toBe(404);
    expect(reply.body).not.toContain("not to be served");
  });
});

describe("the address", () => {
  test("a port that is asked for and taken is named", async () => {
    await expect(serve({ folder, base: "/", port: site.port })).rejects.toThrow(`Port ${site.port} is in use`);
  });
  test("without one, the next free one is taken", async () => {
    const [one, two] = [await serve({ folder, base: "/" }), await serve({ folder, base: "/" })];
    expect(two.port).toBeGreaterThan(one.port);
    expect(one.url).toBe(`http://127.0.0.1:${one.port}/`);
    await Promise.all([one.close(), two.close()]);
  });
});

describe("the desk", () => {
  test("sees a request first, and only one that is ours", async () => {
    const seen: string[] = [];
    const desk = await serve({
      folder: join(folder, "site"),
      base: "/",
      port: 0,
      onRequest(request, response) {
        seen.push(request.method ?? "");
        if (request.url !== "/desk") return false;
        response.end("desk");
        return true;
      },
    });
    expect((await ask("/desk", {}, "POST", desk.port)).body).toBe("desk");
    expect((await ask("/", { Host: "evil.example" }, "GET", desk.port)).status).toBe(403);
    expect((await ask("/", {}, "GET", desk.port)).body).toContain("home");
    expect(seen).toEqual(["POST", "GET"]);
    await desk.close();
  });
  test("tells open pages to load again, by an element that is only in what is sent", async () => {
    const live = await serve({ folder: join(folder, "site"), base: "/tide/", port: 0, live: true });
    const page = await ask("/tide/", {}, "GET", live.port);
    expect(page.body).toContain('<script type="module" src="/tide/__reload.js"></script></head>');
    expect((await ask("/tide/__reload.js", {}, "GET", live.port)).headers["content-type"]).toBe("text/javascript");
    const events = await fetch(`${live.url}__reload`);
    expect(events.headers.get("content-type")).toBe("text/event-stream");
    const reader = events.body?.pipeThrough(new TextDecoderStream()).getReader();
    expect((await reader?.read())?.value).toContain("waiting");
    live.reload();
    expect((await reader?.read())?.value).toContain("event: reload");
    await live.close();
  });
});
