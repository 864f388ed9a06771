// Plain JavaScript, because it is what Node reads first: it makes the rest readable to Node. Types: compile.d.mts.
import { createHash, randomUUID } from "node:crypto";
import { accessSync, constants, existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { readdir, readFile, rename, rm, stat, utimes } from "node:fs/promises";
import { homedir } from "node:os";
import { basename, dirname, extname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** Compiled code that nobody has needed for this long goes when other code is compiled, in milliseconds. */
const STALE_MS = 7 * 24 * 3600 * 1000;

/** What says which packages are there: in the repository, and where all of this is a package among others. */
const LOCKS = ["package-lock.json", "../.package-lock.json"];

/** What is compiled knows what it was compiled from: see `define` below. */
export const programDigest = () =>
  typeof COMPILED_FROM === "string"
    ? COMPILED_FROM
    : digestBelow(ROOT, ["src", "package.json", ...LOCKS], process.version);

export function digestBelow(root, paths, salt) {
  const hash = createHash("sha256").update(salt);
  for (const path of paths) {
    const full = join(root, path);
    if (!existsSync(full)) continue;
    for (const file of filesBelow(full)) hash.update(`${path}/${file}\0`).update(readFileSync(join(full, file)));
  }
  return hash.digest("base64url");
}

/** The files below a folder in a fixed order; of a file, itself as "". */
function filesBelow(full) {
  if (!statSync(full).isDirectory()) return [""];
  const entries = readdirSync(full, { recursive: true, withFileTypes: true });
  const files = entries.filter((entry) => entry.isFile());
  return files.map((entry) => join(entry.parentPath, entry.name).slice(full.length)).sort();
}

export async function compiled(entries, digest) {
  const name = nameOf(digest);
  const found = places()
    .map((place) => join(place, name))
    .find((folder) => existsSync(folder));
  const folder = found ?? (await compileInto(join(writablePlace(), name), entries, digest));
  // Somebody needs it today. Where that can't be noted, nobody takes anything away either.
  await utimes(folder, new Date(), new Date()).catch(() => undefined);
  return entries.map((entry) => pathToFileURL(join(folder, `${basename(entry, extname(entry))}.mjs`)).href);
}

/** What is compiled names packages by where they lie. */
const nameOf = (digest) => createHash("sha256").update(ROOT).update("\0").update(digest).digest("hex").slice(0, 24);

/** Beside the packages, as is usual; where that can't be written, where the user's caches are (XDG Base Directory). */
const places = () => [
  join(ROOT, "node_modules/.cache/afterair"),
  join(process.env.XDG_CACHE_HOME || join(homedir(), ".cache"), "afterair"),
];

function writablePlace() {
  const place = places().find(canBeMade);
  if (place !== undefined) return place;
  throw new Error(
    `The program can't be made ready: neither ${places().join(" nor ")} can be written. ` +
      "Let this user write there, or set XDG_CACHE_HOME to a folder that can be written.",
  );
}

function canBeMade(folder) {
  if (!existsSync(folder)) return dirname(folder) !== folder && canBeMade(dirname(folder));
  try {
    accessSync(folder, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

/** Compiles to a folder of its own first: whoever is killed, or does the same at the same time, leaves nothing half done. */
async function compileInto(folder, entries, digest) {
  const { build } = await import("esbuild");
  const draft = join(dirname(folder), `.${basename(folder)}-${randomUUID()}`);
  await build({
    absWorkingDir: ROOT,
    entryPoints: entries,
    outdir: draft,
    outExtension: { ".js": ".mjs" },
    entryNames: "[name]",
    bundle: true,
    splitting: true,
    format: "esm",
    platform: "node",
    target: "node20",
    minifySyntax: true,
    minifyWhitespace: true,
    sourcemap: true,
    // Packages of the older kind ask for parts of Node by this.
    banner: { js: "const require = process.getBuiltinModule;" },
    define: { COMPILED_FROM: JSON.stringify(digest) },
    jsx: "automatic",
    jsxImportSource: "preact",
    logLevel: "silent",
    plugins: [ours],
  }).catch((error) => {
    const isWrite = /^error: Failed to (?:create|write)/m.test(error.message);
    throw isWrite
      ? new Error(`The program can't be made ready: ${dirname(folder)} can't be written. Make room there.`)
      : error;
  });
  try {
    await rename(draft, folder);
  } catch (error) {
    await rm(draft, { recursive: true, force: true });
    if (!existsSync(folder)) throw error;
  }
  await dropStale(folder);
  return folder;
}

async function dropStale(own) {
  for (const name of await readdir(dirname(own))) {
    const folder = join(dirname(own), name);
    const { mtimeMs = 0 } = await stat(folder).catch(() => ({}));
    const isNeeded = folder === own || name === nameOf(programDigest());
    if (!isNeeded && mtimeMs < Date.now() - STALE_MS) await rm(folder, { recursive: true, force: true });
  }
}

/** Packages that look for files of their own, beside themselves. */
const APART = ["pagefind", "esbuild"];

/** The modules of the site engine, which look for files beside themselves too. */
const OF_ENGINE = /[\\/]@11ty[\\/]eleventy[\\/]src[\\/].*\.js$/;

/** A source that goes on believing that it stands where it stands. */
async function whereItStands(path) {
  const here = JSON.stringify(pathToFileURL(path).href);
  return (await readFile(path, "utf8")).replace(/import\.meta\.url\b/g, here);
}

const isPackaged = (path) => /(?:^|[\\/])node_modules[\\/]/.test(path.replace(ROOT, ""));

/**
 * Packages go into what is compiled: Node takes longer to find and read hundreds of small files than to run them. They
 * stand beside our own code, wherever what is compiled stands; and our sources go on believing that they stand where
 * they stand.
 */
const ours = {
  name: "ours",
  setup(build) {
    build.onResolve({ filter: /^[^./]/ }, ({ path, kind, importer, pluginData }) => {
      if (APART.includes(path)) return { path: import.meta.resolve(path), external: true };
      if (kind === "entry-point" || pluginData === ours || isPackaged(importer)) return null;
      return build.resolve(path, { kind, resolveDir: ROOT, pluginData: ours });
    });
    // Of the site engine: its server and its watcher are never asked for.
    build.onResolve({ filter: /^(?:@11ty\/eleventy-dev-server|chokidar)$/ }, ({ path, importer }) =>
      OF_ENGINE.test(importer) ? { path, namespace: "left out" } : null,
    );
    build.onLoad({ filter: /.*/, namespace: "left out" }, () => ({ contents: "export default {};" }));
    build.onLoad({ filter: OF_ENGINE }, async ({ path }) => ({ contents: await whereItStands(path), loader: "js" }));
    build.onLoad({ filter: /\.(?:tsx?|mjs)$/ }, async ({ path }) => {
      if (isPackaged(path)) return null;
      return { contents: await whereItStands(path), loader: path.endsWith(".tsx") ? "tsx" : "ts" };
    });
  },
};
