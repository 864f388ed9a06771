import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import {
  type AcousticModel,
  MODEL_FILES,
  MODEL_FOLDER,
  type ModelFiles,
  parseModel,
} from "../../src/listen/alignModel.ts";

/** Whether the model is there; tests that need it say so when they are skipped. */
export const HAS_MODEL = existsSync(join(MODEL_FOLDER, "mdef"));

export function modelFiles(): ModelFiles {
  const read = (name: keyof ModelFiles) => new Uint8Array(readFileSync(join(MODEL_FOLDER, MODEL_FILES[name])));
  return {
    mdef: read("mdef"),
    means: read("means"),
    variances: read("variances"),
    transitions: read("transitions"),
    sendump: read("sendump"),
  };
}

export const debianModel = (): AcousticModel => parseModel(modelFiles());
