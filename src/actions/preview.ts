import { watch } from "chokidar";
import { type BuildOptions, type Built, buildSite, TEMPLATES } from "../build/build.ts";

export type PreviewOptions = Omit<BuildOptions, "now" | "drafts">;

/** Builds the site as those see it who work on it: with drafts, as of now. */
export const buildPreview = (options: PreviewOptions): Promise<Built> =>
  buildSite({ ...options, now: new Date(), drafts: true });

/** How long files must be quiet before the site is built again, in milliseconds: editors write in several steps. */
const QUIET_MS = 150;

/** Told after every build. */
export interface Rebuilt {
  built(built: Built): void;
  /** The build ended with an error that is no finding. */
  failed(error: unknown): void;
}

/**
 * Builds the site again whenever content or templates change, until it is ended. One build at a time;
 * changes that come while one runs are taken up by the next.
 * @returns what ends it.
 */
export function buildOnChange(options: PreviewOptions, rebuilt: Rebuilt): () => Promise<void> {
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
      await buildPreview(options).then(rebuilt.built).catch(rebuilt.failed);
    } while (again);
    running = false;
  };
  const watcher = watch([options.content, TEMPLATES], { ignoreInitial: true, ignored: /(?:^|[/\\])\.[^/\\.]/ });
  watcher.on("all", () => {
    clearTimeout(timer);
    timer = setTimeout(run, QUIET_MS);
  });
  return () => {
    clearTimeout(timer);
    return watcher.close();
  };
}
