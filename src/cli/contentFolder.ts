import { stat } from "node:fs/promises";
import { UsageError } from "../model/usageError.ts";

/** A content folder that isn't there is a fault of the call, not of the content. */
export async function requireContentFolder(folder: string): Promise<void> {
  const found = await stat(folder).catch(() => null);
  if (found?.isDirectory()) return;
  const what = found === null ? "There is no folder" : "This is no folder:";
  throw new UsageError(`${what} ${folder}. Name the folder of your content with --content.`);
}
