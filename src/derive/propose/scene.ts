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

/** Those of a programme's presenters whom the running order puts into a stretch. */
export const presentersOf = ({ by }: Pick<Stretch, "by">, presenters: readonly string[]): readonly string[] =>
  by.filter((name) => presenters.includes(name));

/** Who leads through a stretch: the first presenter that the running order puts there, else the programme's first. */
export const presenterIn = (stretch: Pick<Stretch, "by">, presenters: readonly string[]): string =>
  presentersOf(stretch, presenters)[0] ?? presenters[0] ?? "";

/** A sentence, and whom it names by sound or by role. */
export interface Scene {
  readonly sentence: Sentence;
  readonly text: readonly string[];
  readonly names: readonly string[];
  /** Whom its first words name; null: nobody. */
  readonly first: string | null;
  /** A question mark stands at its end. */
  readonly asks: boolean;
}

/** Whether a stretch is a talk, by question and answer. */
export const isTalk = ({ kind }: Pick<Stretch, "kind">): boolean => kind === "interview" || kind === "two-way";
