import type { CorrectionKind } from "./correctionKinds.ts";

/** What a correction says, as flags or answers gave it; null: not given. */
export interface Draft {
  readonly kind: CorrectionKind | null;
  readonly segment: string | null;
  /** `3:41`. */
  readonly at: string | null;
  readonly field: string | null;
  readonly said: string | null;
  readonly now: string | null;
  readonly every: boolean;
  readonly signed: string | null;
  readonly supersedes: string | null;
  /** Markdown. */
  readonly note: string | null;
}
