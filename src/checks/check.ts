import type { Finding, Level } from "../model/finding.ts";
import type { Subject } from "./subject.ts";

export const GROUPS = [
  "recogniser",
  "names",
  "figures",
  "captions",
  "structure",
  "cautions",
  "rights",
  "record",
] as const;
export type Group = (typeof GROUPS)[number];

/** What a check has to say of one place, before the programme's levels and the episode's acceptances are applied. */
export interface Doubt extends Omit<Finding, "rule" | "level"> {
  /** The words concerned, as they stand in the transcript; null where the doubt is not about words. */
  readonly words: string | null;
  /** Whether a correction lies on these words already: the doubt is then answered. */
  readonly answered: boolean;
  /** Less than the rule's own level, where this one is no more than a doubt. */
  readonly level?: "warns";
}

/** One editorial rule: how it judges, and what its page of documentation says. */
export interface Check {
  /** Stable; what programme.md, an acceptance and `--explain` call it. */
  readonly name: string;
  readonly level: Level;
  readonly group: Group;
  /** One sentence: why a person should look. */
  readonly reason: string;
  /** What it looks for, with its thresholds and their sources. */
  readonly looks: string;
  /** Words that it tells of, and what is wrong with them. */
  readonly example: string;
  /** When it is right to accept what it tells. */
  readonly accept: string;
  readonly judge: (subject: Subject) => readonly Doubt[];
}
