import { UsageError } from "../model/usageError.ts";
import { WriteFault } from "../write/files.ts";

/** Why something can't be done, in a sentence for whoever asked for it. Any other error is a fault of ours, and goes on. */
export function refusalOf(error: unknown): string {
  if (error instanceof UsageError || error instanceof WriteFault) return error.message;
  throw error;
}
