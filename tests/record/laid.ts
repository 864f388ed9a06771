import type { Correction } from "../../src/model/episode.ts";
import type { LaidEpisode } from "../../src/record/laid.ts";
import { layCorrections } from "../../src/record/lay.ts";
import { episode } from "./broadcast.ts";

export const LATER = "2027-01-01T00:00:00Z";
export const lay = (...corrections: Correction[]): LaidEpisode => layCorrections(episode({ corrections }), LATER);
export const words = (laid: LaidEpisode): readonly string[] =>
  laid.cues.flatMap(({ pieces }) => pieces.map((piece) => piece.words));
export const marks = (laid: LaidEpisode) =>
  laid.cues.flatMap(({ pieces }) =>
    pieces.flatMap(({ runs }) =>
      runs.flatMap(({ text, mark }) =>
        mark === null ? [] : [{ text, was: mark.was, by: mark.correction.id, occurrence: mark.occurrence }],
      ),
    ),
  );
export const rules = (laid: LaidEpisode): readonly string[] => laid.findings.map(({ rule }) => rule);
