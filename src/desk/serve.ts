import { readFile } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import sirv from "sirv";
import { EPISODES_FEED, MISSING_PATH } from "../model/address.ts";
import { createLiveReload, type LiveReload } from "./liveReload.ts";
import { plainRange } from "./range.ts";
import { findSiteFile } from "./sitePath.ts";

export interface ServeOptions {
  /** The built site; a function where another folder may take its place. */
  readonly folder: string | (() => string);
  /** The base path, with a slash at both ends. */
  readonly base: string;
  /** Asked for: that one or none. Not given: the first free one from 8030. 0: any. */
  readonly port?: number;
  /** Sent with everything: Content-Security-Policy, Referrer-Policy. `nosniff` is added. */
  readonly headers?: Readonly<Record<string, string>>;
  /** Pages are told when the site was built again. */
  readonly live?: boolean;
  /** Has the first look at every request that this server accepts; true where it answered. */
  readonly onRequest?: (request: IncomingMessage, response: ServerResponse) => boolean | Promise<boolean>;
}

export interface Serving {
  /** `http://127.0.0.1:8030/tide/`. */
  readonly url: string;
  readonly port: number;
  /** Has every open page load itself again. */
  reload(): void;
  close(): Promise<void>;
}

const HOST = "127.0.0.1";
const FIRST_PORT = 8030;
const TRIES = 20;

/**
 * Serves a built site to this machine alone, with byte ranges, so that seeking works. Another site open in the same
 * browser can't read it: the Host must be this server's, and so must the Origin where there is one.
 */
export async function serve(options: ServeOptions): Promise<Serving> {
  const reloading = createLiveReload(options.base);
  const handle = handler(options, reloading);
  const server = createServer((request, response) => {
    handle(request, response).catch((error: unknown) => fail(response, error));
  });
  const port = await listen(server, options.port);
  return {
    url: `http://${HOST}:${port}${options.base}`,
    port,
    reload: reloading.reload,
    async close() {
      reloading.close();
      const closed = new Promise<void>((done) => server.close(() => done()));
      server.closeAllConnections();
      await closed;
    },
  };
}

function fail(response: ServerResponse, error: unknown): void {
  if (response.headersSent) response.destroy();
  else plain(response, 500, `The server failed: ${error instanceof Error ? error.message : String(error)}`);
}

function plain(response: ServerResponse, status: number, says: string): void {
  response.writeHead(status, { "Content-Type": "text/plain; charset=utf-8" }).end(`${says}\n`);
}

function handler(options: ServeOptions, reloading: LiveReload) {
  const { base, headers = {}, live = false, onRequest } = options;
  const folder = typeof options.folder === "function" ? options.folder : () => options.folder as string;
  const files = filesOf();
  return async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    for (const [name, value] of Object.entries({ "X-Content-Type-Options": "nosniff", ...headers })) {
      response.setHeader(name, value);
    }
    if (!isOurs(request)) return plain(response, 403, "This server answers to its own address on this machine only.");
    if (onRequest !== undefined && (await onRequest(request, response))) return;
    if (request.method !== "GET" && request.method !== "HEAD") {
      response.setHeader("Allow", "GET, HEAD");
      return plain(response, 405, "Only GET and HEAD are answered here.");
    }
    const [target, own] = [request.url ?? "/", `http://${HOST}`];
    if (!URL.canParse(target, own)) return plain(response, 400, "This is no address.");
    const { pathname, search } = new URL(target, own);
    if (!pathname.startsWith(base)) return outside(response, pathname, search, base);
    const path = pathname.slice(base.length);
    if (live && reloading.handle(path, request, response)) return;
    const found = await findSiteFile(folder(), path);
    if (found.is === "folder") return redirect(response, `${pathname}/${search}`);
    const page = found.is === "file" ? found.file : join(folder(), MISSING_PATH);
    if (found.is === "nothing") response.statusCode = 404;
    if (found.is === "nothing" || (live && page.endsWith(".html"))) {
      return sendPage(page, live ? reloading.element : "", request, response);
    }
    if (acceptRange(request, response, found.size)) files(folder(), path, request, response);
  };
}

