import { AsyncLocalStorage } from "node:async_hooks";
import { existsSync, readFileSync } from "node:fs";
import { isAbsolute, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import Eleventy, { HtmlBasePlugin, RenderPlugin, type TemplateConfig, type UserConfig } from "@11ty/eleventy";
import type { PageParts } from "../pages/types.ts";
import { findNearest } from "../read/nearest.ts";
import { isLookedFor, NoSuchField, strict } from "./archive.ts";
import type { ProgrammeData } from "./contract.ts";
import { INCLUDES, type Station } from "./folder.ts";
import type { FramedPage } from "./framedPage.ts";
import { jsxExtension } from "./jsx.ts";

/** What an engine needs to know. Plain data. */
export interface EngineSetup {
  /** null: there is none, and pages are as they come. */
  readonly station: Station | null;
  readonly programme: ProgrammeData;
  /** The base path, with a slash at both ends. */
  readonly base: string;
  /** A folder for what it compiles, and one that pages are written to. */
  readonly kept: string;
  readonly out: string;
  /** The address of this very Eleventy: what compiled templates import. */
  readonly engine: string;
}

/** Our own templates that a station's may extend: `afterair.njk`, `afterair.liquid`. */
const BASE_TEMPLATES = fileURLToPath(new URL("../../templates/base/", import.meta.url));

const BEING_SET = new AsyncLocalStorage<FramedPage>();

/** `{% afterair "player" %}`: a part of the page that is being set. */
export function partNamed(name: string): string {
  const page = BEING_SET.getStore();
  if (page === undefined)
    throw new NoSuchField(
      `There are no parts of ours on this page, so none is called \`${name}\`.`,
      `Use \`afterair\` in ${INCLUDES}/frame or in the template around a kind of page.`,
    );
  const { root, head, opening, masthead, footer, main } = page.parts;
  const all: Readonly<Record<string, string>> = { root, head, opening, masthead, footer, ...main };
  const part = all[name];
  if (part !== undefined) return part;
  const near = findNearest(name, Object.keys(all));
  throw new NoSuchField(
    `A page of the kind \`${page.kind}\` has no part \`${name}\`.`,
    near === undefined ? `It has ${Object.keys(all).join(", ")}.` : `Did you mean \`${near}\`?`,
  );
}

/** An Eleventy with our side of the configuration and the station's. */
export interface Engine {
  readonly eleventy: Eleventy;
  /** Puts a page into the templates around its kind and around all. @throws what they throw. */
  frame(page: FramedPage): Promise<string>;
  /** The same, and then what the configuration does to every page: for pages that are not set in a run. */
  set(page: FramedPage): Promise<string>;
  /** @param hear is told of each template of a run before it is set, by its path. */
  onRender(hear: (template: string) => void): void;
}

/** @param more is given the configuration after ours and before the station's. */
export async function openEngine(
  setup: EngineSetup,
  more: (config: UserConfig) => void = () => undefined,
): Promise<Engine> {
  const { station } = setup;
  let templateConfig: TemplateConfig | null = null;
  let extensionMap: unknown = null;
  const eleventy = new Eleventy(".", setup.out, {
    // Empty: or the first eleventy.config that lies about is run.
    configPath: station?.config === null || station === null ? "" : relative(station.folder, station.config),
    quietMode: true,
    pathPrefix: setup.base,
    config(config) {
      configure(config, setup);
      config.on("eleventy.config", (own: TemplateConfig) => {
        templateConfig = own;
      });
      config.on("eleventy.extensionmap", (own: unknown) => {
        extensionMap = own;
      });
      more(config);
    },
  });
  eleventy.disableLogger();
  await eleventy.init();
  requireUsualFolders(eleventy);
  quieten(templateConfig);
  const compiled = new Map<string, Promise<(data: object) => Promise<string>>>();
  const templateAt = (path: string) => {
    const known = compiled.get(path);
    if (known !== undefined) return known;
    requireNoFrontMatter(path);
    if (templateConfig === null) throw new Error("Eleventy told nobody of its configuration.");
    const made = RenderPlugin.File(`./${path}`, { templateConfig, extensionMap, strictMode: true });
    compiled.set(path, made);
    return made;
  };
  const set = async (path: string, data: object): Promise<string> => {
    try {
      return await (await templateAt(path))(data);
    } catch (error) {
      throw new Error(`In "./${path}"`, { cause: error });
    }
  };
  const transforms = () => Object.values((templateConfig as TemplateConfig | null)?.getConfig().transforms ?? {});
  const programme = strict(setup.programme, "`programme`");
  const globals = station === null ? {} : { ...(await eleventy.templateData.getGlobalData()), programme };
  const pageDataOf = ({ url, path }: FramedPage) => {
    return { url, inputPath: `./${path}`, outputPath: join(setup.out, path), fileSlug: "", date: null };
  };
  const frame = async (page: FramedPage): Promise<string> => {
    const { kind, parts } = page;
    const own = station?.kinds[kind];
    const data = {
      ...globals,
      ...NO_LISTS,
      ...strictly({ ...page.data, programme: setup.programme }),
      kind,
      page: pageDataOf(page),
    };
    return BEING_SET.run(page, async () => {
      const inner = own === undefined ? page.content : await set(own, { ...data, content: page.content });
      const content = `<main class="sheet ${parts.sheet}" id="page.content">${inner}</main>`;
      if (station === null || station.frame === null) return inDefaultFrame(parts, content);
      return set(station.frame, { ...data, content });
    });
  };
  return {
    eleventy,
    frame,
    onRender: (hear) => tellRenders(templateConfig, hear),
    async set(page) {
      const own = pageDataOf(page);
      let html = await frame(page);
      for (const transform of transforms()) html = await transform.call({ page: own, ...own }, html, own.outputPath);
      return html;
    },
  };
}

/** A page as it is without a station's frame. */
export const inDefaultFrame = ({ root, head, opening, masthead, footer }: PageParts, content: string): string =>
  `<!DOCTYPE html>${root}<head>${head}</head><body>${opening}${masthead}${content}${footer}</body></html>`;

/** What a frame asks for would be asked for by every page: then every evening would make all pages anew. */
const notHere = (name: string): object => {
  const refuse = (_: object, key: string | symbol): undefined => {
    if (typeof key === "symbol" || isLookedFor(key)) return undefined;
    throw new NoSuchField(
      `A template around pages can't have \`${name}\`: then every evening would make all pages anew.`,
      "Ask for it on a page of your own, and link to that.",
    );
  };
  // Liquid asks first whether a name is there.
  return new Proxy({}, { get: refuse, getOwnPropertyDescriptor: refuse });
};
const NO_LISTS = { collections: notHere("collections"), archive: notHere("archive") };

/** What we give, by name: a field that it does not have is a fault. */
export const strictly = (given: object): object =>
  Object.fromEntries(
    Object.entries(given).map(([name, value]: [string, unknown]) => [
      name,
      typeof value === "object" && value !== null ? strict(value, `\`${name}\``) : value,
    ]),
  );

function configure(config: UserConfig, setup: EngineSetup): void {
  config.setQuietMode(true);
  // One template after the other, so that it is known who asks for what.
  config.setConcurrency(1);
  // Links of our pages have the base path already. Whoever brings this plugin along, such as one for feeds, would put it before
  // them once more on every page: the first to add it says what it does.
  config.addPlugin(HtmlBasePlugin, { baseHref: "/" });
  config.addShortcode("afterair", (name = "") => partNamed(name));
  config.addGlobalData("programme", setup.programme);
  config.addTemplateFormats(["11ty.tsx", "11ty.ts", "11ty.jsx"]);
  config.addExtension(
    ["11ty.tsx", "11ty.ts", "11ty.jsx"],
    jsxExtension(setup.station?.folder ?? setup.kept, setup.kept, setup.engine),
  );
  config.addDateParsing(dateOf);
  config.amendLibrary("njk", (library: { loaders: { searchPaths?: string[] }[] }) => {
    library.loaders[0]?.searchPaths?.push(BASE_TEMPLATES);
  });
  config.amendLibrary("liquid", (library: { options: Record<string, unknown> }) => {
    for (const key of ["root", "partials", "layouts"]) {
      const folders = library.options[key];
      if (Array.isArray(folders)) folders.push(BASE_TEMPLATES);
    }
  });
}

/** A file's times are others in every copy of the folder: a page has the date that it says, or that of no day. */
function dateOf(this: { readonly page?: { readonly inputPath?: string } }, value: unknown): Date | undefined {
  if (value === undefined || value === null) return new Date(0);
  if (typeof value === "string" && /modified$|^git created$|^created$/i.test(value.trim()))
    throw new NoSuchField(
      `\`date: ${value}\` in ${this.page?.inputPath ?? "a page"} is another date in every copy of the folder.`,
      "Write the date itself, such as 2026-10-05.",
    );
  return undefined;
}

/** It measures how long each template takes: nothing else of it is told before one is set. */
function tellRenders(config: TemplateConfig | null, hear: (template: string) => void): void {
  const group = config?.getConfig().benchmarkManager.get("Aggregate");
  if (group === undefined) return;
  const get = group.get.bind(group);
  group.get = (label) => {
    const [, template] = /^> (?:Render|Compile)[^>]*> (\.\/.*?)(?: \(Pagination.*)?$/.exec(label) ?? [];
    if (template !== undefined) hear(template);
    return get(label);
  };
}

/** Its measurements would stand between our messages. */
function quieten(config: TemplateConfig | null): void {
  const measured = config?.getConfig().benchmarkManager;
  measured?.setVerboseOutput(false);
  for (const group of Object.values(measured?.getAll() ?? {})) group.setIsVerbose(false);
}

function requireUsualFolders({ directories: { input, includes } }: Eleventy): void {
  const isUsual = (path: string, usual: string) => relative(usual, path) === "";
  if (isUsual(input, ".") && isUsual(includes, INCLUDES)) return;
  throw new NoSuchField(
    "The configuration sets other folders.",
    `Leave \`dir\` out of it: pages stand in the folder itself, what is around them in ${INCLUDES}.`,
  );
}

function requireNoFrontMatter(path: string): void {
  if (!existsSync(path) || isAbsolute(path) || !readFileSync(path, "utf8").startsWith("---")) return;
  throw new NoSuchField(
    `${path} begins with front matter, which a template around pages has not.`,
    "Put what it sets into the template itself, or into a file in _data.",
  );
}
