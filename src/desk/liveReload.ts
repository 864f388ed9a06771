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

/** Shows a text above the page. The policy of pages lets a script set style, and nothing else. */
const SHOW = `
const box=document.createElement("pre");
box.setAttribute("role","alert");
box.textContent=says;
Object.assign(box.style,{position:"sticky",top:"0",zIndex:"9999",margin:"0",padding:"1rem",maxHeight:"50vh",overflow:"auto",
whiteSpace:"pre-wrap",font:"1rem/1.5 ui-monospace,monospace",color:"#fff",background:"#8a1c1c"});
document.body.prepend(box);
`;

/**
 * @param base the base path, with a slash at both ends. @param notice what is to be read above every page, such as why the last
 * build failed; null: nothing.
 */
export function createLiveReload(base: string, notice: () => string | null): LiveReload {
  const waiting = new Set<ServerResponse>();
  const script = (): string => {
    const reload = `new EventSource(${JSON.stringify(base + EVENTS)}).addEventListener("reload",()=>location.reload());\n`;
    const says = notice();
    return says === null ? reload : `${reload}const says=${JSON.stringify(says)};${SHOW}`;
  };
  return {
    element: `<script type="module" src="${base}${SCRIPT}"></script>`,
    handle(path, request, response) {
      if (path === SCRIPT) {
        response.writeHead(200, { "Content-Type": "text/javascript", "Cache-Control": "no-store" }).end(script());
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
