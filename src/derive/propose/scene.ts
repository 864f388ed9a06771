import type { Sentence } from "./sentences.ts";

/** Who probably speaks, for a run of words. */
export interface ProposedVoice {
  readonly from: number;
  readonly to: number;
  /** Null: it is heard to be somebody else's than all who are known, and nobody is named. */
  readonly voice: string | null;
}

/** What the running order and the register say of a stretch of words. Milliseconds. */
export interface Stretch {
  readonly in: number;
  readonly out: number;
  readonly kind: string;
  readonly by: readonly string[];
}

/** A sentence, and whom it names by sound or by role. */
export interface Scene {
  readonly sentence: Sentence;
  readonly text: readonly string[];
  readonly names: readonly string[];
}
