import type { ServerResponse } from "node:http";
import { buildOnChange, buildPreview, type PreviewOptions } from "../actions/preview.ts";
import type { Built } from "../build/build.ts";
import { type Serving, serve } from "../desk/serve.ts";
import { siteHeaders } from "../model/policy.ts";
import type { Io } from "./io.ts";
import { asText, sorted } from "./report.ts";

interface PreviewCommand extends PreviewOptions {
  /** null: the first free one. */
  readonly port: number | null;
}

/** `afterair preview`: serves the site to this machine, built again when content or templates change. Goes on until stopped. */
export async function preview({ port, ...options }: PreviewCommand, io: Io): Promise<Serving> {
  let last = await buildPreview(options);
  tell(last, options, io);
  const serving = await serve({
    folder: options.out,
    base: last.base,
    ...(port === null ? {} : { port }),
    headers: siteHeaders(last.mediaHosts),
    live: true,
    onRequest: (_request, response) => last.site === null && sendFaults(last, options.content, response),
  });
  io.out(`\n    ${serving.url}\n\nChanges are shown as they are saved. Stop with Ctrl-C.`);
  buildOnChange(options, {
    built: (built) => {
      last = built;
      tell(built, options, io);
      serving.reload();
    },
    failed: (error) => io.err(error instanceof Error ? error.message : String(error)),
  });
  return serving;
}

function tell({ findings, site }: Built, { content, on }: PreviewOptions, io: Io): void {
  if (findings.length > 0) io.err(asText(sorted(findings), content));
  if (site === null) io.err("Not built: mend the faults above, and the page comes by itself.");
  else io.out(`${site.episodes} episodes, ${site.pages} pages${on === null ? "" : `, as they stood on ${on}`}`);
}

/** While nothing could be built, every address says why. */
function sendFaults({ findings }: Built, content: string, response: ServerResponse): true {
  response.writeHead(503, { "Content-Type": "text/plain; charset=utf-8", "Retry-After": "2", Refresh: "2" });
  response.end(`The site can't be built yet.\n\n${asText(sorted(findings), content)}\n`);
  return true;
}
