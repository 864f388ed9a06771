import type { IncomingMessage, ServerResponse } from "node:http";

/** Pages that wait to be told that the site was built again. */
export interface LiveReload {
  /** The element that a page needs to be told; it is put into what is sent, never into what is built. */
  readonly element: string;
  /** Answers the two addresses of its own; false for any other. */
  handle(path: string, request: IncomingMessage, response: ServerResponse): boolean;
  reload(): void;
  close(): void;
}

const EVENTS = "__reload";
const SCRIPT = "__reload.js";

/** @param base the base path, with a slash at both ends. */
export function createLiveReload(base: string): LiveReload {
  const waiting = new Set<ServerResponse>();
  const script = `new EventSource(${JSON.stringify(base + EVENTS)}).addEventListener("reload",()=>location.reload());\n`;
  return {
    element: `<script type="module" src="${base}${SCRIPT}"></script>`,
    handle(path, request, response) {
      if (path === SCRIPT) {
        response.writeHead(200, { "Content-Type": "text/javascript", "Cache-Control": "no-store" }).end(script);
        return true;
      }
      if (path !== EVENTS) return false;
      response.writeHead(200, { "Content-Type": "text/event-stream", "Cache-Control": "no-store" });
      response.write(": waiting\n\n");
      waiting.add(response);
      request.on("close", () => waiting.delete(response));
      return true;
    },
    reload() {
      for (const response of waiting) response.write("event: reload\ndata: built\n\n");
    },
    close() {
      for (const response of waiting) response.end();
      waiting.clear();
    },
  };
}
