import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";

/**
 * The folders of a folder of broadcasts, by their dates.
 * @param needed a file that each must have. @throws a sentence where there is none: nothing must be measured in silence.
 */
export function broadcastsIn(folder: string, needed = "truth.json"): readonly string[] {
  const names = existsSync(folder) ? readdirSync(folder).sort() : [];
  const found = names.filter((name) => existsSync(join(folder, name, needed)));
  if (found.length === 0)
    throw new NothingMeasured(
      `Nothing was measured: no folder in ${folder} has a ${needed}. Name a folder of broadcasts.`,
    );
  return found;
}

/** Its message is all that people need. */
export class NothingMeasured extends Error {}
