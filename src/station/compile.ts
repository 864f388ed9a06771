import { readFile } from "node:fs/promises";
import { dirname } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Plugin } from "esbuild";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** Whose copies of these a station's code gets: ours, so that there is one of each. */
const OURS = /^preact(?:\/|$)/;

/**
 * Compiles a module of a station's folder with all that it imports, so that Node can read it: TypeScript, JSX, and packages from
 * where the folder is. @param engine the address of our own Eleventy, which is what its code gets. @param out the file to write.
 * @returns the files that went into it, with full paths. @throws what esbuild says, which names file, line and column.
 */
export async function compileModule(file: string, out: string, engine: string): Promise<readonly string[]> {
  // Loaded here: where everything is compiled already, nobody must wait for it.
  const { build } = await import("esbuild");
  const { metafile } = await build({
    absWorkingDir: dirname(file),
    entryPoints: [file],
    outfile: out,
    bundle: true,
    format: "esm",
    platform: "node",
    target: "node20",
    jsx: "automatic",
    jsxImportSource: "preact",
    sourcemap: "inline",
    metafile: true,
    logLevel: "silent",
    banner: {
      js:
        'import{createRequire as r_}from"node:module";const require=r_(' +
        JSON.stringify(pathToFileURL(file).href) +
        ");",
    },
    plugins: [where(engine)],
  });
  return Object.keys(metafile.inputs).map((input) => new URL(input, pathToFileURL(`${dirname(file)}/`)).pathname);
}

/** Modules go on believing that they stand where they stand, for they look for files beside themselves. */
const where = (engine: string): Plugin => ({
  name: "where",
  setup(build) {
    build.onResolve({ filter: /^@11ty\/eleventy$/ }, () => ({ path: engine, external: true }));
    build.onResolve({ filter: OURS }, ({ path, kind, pluginData }) =>
      pluginData === where ? null : build.resolve(path, { kind, resolveDir: ROOT, pluginData: where }),
    );
    build.onLoad({ filter: /\.(?:[cm]?js|[cm]?ts|tsx|jsx)$/ }, async ({ path }) => {
      const text = await readFile(path, "utf8");
      if (!/\bimport\.meta\b|__dirname|__filename/.test(text)) return null;
      const [here, folder] = [pathToFileURL(path).href, dirname(path)].map((one) => JSON.stringify(one));
      const contents = text
        .replace(/\bimport\.meta\.url\b/g, here ?? "")
        .replace(/\bimport\.meta\.dirname\b|\b__dirname\b/g, folder ?? "")
        .replace(/\bimport\.meta\.filename\b|\b__filename\b/g, JSON.stringify(path));
      return { contents, loader: loaderOf(path) };
    });
  },
});

function loaderOf(path: string): "js" | "jsx" | "ts" | "tsx" {
  const [, kind] = /\.[cm]?(jsx?|tsx?)$/.exec(path) ?? [];
  return kind === "jsx" || kind === "ts" || kind === "tsx" ? kind : "js";
}