/** Not this site: its front page is what was meant at the root. */
function outside(response: ServerResponse, pathname: string, search: string, base: string): void {
  if (pathname === "/" || `${pathname}/` === base) redirect(response, base + search);
  else plain(response, 404, `Nothing here. The site is at ${base}`);
}

function redirect(response: ServerResponse, to: string): void {
  response.writeHead(302, { Location: to }).end();
}

/** A name on the network that leads to this machine, and a page of another site, are both turned away. */
function isOurs({ headers, socket }: IncomingMessage): boolean {
  const own = [HOST, "localhost"].map((name) => `${name}:${socket.localPort}`);
  if (headers.host === undefined || !own.includes(headers.host.toLowerCase())) return false;
  return headers.origin === undefined || own.some((host) => headers.origin === `http://${host}`);
}

/** Leaves a range that sirv reads rightly, or none; false where the request is answered. */
function acceptRange(request: IncomingMessage, response: ServerResponse, size: number): boolean {
  response.setHeader("Accept-Ranges", "bytes");
  if (request.headers.range === undefined) return true;
  const range = plainRange(request.headers.range, size);
  if (range === "beyond") {
    response.setHeader("Content-Range", `bytes */${size}`);
    plain(response, 416, `The file has ${size} bytes.`);
    return false;
  }
  if (range === null) delete request.headers.range;
  else request.headers.range = range;
  return true;
}

/** Files as they are, looked up anew each time. */
function filesOf() {
  const made = new Map<string, ReturnType<typeof sirv>>();
  const setHeaders = (response: ServerResponse, path: string): void => {
    if (/\.(?:ogg|opus)$/.test(path)) response.setHeader("Content-Type", "audio/ogg; codecs=opus");
    if (/\.(?:txt|sha256|jsonl)$/.test(path)) response.setHeader("Content-Type", "text/plain; charset=utf-8");
    if (path.endsWith(EPISODES_FEED)) response.setHeader("Content-Type", "application/xml; charset=utf-8");
  };
  return (folder: string, path: string, request: IncomingMessage, response: ServerResponse): void => {
    const send = made.get(folder) ?? sirv(folder, { dev: true, etag: true, setHeaders });
    made.set(folder, send);
    request.url = `/${path}`;
    send(request, response);
  };
}

/** A page, with what the server adds to it; where there is no page of the site's own, a line. */
async function sendPage(
  file: string,
  added: string,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const page = await readFile(file, "utf8").catch(() => null);
  if (page === null) return plain(response, 404, "There is no such page.");
  const body = Buffer.from(page.replace("</head>", () => `${added}</head>`));
  response.writeHead(response.statusCode, {
    "Content-Type": "text/html; charset=utf-8",
    "Content-Length": body.length,
    "Cache-Control": "no-store",
  });
  response.end(request.method === "HEAD" ? undefined : body);
}

async function listen(server: Server, asked: number | undefined): Promise<number> {
  const ports = asked === undefined ? Array.from({ length: TRIES }, (_, at) => FIRST_PORT + at) : [asked];
  for (const port of ports) {
    if (await tryPort(server, port)) return (server.address() as AddressInfo).port;
  }
  throw new Error(
    asked === undefined
      ? `Ports ${FIRST_PORT} to ${FIRST_PORT + TRIES - 1} are all in use. Choose another with --port.`
      : `Port ${asked} is in use. Choose another, or leave --port out.`,
  );
}

/** False where the port is taken. */
function tryPort(server: Server, port: number): Promise<boolean> {
  return new Promise((done, refuse) => {
    const taken = (error: NodeJS.ErrnoException): void => {
      if (error.code === "EADDRINUSE") done(false);
      else refuse(new Error(`Can't listen on port ${port}: ${error.message}`));
    };
    server.once("error", taken);
    server.listen(port, HOST, () => {
      server.off("error", taken);
      done(true);
    });
  });
}
