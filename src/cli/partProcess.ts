import { type MadePart, makePart, type Part } from "./part.ts";

/** What a process that makes parts says: episodes done since the last time, the part, or what went wrong. */
export type Said = { readonly done: number } | { readonly made: MadePart } | { readonly failed: string };

/** A build that is gone hears nothing. */
const say = (said: Said): void => void process.send?.(said, () => undefined);

process.on("message", async (part: Part) => {
  try {
    say({ made: await makePart(part, (done) => say({ done })) });
  } catch (error) {
    say({ failed: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});
// The build is gone: nobody waits for the rest.
process.on("disconnect", () => process.exit());
