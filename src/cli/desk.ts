import type { ListenOptions } from "../actions/listen.ts";
import { draftsFolder } from "../build/openOut.ts";
import { openDesk } from "../desk/desk.ts";
import type { Serving } from "../desk/serve.ts";
import { nodeFiles } from "../write/files.ts";
import { cacheOf } from "../write/outFolder.ts";
import type { Io } from "./io.ts";

export interface DeskCommand {
  readonly content: string;
  readonly out: string;
  /** null: the first free one. */
  readonly port: number | null;
  readonly listen: ListenOptions;
}

/** `afterair desk`: opens the desk on this machine. Goes on until stopped. */
export async function desk({ content, out, port, listen }: DeskCommand, io: Io): Promise<Serving> {
  const cache = cacheOf(draftsFolder(content, null));
  const world = { clock: () => new Date(), files: nodeFiles };
  const serving = await openDesk({ content, out, cache, world, listen, port, ffmpeg: listen.ffmpeg });
  io.out(`\n    ${serving.url}\n\nThe desk is open to this machine alone. Stop with Ctrl-C: all is saved.`);
  return serving;
}
