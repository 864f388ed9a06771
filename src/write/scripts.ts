import { fileURLToPath } from "node:url";
import { build } from "esbuild";

/** The scripts of the pages, ready to be written: ES modules, minified. */
export interface Scripts {
  readonly player: Uint8Array;
  readonly search: Uint8Array;
}

/** Bundles `src/browser`: the same source gives the same bytes. */
export async function buildScripts(): Promise<Scripts> {
  const [player, search] = await Promise.all([bundle("player.ts"), bundle("search.ts")]);
  return { player, search };
}

async function bundle(entry: string): Promise<Uint8Array> {
  const folder = fileURLToPath(new URL("../browser/", import.meta.url));
  const { outputFiles } = await build({
    absWorkingDir: folder,
    entryPoints: [entry],
    bundle: true,
    minify: true,
    format: "esm",
    target: "es2022",
    charset: "utf8",
    legalComments: "none",
    write: false,
    logLevel: "silent",
  });
  const [script] = outputFiles;
  if (script === undefined) throw new Error(`esbuild gave no file for ${entry}`);
  return script.contents;
}
