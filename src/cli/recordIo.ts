import type { RecordWorld } from "../actions/publish.ts";
import { blocks, type Finding } from "../model/finding.ts";
import { UsageError } from "../model/usageError.ts";
import { WriteFault } from "../write/record.ts";
import type { Io } from "./io.ts";
import { asText, sorted } from "./report.ts";

/** A question with answers to choose from. */
export interface Choice<T extends string> {
  readonly value: T;
  readonly label: string;
  readonly hint?: string;
}

/** Asks whoever sits at the terminal. An answer of null: they went away. */
export interface Ask {
  text(
    question: string,
    given?: {
      /** The answer where nothing is written. */
      readonly placeholder?: string;
      readonly optional?: boolean;
      /** What is wrong with an answer, as sentences; null: nothing. It is asked again until nothing is. */
      readonly wrong?: (answer: string) => string | null;
    },
  ): Promise<string | null>;
  choose<T extends string>(question: string, choices: readonly Choice<T>[]): Promise<T | null>;
  confirm(question: string): Promise<boolean | null>;
}

/** What the commands of the record may do to the world. */
export interface RecordIo extends Io, RecordWorld {
  /** Null where nobody can be asked. */
  readonly ask: Ask | null;
  /** A line that the next one takes the place of; null or left out where stderr is no terminal. */
  readonly status?: ((text: string) => void) | null;
}

/** Tells what stands in the way of a write: true where anything does. */
export function stands(findings: readonly Finding[], content: string, io: Io): boolean {
  if (findings.length > 0) io.err(asText(sorted(findings), content));
  return findings.some(blocks);
}

/** A write that could not be made is a fault of the surroundings. */
export function asUsage(error: unknown): never {
  if (error instanceof WriteFault) throw new UsageError(error.message, { cause: error });
  throw error;
}
