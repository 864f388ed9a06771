import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { chmod, mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { siteHeaders } from "../../src/model/policy.ts";
import { build, DEMO, newFolder, removeFolder } from "../support/site.ts";

const NGINX = findNginx();

/** What `NGINX` names, or nginx where the system has one; null without. */
function findNginx(): string | null {
  for (const path of [process.env.NGINX ?? "nginx", "/usr/sbin/nginx"]) {
    try {
      execFileSync(path, ["-v"], { stdio: "ignore" });
      return path;
    } catch {
      // not this one
    }
  }
  return null;
}

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = createServer();
    server.on("error", reject).listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => (typeof address === "object" && address !== null ? resolve(address.port) : reject()));
    });
  });

describe.skipIf(NGINX === null)(
  `a real nginx serves the demo${NGINX === null ? " (there is no nginx here)" : ""}`,
  () => {
    let top: string;
    let origin: string;
    let server: ChildProcess;
    let mediaHosts: readonly string[];

    beforeAll(async () => {
      top = await newFolder();
      await chmod(top, 0o755); // its workers may be another user
      const site = join(top, "site");
      ({ mediaHosts } = await build(DEMO, site));
      const port = await freePort();
      origin = `http://127.0.0.1:${port}`;
      const own = (await readFile(join(import.meta.dirname, "nginx.conf"), "utf8"))
        .replace("listen 80;", `listen 127.0.0.1:${port};`)
        .replace("/srv/tide/site", site);
      await mkdir(join(top, "logs"));
      await writeFile(join(top, "tide.conf"), own);
      const temporary = ["client_body", "proxy", "fastcgi", "uwsgi", "scgi"];
      const main = [
        `daemon off; pid ${top}/nginx.pid; error_log ${top}/logs/error.log;`,
        "events {}",
        "http {",
        "  types { text/html html; text/css css; application/javascript js; application/json json; text/xml xml;",
        "    text/plain txt; image/svg+xml svg; font/woff2 woff2; audio/mpeg mp3; }",
        `  access_log off; ${temporary.map((name) => `${name}_temp_path ${top}/${name};`).join(" ")}`,
        `  include ${top}/tide.conf;`,
        "}",
      ];
      await writeFile(join(top, "nginx.conf"), main.join("\n"));
      server = spawn(NGINX ?? "", ["-p", top, "-c", join(top, "nginx.conf")], { stdio: "inherit" });
      await vi.waitFor(() => fetch(origin), { timeout: 10_000 });
    }, 60_000);
    afterAll(async () => {
      const ended = new Promise((done) => server?.on("exit", done));
      server?.kill();
      await ended;
      await removeFolder(top);
    });

    const get = (path: string, headers: Readonly<Record<string, string>> = {}) =>
      fetch(origin + path, { headers, redirect: "manual" });

    test.each(["/", "/2026-10-05/ferry-timetable/", "/2026-10-05/transcript.vtt", "/nothing-here/"])(
      "%s has the headers that our own server sends",
      async (path) => {
        const { headers } = await get(path);
        for (const [name, value] of Object.entries(siteHeaders(mediaHosts)))
          expect(headers.get(name), name).toBe(value);
      },
    );

    test.each([
      ["/", "text/html; charset=utf-8"],
      ["/2026-10-05/transcript.vtt", "text/vtt; charset=utf-8"],
      ["/2026-10-05/transcript.txt", "text/plain; charset=utf-8"],
      ["/2026-10-05/episode.json", "application/json; charset=utf-8"],
      ["/2026-10-05/record.jsonl", "text/plain; charset=utf-8"],
      ["/record/2026.sha256", "text/plain; charset=utf-8"],
      ["/feed.xml", "text/xml; charset=utf-8"],
      ["/search/index/pagefind.js", "application/javascript; charset=utf-8"],
    ])("%s is %s", async (path, type) => {
      const { status, headers } = await get(path);
      expect([status, headers.get("content-type")]).toEqual([200, type]);
    });

    test("what carries a digest is kept for ever, and all else asked for again", async () => {
      const html = await (await get("/")).text();
      const style = /href="(\/assets\/style-[^"]+)"/.exec(html)?.[1] ?? "";
      const index = await readdir(join(top, "site/search/index"), { recursive: true });
      const meta = index.find((name) => /^2026-10\/.+\.pf_meta$/.test(name)) ?? "no .pf_meta";
      const compiled = index.find((name) => name.startsWith("wasm.")) ?? "no wasm";
      for (const path of [style, `/search/index/${meta}`, `/search/index/${compiled}`]) {
        expect((await get(path)).headers.get("cache-control"), path).toBe("public, max-age=31536000, immutable");
      }
      for (const path of ["/", "/feed.xml", "/search/index/pagefind.js", "/search/index/2026-10/pagefind-entry.json"])
        expect((await get(path)).headers.get("cache-control"), path).toBe("no-cache");
    });

    test("a page that did not change is answered without its bytes", async () => {
      const etag = (await get("/2026-10-05/episode.json")).headers.get("etag") ?? "";
      expect(etag).not.toBe("");
      expect((await get("/2026-10-05/episode.json", { "If-None-Match": etag })).status).toBe(304);
    });

    test("a recording can be asked for in pieces", async () => {
      const answer = await get("/2026-10-05/web.mp3", { Range: "bytes=100-199" });
      expect(answer.status).toBe(206);
      expect((await answer.arrayBuffer()).byteLength).toBe(100);
    });

    test("pages are packed on the way", async () => {
      expect((await get("/", { "Accept-Encoding": "gzip" })).headers.get("content-encoding")).toBe("gzip");
    });

    test("an address that leads nowhere has our page for that", async () => {
      const answer = await get("/nothing-here/");
      expect(answer.status).toBe(404);
      expect(await answer.text()).toContain("There is no page at this address");
    });

    test("an address without its slash leads to the one with it", async () => {
      const { status, headers } = await get("/2026-10-05");
      expect([status, headers.get("location")]).toEqual([301, "/2026-10-05/"]);
    });

    test("the repository's own files in the folder are not given", async () => {
      await writeFile(join(top, "site/.gitignore"), "*\n");
      expect((await get("/.gitignore")).status).toBe(404);
    });
  },
);
