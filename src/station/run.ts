import { existsSync } from "node:fs";
import { join, relative, resolve, sep } from "node:path";
import type { UserConfig } from "@11ty/eleventy";
import type { PageParts } from "../pages/types.ts";
import { findNearest } from "../read/nearest.ts";
import { type ArchiveSource, digestsOf, isLookedFor, NoSuchField, type Reads, strict, viewOf } from "./archive.ts";
import { CONTRACT, LISTS, NAMED } from "./contract.ts";
import { type Engine, type EngineSetup, openEngine, strictly } from "./engine.ts";
import { filesBelow, sourcesBelow, templateAround } from "./folder.ts";
import { type FramedPage, withContent } from "./framedPage.ts";
import { lostParts } from "./marks.ts";

/** A page of ours that is to be set: its parts are made when its turn comes. */
export interface OwnPage {
  readonly kind: string;
  readonly path: string;
  readonly url: string;
  /** What the templates around it are given. */
  readonly data: Readonly<Record<string, unknown>>;
  parts(): PageParts;
}

export interface Run {
  readonly setup: EngineSetup;
  readonly pages: readonly OwnPage[];
  readonly archive: ArchiveSource;
  /** Which of the station's templates are due; the rest are left as they are. */
  readonly due: "all" | readonly string[];
  /** What stands around a page that the station's template gives the content of. */
  frameOf(page: {
    readonly title: string | null;
    readonly description: string | null;
    readonly path: string;
    readonly html: string;
  }): PageParts;
  /** Is told what is at work, now and then. */
  at(what: string): void;
}

/** A file that came out: `from` is where it lies, `by` the template; null: copied, or written by a plugin. */
export interface RanFile {
  readonly path: string;
  readonly from: string;
  readonly by: string | null;
  /** It was copied as it is: also where a template has the same address. */
  readonly isCopied: boolean;
}

export interface Ran {
  readonly files: readonly RanFile[];
  /** Of each template of the station's that was set: what it asked for. */
  readonly templates: Readonly<Record<string, TemplateReads>>;
  /** Pages that lost parts that they need. */
  readonly lost: readonly { readonly path: string; readonly parts: readonly string[]; readonly by: string }[];
}

export interface TemplateReads {
  readonly reads: Reads;
  /** It also asked for other pages of the folder. */
  readonly siblings: boolean;
}

const OURS = "afterair-pages";

/** Sets pages of ours and those of the station's folder, in one run of Eleventy, into `setup.out`. @throws what templates throw. */
export async function runEngine(run: Run): Promise<Ran> {
  const { setup } = run;
  const asks = asksOf(run.archive);
  const framed = new Map<string, FramedPage>();
  let engine: Engine | null = null;
  const frame: SetFrame = (parted) => {
    if (engine === null) throw new Error("A page was set before the engine was there.");
    const page = withContent(parted);
    framed.set(page.path, page);
    return engine.frame(page);
  };
  engine = await openEngine(setup, (config) => {
    noteAsking(config, run, asks);
    addOurs(config, run, frame);
    addFrame(config, run, frame);
    // What somebody made of the folder with Eleventy alone.
    config.ignores.add("_site/**");
    if (setup.station === null) config.ignores.add("**");
    else for (const file of notDue(setup.station.folder, run.due)) config.ignores.add(file);
  });
  engine.onRender((template) => {
    if (!template.includes(OURS)) run.at(template);
  });
  const [passed, written] = await engine.eleventy.write();
  const copied = passed.flatMap(({ map = {} }) => Object.values(map).map((to) => resolve(to)));
  const byPath = new Map(written.map((page) => [pathIn(setup.out, page.outputPath || ""), page] as const));
  const files = existsSync(setup.out) ? filesBelow(setup.out) : [];
  return {
    files: files.map((path) => {
      const from = join(setup.out, path);
      const isCopied = copied.some((to) => `${from}${sep}`.startsWith(`${to}${sep}`));
      return { path, from, by: byPath.get(path)?.inputPath ?? null, isCopied };
    }),
    templates: asks.reads(),
    lost: [...framed].flatMap(([path, page]) => {
      const { content: html = "", inputPath: by = "" } = byPath.get(path) ?? {};
      const lost = byPath.has(path) ? lostParts(page, html) : [];
      return lost.length === 0 ? [] : [{ path, parts: lost, by }];
    }),
  };
}

/** A file's path in the site. */
const pathIn = (out: string, outputPath: string): string => relative(out, resolve(outputPath)).replaceAll(sep, "/");

/** Gives each template of the station's the archive, and notes what it asks for. */
function noteAsking(config: UserConfig, { at, setup: { programme } }: Run, asks: Asks): void {
  const given = strictly({ programme });
  config.addPreprocessor("afterair", "*", function (data) {
    if (this.inputPath.includes(OURS)) return;
    at(this.inputPath);
    Object.assign(data, asks.for(this.inputPath, data.collections as object), given);
  });
}

