import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, realpathSync, statSync } from "node:fs";
import { rename, rm } from "node:fs/promises";
import { dirname, join, relative, resolve, sep } from "node:path";
import type { Finding } from "../model/finding.ts";
import type { PageKind } from "../pages/types.ts";
import { readKept, writeKept } from "../write/kept.ts";
import { compileModule } from "./compile.ts";
import { stationFinding, templateFault } from "./faults.ts";

/** A station's own folder, as a build finds it. Plain data. */
export interface Station {
  /** Its full path. */
  readonly folder: string;
  /** The address of its configuration, compiled; null where it has none. */
  readonly config: string | null;
  /** Its name in the folder. */
  readonly configName: string | null;
  /** Templates around pages, below the folder: around all, and by kind of page. */
  readonly frame: string | null;
  readonly kinds: Readonly<Record<string, string>>;
  /** Digest of all that a frame may be made from: with another, all pages are made anew. "": nothing is around them. */
  readonly frameDigest: string;
  /** Digest of the whole folder: with another, its own pages are made anew. */
  readonly ownDigest: string;
}

export interface ReadStation {
  readonly station: Station | null;
  readonly findings: readonly Finding[];
}

export const INCLUDES = "_includes";
const CONFIGS = ["eleventy.config.ts", "eleventy.config.mjs", "eleventy.config.js"];
const TEMPLATE = /^([a-z-]+)\.(?:njk|liquid|11ty\.(?:[cm]?js|tsx|ts|jsx))$/;
const SKIPPED = /^_site\/|(?:^|\/)(?:node_modules|\.git)(?:\/|$)/;

/** Kinds of page that a template may stand around: all that are HTML. */
const FRAMED: Readonly<Record<Exclude<PageKind, "order-sheet">, true>> = {
  home: true,
  episode: true,
  segment: true,
  corrections: true,
  correction: true,
  search: true,
  year: true,
  walk: true,
  names: true,
  text: true,
  record: true,
  missing: true,
  own: true,
};
export const FRAMED_KINDS = Object.keys(FRAMED) as readonly (keyof typeof FRAMED)[];

/**
 * Reads a station's folder and compiles its configuration, or finds it compiled. @param folder its full path.
 * @param kept the folder of what is kept between builds. @param engine the address of our Eleventy.
 */
export async function readStation(folder: string, kept: string, engine: () => Promise<string>): Promise<ReadStation> {
  const files = sourcesBelow(folder);
  const digests = new Map(files.map((file) => [file, digestOfFile(join(folder, file))]));
  const configs = CONFIGS.filter((name) => digests.has(name));
  const includes = files.filter((file) => file.startsWith(`${INCLUDES}/`));
  const framed = includes.flatMap((file) => {
    const [, kind] = TEMPLATE.exec(file.slice(INCLUDES.length + 1)) ?? [];
    return kind !== undefined && (kind === "frame" || FRAMED_KINDS.some((own) => own === kind)) ? [{ kind, file }] : [];
  });
  const twice = [
    ...configs.slice(1),
    ...framed.filter(({ kind }, at) => framed.findIndex((other) => other.kind === kind) !== at).map(({ file }) => file),
  ];
  if (twice.length > 0) return { station: null, findings: twice.map((file) => doubled(folder, file)) };
  const config = configs[0] === undefined ? null : await compileConfig(join(folder, configs[0]), kept, engine);
  if (config !== null && "finding" in config) return { station: null, findings: [config.finding] };
  const byKind = Object.fromEntries(framed.map(({ kind, file }) => [kind, file]));
  const { frame = null, ...kinds } = byKind;
  const used = [
    ...usedBy(
      framed.map(({ file }) => file),
      includes,
      folder,
    ),
    ...files.filter((file) => file.startsWith("_data/")),
  ];
  const lock = lockAbove(folder);
  const inFrame = [
    ...used.map((file) => [file, digests.get(file)] as const),
    ...Object.entries(config?.inputs ?? {}),
    ["lock", lock] as const,
  ];
  return {
    station: {
      folder,
      config: config?.address ?? null,
      configName: configs[0] ?? null,
      frame,
      kinds,
      frameDigest: framed.length === 0 && config === null ? "" : digestOf(inFrame),
      ownDigest: digestOf([...digests, ...Object.entries(config?.inputs ?? {}), ["lock", lock]]),
    },
    findings: [],
  };
}

