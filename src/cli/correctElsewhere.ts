import { type NewWithdrawal, withdrawnElsewhere } from "../actions/correctElsewhere.ts";
import { progressTo } from "./progress.ts";
import type { RecordIo } from "./recordIo.ts";
import { showElsewhere } from "./showElsewhere.ts";

/** Where the matter of a withdrawal stands elsewhere in the archive, as lines for people. */
export async function elsewhereLines(withdrawal: NewWithdrawal, io: RecordIo): Promise<readonly string[]> {
  const progress = progressTo({ line: io.err, status: io.status ?? null, now: () => io.clock().getTime() }, false);
  const found = await withdrawnElsewhere(withdrawal, io.clock(), progress);
  return found === null ? [] : showElsewhere(found, { content: withdrawal.content, withdrawal: withdrawal.id });
}
