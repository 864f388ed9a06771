import type { ServerResponse } from "node:http";
import { buildOnChange, type PreviewOptions } from "../actions/preview.ts";
import type { Built } from "../build/build.ts";
import { type Serving, serve } from "../desk/serve.ts";
import { siteHeaders } from "../model/policy.ts";
import type { Io } from "./io.ts";
import { asText, counted, sorted } from "./report.ts";

interface PreviewCommand extends PreviewOptions {
  /** null: the first free one. */
  readonly port: number | null;
}

/** `afterair preview`: serves the site to this machine, built again when content or templates change. Goes on until stopped. */
export async function preview({ port, ...options }: PreviewCommand, io: Io): Promise<Serving> {
  const { first, watch } = await buildOnChange(options);
  let hasSite = first.site !== null;
  let faults = faultsOf(first, options);
  tell(first, options, io);
  const serving = await serve({
    folder: options.out,
    base: first.base,
    ...(port === null ? {} : { port }),
    headers: siteHeaders(first.mediaHosts),
    live: true,
    notice: () => faults,
    onRequest: (_request, response) => !hasSite && sendFaults(faults ?? "", response),
  });
  io.out(`\n    ${serving.url}\n\nChanges are shown as they are saved. Stop with Ctrl-C.`);
  const stop = watch({
    built(built) {
      hasSite ||= built.site !== null;
      faults = faultsOf(built, options);
      tell(built, options, io);
      serving.reload();
    },
    failed(error) {
      const says = error instanceof Error ? error.message : String(error);
      faults = `The site could not be built again; this is how it was before.\n\n${says}`;
      io.err(says);
      serving.reload();
    },
  });
  return {
    ...serving,
    async close() {
      await stop();
      await serving.close();
    },
  };
}

function tell({ findings, site }: Built, { content, on }: PreviewOptions, io: Io): void {
  if (findings.length > 0) io.err(asText(sorted(findings), content));
  if (site === null) io.err("Not built: mend the faults above, and the page comes by itself.");
  else
    io.out(
      `${counted(site.episodes, "episode")}, ${counted(site.pages, "page")}${on === null ? "" : `, as they stood on ${on}`}`,
    );
}

/** Why a site was not built, to be read above the pages of the last one that was; null: it was built. */
function faultsOf({ findings, site }: Built, { content }: PreviewOptions): string | null {
  if (site !== null) return null;
  return `The site can't be built now; this is how it was before.\n\n${asText(sorted(findings), content)}`;
}

/** While nothing could be built, every address says why. */
function sendFaults(faults: string, response: ServerResponse): true {
  response.writeHead(503, { "Content-Type": "text/plain; charset=utf-8", "Retry-After": "2", Refresh: "2" });
  response.end(`${faults.replace("now; this is how it was before", "yet")}\n`);
  return true;
}
