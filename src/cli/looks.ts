import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import { type Look, lookAtEpisode } from "../read/look.ts";
import type { EpisodeFolder } from "../read/source.ts";

/** Episodes to be looked at, with how they looked before. Plain data. */
export interface LookTask {
  readonly content: string;
  readonly folders: readonly EpisodeFolder[];
  readonly before: readonly (Look | null)[];
}

/** A look, and when the youngest change was, in milliseconds since 1970. */
type Looked = ReturnType<typeof lookAtEpisode>;

export const lookAtAll = ({ content, folders, before }: LookTask): readonly Looked[] =>
  folders.map((folder, n) => lookAtEpisode(content, folder, before[n] ?? null));

export interface Looks {
  /** Looks at some episodes. Of several tasks, every other one is done beside this thread. */
  lookAt(task: LookTask): Promise<readonly Looked[]>;
  end(): void;
}

/** Fewer episodes than this are looked at before another thread has begun. */
const WORTH_A_THREAD = 2000;

/** The disk answers two threads faster than one. @param count how many episodes are to be looked at in all. */
export function openLooks(count: number): Looks {
  if (count < WORTH_A_THREAD || availableParallelism() < 2)
    return { lookAt: async (task) => lookAtAll(task), end: () => undefined };
  const worker = new Worker(new URL("lookWorker.mjs", import.meta.url), { execArgv: [] });
  const waiting: { resolve(looked: readonly Looked[]): void; reject(error: Error): void }[] = [];
  worker.on("message", (looked: readonly Looked[]) => waiting.shift()?.resolve(looked));
  worker.on("error", (error) => {
    for (const { reject } of waiting.splice(0)) reject(error);
  });
  let turn = 0;
  return {
    async lookAt(task) {
      if (turn++ % 2 === 1) return lookAtAll(task);
      return new Promise((resolve, reject) => {
        waiting.push({ resolve, reject });
        worker.postMessage(task);
      });
    },
    end: () => void worker.terminate(),
  };
}
