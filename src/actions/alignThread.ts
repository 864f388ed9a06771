import { parentPort, workerData } from "node:worker_threads";
import type { Span } from "../derive/captioning/lending.ts";
import type { HeardName } from "../derive/propose/recording.ts";
import { type Alignment, alignWords, type RoughWord } from "../listen/align.ts";
import { type ModelFiles, parseModel } from "../listen/alignModel.ts";
import { spotNames } from "../listen/nameSpotting.ts";

/** What a thread is given: words to look for, or stretches in which names may be said. */
export type ToHear = { readonly frames: Float32Array; readonly model: ModelFiles } & (
  | { readonly rough: readonly RoughWord[] }
  | { readonly stretches: readonly Span[]; readonly names: readonly string[] }
);
/** What it says: what share is done, and at last what it heard. */
export type Said =
  | { readonly share: number }
  | { readonly alignment: Alignment }
  | { readonly spotted: readonly (readonly HeardName[])[] };

const given: ToHear = workerData;
const model = parseModel(given.model);
const say = (said: Said): void => parentPort?.postMessage(said);
const progress = (share: number): void => say({ share });
if ("rough" in given) say({ alignment: alignWords(given.rough, given.frames, model, { progress }) });
else say({ spotted: spotNames(given.stretches, given.names, given.frames, model) });
