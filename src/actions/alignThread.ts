import { parentPort, workerData } from "node:worker_threads";
import { type Alignment, alignWords, type RoughWord } from "../listen/align.ts";
import { type ModelFiles, parseModel } from "../listen/alignModel.ts";

/** What a thread is given. */
export interface ToAlign {
  readonly rough: readonly RoughWord[];
  readonly frames: Float32Array;
  readonly model: ModelFiles;
}
/** What it says: what share is done, and at last what it heard. */
export type Said = { readonly share: number } | { readonly alignment: Alignment };

const { rough, frames, model }: ToAlign = workerData;
const say = (said: Said): void => parentPort?.postMessage(said);
say({ alignment: alignWords(rough, frames, parseModel(model), { progress: (share) => say({ share }) }) });