const digestOf = (value: unknown): string => createHash("sha256").update(JSON.stringify(value)).digest("base64url");
const digestOfFile = (file: string): string => createHash("sha256").update(readFileSync(file)).digest("base64url");

/** The file that is at work on a page of a kind, as far as anybody knows: the innermost template around it. */
export const templateAround = ({ kinds, frame, configName }: Station, kind: string): string =>
  kinds[kind] ?? frame ?? configName ?? CONFIGS[0] ?? "";

/** The files of a station's folder that its pages may be made from: all but packages and what was made from it. */
export const sourcesBelow = (folder: string): readonly string[] =>
  filesBelow(folder).filter((file) => !SKIPPED.test(file));

/** All files of a folder, with forward slashes, in a fixed order. */
export function filesBelow(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).replaceAll(sep, "/"))
    .sort();
}

/** The packages that are installed where the folder is. */
function lockAbove(folder: string): string {
  for (let at = folder; ; at = dirname(at)) {
    const lock = join(at, "package-lock.json");
    if (existsSync(lock)) return digestOfFile(lock);
    if (dirname(at) === at) return "";
  }
}

/**
 * The includes that some templates may use, themselves too: those whose name stands in one of them. Where one asks for a
 * template by a name that is worked out, it may be any.
 */
function usedBy(templates: readonly string[], includes: readonly string[], folder: string): readonly string[] {
  const used = new Set(templates);
  for (const template of used) {
    const text = readFileSync(join(folder, template), "utf8");
    if (/\{%-?\s*(?:include|import|from|extends|layout|render)\s+[^"'\s]/.test(text)) return includes;
    for (const file of includes) {
      const name = file.slice(INCLUDES.length + 1).replace(/\.[^/]*$/, "");
      if (text.includes(name)) used.add(file);
    }
  }
  return [...used].sort();
}

const OLD_CONFIG = /^station-[\w-]{16}\.mjs$/;

interface KnownConfig {
  readonly file: string;
  /** What went into it, with digests. */
  readonly inputs: Readonly<Record<string, string>>;
  readonly address: string;
  readonly path: string;
}

async function compileConfig(
  file: string,
  kept: string,
  engine: () => Promise<string>,
): Promise<KnownConfig | { readonly finding: Finding }> {
  const note = join(kept, "station");
  const url = await engine();
  const known = readKept<KnownConfig & { readonly engine: string }>(note);
  const isSame = (path: string, digest: string) => existsSync(path) && digestOfFile(path) === digest;
  if (
    known?.file === file &&
    known.engine === url &&
    existsSync(known.path) &&
    Object.entries(known.inputs).every(([path, digest]) => isSame(path, digest))
  )
    return known;
  const draft = join(kept, "station-config.mjs");
  try {
    const inputs = await compileModule(file, draft, url);
    const digests = Object.fromEntries(
      inputs.filter((path) => existsSync(path)).map((path) => [path, digestOfFile(path)]),
    );
    // Named by what it is: a process that loaded another must not go on with that.
    const path = join(kept, `station-${digestOf(digests).slice(0, 16)}.mjs`);
    await rename(draft, path);
    for (const name of readdirSync(kept)) {
      if (OLD_CONFIG.test(name) && join(kept, name) !== path) await rm(join(kept, name), { force: true });
    }
    const config = { file, inputs: digests, address: path, path, engine: url };
    await writeKept(note, config);
    return config;
  } catch (error) {
    return { finding: templateFault(error, dirname(file), relative(dirname(file), file)) };
  }
}

function doubled(folder: string, file: string): Finding {
  return stationFinding(folder, file, {
    says: "There are two of this name, and only one can be used.",
    mend: "Keep one of them.",
  });
}

/** A station's folder as it was named: from where the name was given. @returns its full path, or what is wrong with it, as a sentence. */
export function stationFolder(
  name: string,
  from: string,
  content: string,
): { readonly folder: string } | { readonly wrong: string } {
  const folder = resolve(from, name);
  if (!existsSync(folder) || !statSync(folder).isDirectory()) return { wrong: `There is no folder ${folder}.` };
  const inContent = `${realpathSync(folder)}${sep}`.startsWith(`${realpathSync(content)}${sep}`);
  if (inContent)
    return {
      wrong: `${folder} is in the content folder. Programs run from it, and the content is not to be trusted with that: put it beside the content.`,
    };
  return { folder };
}
