import { type Sourcing, sourceOf } from "../actions/new.ts";
import { type RetimedEpisode, type RetimeOptions, retimeEpisode, undoRetime } from "../actions/retime.ts";
import type { Source } from "../read/index.ts";
import { type Ask, asUsage } from "./recordIo.ts";

export { retimedText } from "./retimeText.ts";

/**
 * `afterair retime`: puts the words in, and asks where much of what is there would go.
 * @param ask null where nobody can be asked.
 */
export async function retime(options: RetimeOptions, ask: Ask | null): Promise<RetimedEpisode> {
  // Read once, however often the action asks: a text that comes through a pipe is there only once.
  const known = new Map<string, Promise<Source>>();
  const read = (path: string, how?: Sourcing): Promise<Source> => {
    const source = known.get(path) ?? sourceOf(path, how);
    known.set(path, source);
    return source;
  };
  const first = await retimeEpisode(options, read).catch(asUsage);
  const { toConfirm } = first;
  if (toConfirm === null || ask === null) return first;
  if ((await ask.confirm(`${toConfirm.says}\nPut the new text in all the same?`)) !== true) return first;
  // What the files were taken for has been told.
  const again = { ...options, recognised: () => {}, confirmed: toConfirm.digest };
  return retimeEpisode(again, read).catch(asUsage);
}

/** `afterair retime --undo`. */
export const undo = (options: Pick<RetimeOptions, "content" | "id">) => undoRetime(options).catch(asUsage);
