import type { Correction, Episode } from "../model/episode.ts";
import type { Finding } from "../model/finding.ts";
import type { FieldChange, LaidSegment } from "./laid.ts";
import type { Holders, NearestSought } from "./layWords.ts";
import type { PieceIndex } from "./pieceIndex.ts";
import type { WithdrawnStretch } from "./stretch.ts";

/** An episode while corrections are being laid over it, one after the other. */
export interface Work {
  readonly episode: Episode;
  readonly index: PieceIndex;
  readonly holders: Holders;
  readonly nearest: NearestSought;
  segments: readonly LaidSegment[];
  /** Withdrawn stretches: as they were entered, and where the withdrawn segments stood when their withdrawal was laid. */
  readonly gone: WithdrawnStretch[];
  title: string;
  summary: string | null;
  changes: readonly FieldChange[];
  /** In date order. */
  readonly done: Correction[];
  readonly doneById: Map<string, Correction>;
  /** By the id of the earlier correction. */
  readonly superseded: Map<string, Correction>;
  readonly findings: Finding[];
}