type SetFrame = (page: Omit<FramedPage, "content">) => Promise<string>;

/** Pages of ours are templates that need no file, and in no list of the station's. Their content is never read as a template. */
function addOurs(config: UserConfig, { pages, at, setup: { station } }: Run, frame: SetFrame): void {
  for (const [index, page] of pages.entries()) {
    const template = {
      data: () => ({ permalink: () => page.path, eleventyExcludeFromCollections: true, layout: false }),
      render() {
        if (station !== null) at(templateAround(station, page.kind));
        return frame({ ...page, parts: page.parts() });
      },
    };
    config.addTemplate(`${OURS}/${index}.11ty.js`, template);
  }
}

/** Puts the station's pages of HTML into the frame of all: those that are no whole documents, and want to be in it. */
function addFrame(config: UserConfig, { setup, frameOf }: Run, frame: SetFrame): void {
  const described = new Map<string, Described>();
  config.addGlobalData("eleventyDataSchema", () => (data: Described & { page: PageData }) => {
    requireInside(data.page, setup.out);
    requireOwnTags(data);
    described.set(data.page.url, data);
  });
  config.addTransform("afterair frame", async function (content, outputPath) {
    const { url = "" } = (this as { page?: { url?: string } }).page ?? {};
    const own = described.get(url) ?? {};
    if (!/\.html$/.test(outputPath || "") || own.frame === false || /<html[\s>]/i.test(content)) return content;
    const textOf = (value: unknown): string | null => (typeof value === "string" ? value : null);
    const [title, description, path] = [textOf(own.title), textOf(own.description), pathIn(setup.out, outputPath)];
    const parts = frameOf({ title, description, path, html: content });
    return frame({ kind: "own", path, url, parts, data: { title, description } });
  });
}

interface PageData {
  readonly url: string;
  readonly inputPath: string;
  readonly outputPath: string | false;
}

interface Described {
  readonly title?: unknown;
  readonly description?: unknown;
  readonly frame?: unknown;
  readonly tags?: unknown;
}

/** Templates of the folder that stay as they are in this run. */
const notDue = (folder: string, due: Run["due"]): readonly string[] =>
  due === "all" ? [] : sourcesBelow(folder).filter((file) => !due.includes(`./${file}`) && !file.startsWith("_"));

interface Asks {
  for(template: string, collections: object): { readonly collections: object; readonly archive: object };
  reads(): Readonly<Record<string, TemplateReads>>;
}

/** Who asks for what. */
function asksOf(archive: ArchiveSource): Asks {
  const read = new Map<string, { readonly keys: Set<string>; siblings: boolean }>();
  const memo = { ...archive, years: archive.years.map((year) => ({ ...year, read: once(() => year.read()) })) };
  return {
    for(template, collections) {
      const own = read.get(template) ?? { keys: new Set<string>(), siblings: false };
      read.set(template, own);
      const { lists, years } = viewOf(memo, (key) => own.keys.add(key));
      const all = new Proxy(collections, {
        get(target, key) {
          if (typeof key === "string" && key in lists) return lists[key as keyof typeof lists];
          own.siblings ||= typeof key === "string" && !isLookedFor(key);
          if (typeof key === "string" && !(key in target)) requireNoSlip(key, Object.keys(lists));
          return Reflect.get(target, key);
        },
        has: (target, key) => key in lists || key in target,
      });
      return { collections: all, archive: strict({ contract: CONTRACT, years }, "`archive`") };
    },
    reads() {
      const digests = digestsOf(archive);
      return Object.fromEntries(
        [...read].map(([template, { keys, siblings }]) => {
          return [template, { reads: Object.fromEntries([...keys].map((key) => [key, digests[key] ?? ""])), siblings }];
        }),
      );
    },
  };
}

/** A list that is not there is an empty one to templates: they would show nothing, without a word. */
function requireNoSlip(name: string, known: readonly string[]): void {
  const near = isLookedFor(name) ? undefined : findNearest(name, known);
  if (near !== undefined) throw new NoSuchField(`\`collections\` has no \`${name}\`.`, `Did you mean \`${near}\`?`);
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** A tag of the station's that is called like a list of ours would never be seen. */
function requireOwnTags({ tags, page }: Described & { page: PageData }): void {
  const taken = [tags].flat().find((tag) => [...LISTS, ...NAMED].includes(tag as (typeof LISTS)[number]));
  if (taken === undefined || page.inputPath.includes(OURS)) return;
  throw new NoSuchField(
    `${page.inputPath} has the tag \`${taken}\`, which is a list of ours.`,
    "Give the tag another name.",
  );
}

/** Before anything is written. */
function requireInside({ outputPath, inputPath }: PageData, out: string): void {
  if (outputPath === false || resolve(outputPath).startsWith(out + sep)) return;
  throw new NoSuchField(`${inputPath} would be written outside the site.`, "Take `..` out of its permalink.");
}
