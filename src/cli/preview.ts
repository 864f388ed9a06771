import type { ServerResponse } from "node:http";
import { watch } from "chokidar";
import { type BuildOptions, type Built, buildSite, TEMPLATES } from "../build/build.ts";
import { type Serving, serve } from "../desk/serve.ts";
import { siteHeaders } from "../model/policy.ts";
import type { Io } from "./io.ts";
import { asText, sorted } from "./report.ts";

export interface PreviewOptions extends Omit<BuildOptions, "now" | "drafts"> {
  /** null: the first free one. */
  readonly port: number | null;
}

/** How long files must be quiet before the site is built again, in milliseconds: editors write in several steps. */
const QUIET_MS = 150;

/** Builds the site, serves it to this machine, and builds it again when content or templates change. Goes on until stopped. */
export async function preview(options: PreviewOptions, io: Io): Promise<Serving> {
  const build = async (): Promise<Built> => {
    const built = await buildSite({ ...options, now: new Date(), drafts: true });
    tell(built, options, io);
    return built;
  };
  let last = await build();
  const serving = await serve({
    folder: options.out,
    base: last.base,
    ...(options.port === null ? {} : { port: options.port }),
    headers: siteHeaders(last.mediaHosts),
    live: true,
    onRequest: (_request, response) => last.site === null && sendFaults(last, options.content, response),
  });
  io.out(`\n    ${serving.url}\n\nChanges are shown as they are saved. Stop with Ctrl-C.`);
  rebuildOnChange(
    [options.content, TEMPLATES],
    async () => {
      last = await build();
      serving.reload();
    },
    io,
  );
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

/** One build at a time; changes that come while one runs are taken up by the next. */
function rebuildOnChange(folders: readonly string[], rebuild: () => Promise<void>, io: Io): void {
  let [running, again] = [false, false];
  let timer: NodeJS.Timeout | undefined;
  const run = async (): Promise<void> => {
    if (running) {
      again = true;
      return;
    }
    running = true;
    do {
      again = false;
      await rebuild().catch((error: unknown) => io.err(error instanceof Error ? error.message : String(error)));
    } while (again);
    running = false;
  };
  watch([...folders], { ignoreInitial: true, ignored: /(?:^|[/\\])\.[^/\\.]/ }).on("all", () => {
    clearTimeout(timer);
    timer = setTimeout(run, QUIET_MS);
  });
}
