import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { packagesIn } from "./notices.ts";

/** The scripts of the pages, ready to be written: ES modules, minified. */
export interface Scripts {
  readonly player: Uint8Array;
  readonly search: Uint8Array;
  readonly quote: Uint8Array;
  readonly counts: Uint8Array;
  readonly suggest: Uint8Array;
  /** The folders of the packages that they are made of, besides our own code. */
  readonly packages: readonly string[];
}

/** Bundles `src/browser`: the same source gives the same bytes. */
export async function buildScripts(): Promise<Scripts> {
  const [player, search, quote, counts, suggest] = await Promise.all([
    bundle("playerEntry.ts"),
    bundle("search.ts"),
    bundle("quote.ts"),
    bundle("counts.ts"),
    bundle("suggestEntry.ts"),
  ]);
  const packages = [...new Set([player, search, quote, counts, suggest].flatMap((one) => one.packages))].sort();
  return {
    player: player.contents,
    search: search.contents,
    quote: quote.contents,
    counts: counts.contents,
    suggest: suggest.contents,
    packages,
  };
}

async function bundle(entry: string): Promise<{ readonly contents: Uint8Array; readonly packages: readonly string[] }> {
  const folder = fileURLToPath(new URL("../browser/", import.meta.url));
  const { outputFiles, metafile } = await build({
    absWorkingDir: folder,
    entryPoints: [entry],
    bundle: true,
    minify: true,
    format: "esm",
    target: "es2022",
    charset: "utf8",
    legalComments: "none",
    write: false,
    metafile: true,
    logLevel: "silent",
  });
  const [script] = outputFiles;
  if (script === undefined) throw new Error(`esbuild gave no file for ${entry}`);
  return { contents: script.contents, packages: packagesIn(metafile, folder) };
}
