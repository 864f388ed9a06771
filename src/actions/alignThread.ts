import { parentPort, workerData } from "node:worker_threads";
import { type Alignment, alignWords, type RoughWord } from "../listen/align.ts";
import { type ModelFiles, parseModel } from "../listen/alignModel.ts";

/** What a thread is given. */
export interface ToHear {
  readonly rough: readonly RoughWord[];
  readonly names: readonly string[];
  readonly frames: Float32Array;
  readonly model: ModelFiles;
}
/** What it says: what share is done, and at last what it heard. */
export type Said = { readonly share: number } | { readonly alignment: Alignment };

const { rough, names, frames, model }: ToHear = workerData;
const say = (said: Said): void => parentPort?.postMessage(said);
const progress = (share: number): void => say({ share });
say({ alignment: alignWords(rough, frames, parseModel(model), { names, progress }) });
