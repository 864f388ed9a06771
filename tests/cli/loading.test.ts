import { join } from "node:path";
import { build, type Metafile } from "esbuild";
import { expect, test } from "vitest";

const SRC = join(import.meta.dirname, "../../src");

/** The packages that are loaded as soon as a module is, with all that it imports at once. */
async function loadedWith(module: string): Promise<readonly string[]> {
  const { metafile } = await build({
    absWorkingDir: SRC,
    entryPoints: [module],
    bundle: true,
    splitting: true,
    format: "esm",
    platform: "node",
    packages: "external",
    outdir: "nowhere",
    write: false,
    metafile: true,
  });
  const packages = new Set<string>();
  walk(module, metafile.inputs, new Set(), packages);
  return [...packages].sort();
}

function walk(module: string, inputs: Metafile["inputs"], met: Set<string>, packages: Set<string>): void {
  if (met.has(module)) return;
  met.add(module);
  for (const { path, kind, external } of inputs[module]?.imports ?? []) {
    if (kind === "dynamic-import") continue;
    if (external !== true) walk(path, inputs, met, packages);
    else if (!path.startsWith("node:")) packages.add(path);
  }
}

test.each([
  ["cli/main.ts", ["commander"]],
  // A build in which nothing changed asks for the day, and for nothing else that a package knows.
  ["build/build.ts", ["luxon"]],
])("%s waits for few packages", async (module, packages) => {
  expect(await loadedWith(module)).toEqual(packages);
});
