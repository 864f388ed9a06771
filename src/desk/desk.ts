import { randomBytes, timingSafeEqual } from "node:crypto";
import type { IncomingMessage, ServerResponse } from "node:http";
import { UsageError } from "../model/usageError.ts";
import { openProgramme } from "../read/index.ts";
import { deskDocument, deskHeaders, FONTS, makeDeskPage } from "./deskPage.ts";
import { ANSWERED, type DeskOptions, type Routes, routesOf } from "./deskRoutes.ts";
import { type Serving, serve } from "./serve.ts";

/** The header in which a page says that this server sent it. */
const TOKEN = "x-desk-token";

/** Pages of the desk: their script draws what the address asks for. */
const PAGES = /^\/(?:begin|(?:words|order|look|publish|correct)\/[0-9a-z-]+)?$/;

/**
 * The desk: one local page over the same files and the same actions as the commands. It answers to its own address alone
 * (`serve` looks at Host and Origin), and changes something only for a page that it sent itself, in this run.
 * @param port null: the first free one.
 */
export async function openDesk(options: DeskOptions & { readonly port: number | null }): Promise<Serving> {
  const page = await makeDeskPage();
  const token = randomBytes(24).toString("base64url");
  const routes = routesOf(options);
  const mediaHosts = openProgramme(options.content).programme?.mediaHosts ?? [];
  const serving = await serve({
    folder: FONTS,
    base: "/fonts/",
    ...(options.port === null ? {} : { port: options.port }),
    headers: deskHeaders(mediaHosts),
    onRequest: async (request, response) => {
      const path = pathOf(request);
      if (path.startsWith("/fonts/")) return false;
      const isRead = request.method === "GET" || request.method === "HEAD";
      if (isRead && PAGES.test(path)) return send(response, "text/html; charset=utf-8", deskDocument(token));
      if (isRead && path === "/desk.js") return send(response, "text/javascript", page.script);
      if (isRead && path === "/mark.svg") return send(response, "image/svg+xml", page.mark);
      if (isRead && path === "/desk.css") return send(response, "text/css", page.style);
      await answer(path, isRead ? routes.read : routes.write, isRead ? null : token, request, response);
      return true;
    },
  });
  return {
    ...serving,
    url: `http://127.0.0.1:${serving.port}/`,
    async close() {
      await serving.close();
      await routes.close();
    },
  };
}

const pathOf = ({ url = "/" }: IncomingMessage): string => url.split(/[?#]/)[0] ?? "/";

function send(response: ServerResponse, type: string, body: string | Uint8Array): true {
  response.writeHead(200, { "Content-Type": type }).end(body);
  return true;
}

/** @param token what the request must carry; null: it changes nothing. */
async function answer(
  path: string,
  routes: Routes["read"],
  token: string | null,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const json = (status: number, body: unknown) =>
    response.writeHead(status, { "Content-Type": "application/json" }).end(JSON.stringify(body));
  if (token !== null && !isToken(request.headers[TOKEN], token)) {
    json(403, { says: "This page is of an earlier run of the desk: load it again. Nothing was changed." });
    return;
  }
  for (const [pattern, route] of routes) {
    const found = pattern.exec(path);
    if (found === null) continue;
    try {
      const body = await route(found, request, response);
      if (body !== ANSWERED) json(200, body);
    } catch (error) {
      if (response.headersSent) response.destroy();
      else json(error instanceof UsageError ? 422 : 500, { says: saidOf(error) });
    }
    return;
  }
  json(404, { says: "There is nothing at this address." });
}

/** What went wrong, to somebody who has buttons and gave no command. */
const saidOf = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).replaceAll("run the command again", "do it again");

function isToken(given: string | string[] | undefined, token: string): boolean {
  const own = Buffer.from(typeof given === "string" ? given : "");
  return own.length === token.length && timingSafeEqual(own, Buffer.from(token));
}
