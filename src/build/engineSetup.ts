import { existsSync } from "node:fs";
import { rm } from "node:fs/promises";
import { join } from "node:path";
import type { EngineSetup } from "../station/engine.ts";
import { addressOf } from "./ready.mjs";
import type { SharedInputs } from "./sharedInputs.ts";

/** What an engine needs to know of this build. */
export async function engineSetup({ programme, station }: SharedInputs, kept: string): Promise<EngineSetup> {
  const { title, language, timezone, url } = programme;
  return {
    station,
    programme: { title, station: programme.station, language, timezone, url },
    base: new URL(url).pathname,
    kept: join(kept, COMPILED),
    out: join(kept, "station-out"),
    engine: await addressOf("station/eleventy"),
  };
}

const COMPILED = "station-code";

/** What was compiled for a build's processes, each for itself, is of no use to the next. */
export async function dropCompiled(kept: string): Promise<void> {
  const folder = join(kept, COMPILED);
  if (existsSync(folder)) await rm(folder, { recursive: true, force: true });
}
