import type { DeskAudit } from "../../model/desk.ts";
import { work, write } from "./api.ts";

/** What follows an entry in a record: the site is built, and the audit asked. */
export interface Followed {
  readonly lines: readonly string[];
  readonly isWell: boolean;
}

/** Builds the site and audits what is published. @param tell is told what is being done. */
export async function afterEntry(tell: (doing: string) => void): Promise<Followed> {
  const built = await work("/api/build", {}, tell);
  tell("Auditing");
  const audit = await write<DeskAudit>("/api/audit", {});
  return { lines: [built.says, audit.says], isWell: built.is === "done" && audit.isSound };
}

interface DoneProps {
  /** What is being done; null: nothing. */
  readonly doing: string | null;
  /** What was done. */
  readonly done: readonly string[];
}

/** What is being done, and what came of it, read out as it comes. */
export const Done = ({ doing, done }: DoneProps) => (
  <>
    <p role="status" class="desk-doing">
      {doing ?? ""}
    </p>
    {done.length > 0 && (
      <ul class="desk-made">
        {done.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    )}
  </>
);
