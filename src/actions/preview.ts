import { watch } from "chokidar";
import { type BuildOptions, type Built, buildSite, TEMPLATES } from "../build/build.ts";
import { type Spare, spareWorker } from "../build/jobs.ts";

export type PreviewOptions = Omit<BuildOptions, "now" | "drafts" | "spare">;

/** How long files must be quiet before the site is built again, in milliseconds: editors write in several steps. */
const QUIET_MS = 60;

/** Told after every build. */
export interface Rebuilt {
  built(built: Built): void;
  /** The build ended with an error that is no finding. */
  failed(error: unknown): void;
}

/** A site that is built again whenever something changes. */
export interface Rebuilding {
  readonly first: Built;
  /** Watches, until it is ended. @returns what ends it. */
  watch(rebuilt: Rebuilt): () => Promise<void>;
}

/**
 * Builds the site as those see it who work on it: with drafts, as of now; and again whenever content, templates or the
 * station's own folder change. One build at a time; changes that come while one runs are taken up by the next.
 */
export async function buildOnChange(options: PreviewOptions): Promise<Rebuilding> {
  const spare = spareWorker();
  const build = (): Promise<Built> => buildSite({ ...options, now: new Date(), drafts: true, spare });
  const first = await build();
  return { first, watch: (rebuilt) => watchAll(options, first, build, spare, rebuilt) };
}

function watchAll(
  { content }: PreviewOptions,
  first: Built,
  build: () => Promise<Built>,
  spare: Spare,
  rebuilt: Rebuilt,
): () => Promise<void> {
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
      await build()
        .then((built) => {
          follow(built);
          rebuilt.built(built);
        })
        .catch(rebuilt.failed);
    } while (again);
    running = false;
  };
  const watcher = watch([content, TEMPLATES], {
    ignoreInitial: true,
    ignored: /(?:^|[/\\])(?:\.[^/\\.]|node_modules(?:[/\\]|$))/,
  });
  // programme.md may name another folder any time.
  const follow = ({ station }: Built): void => void (station !== null && watcher.add(station));
  follow(first);
  watcher.on("all", () => {
    clearTimeout(timer);
    timer = setTimeout(run, QUIET_MS);
  });
  return async () => {
    clearTimeout(timer);
    spare.end();
    await watcher.close();
  };
}
