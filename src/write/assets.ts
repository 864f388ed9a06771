import { createHash } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { extname, join } from "node:path";
import { ASSETS_PATH, assetPath } from "../model/address.ts";

/** A file that every page may load. */
export interface Asset {
  /** Without a leading slash; carries a digest of its content, so that it may be kept for ever. */
  readonly path: string;
  readonly content: string | Uint8Array;
}

/** `player` with its content becomes `player-1a2b3c4d5e`: a name that may be kept for ever. */
export const withDigest = (name: string, content: string | Uint8Array): string =>
  `${name}-${createHash("sha256").update(content).digest("hex").slice(0, 10)}`;

/** `player` with its content becomes `assets/player-1a2b3c4d5e.js`. */
export function assetOf(name: string, ending: string, content: string | Uint8Array): Asset {
  return { path: assetPath(withDigest(name, content) + ending), content };
}

export interface TemplateAssets {
  readonly style: Asset;
  readonly print: Asset;
  readonly quote: Asset;
  readonly search: Asset;
  readonly mark: Asset;
  readonly fonts: readonly Asset[];
}

/** Sheets of their own, which a screen waits for less or not at all. The first sheet has the order of all layers. */
const [PRINT, QUOTE, SEARCH] = ["90-print.css", "92-quote.css", "94-search.css"];

/** Reads the templates' style sheets (joined in the order of their names, without what only people read), fonts and mark. */
export async function readTemplateAssets(templates: string): Promise<TemplateAssets> {
  const fontFiles = (await readdir(join(templates, "fonts"))).filter((file) => file.endsWith(".woff2")).sort();
  const read = async (file: string) => ({ file, content: await readFile(join(templates, "fonts", file)) });
  const fonts = await Promise.all(fontFiles.map(read));
  const named = fonts.map(({ file, content }) => ({
    file,
    asset: assetOf(file.slice(0, -extname(file).length), ".woff2", content),
  }));
  const sheets = await readSheets(join(templates, "style"));
  let style = sheets.flatMap(({ name, text }) => ([PRINT, QUOTE, SEARCH].includes(name) ? [] : [text])).join("\n");
  const alone = async (name: string) => minified(sheets.find((sheet) => sheet.name === name)?.text ?? "");
  for (const { file, asset } of named) style = style.replaceAll(`fonts/${file}`, asset.path.slice(ASSETS_PATH.length));
  return {
    style: assetOf("style", ".css", await minified(style)),
    print: assetOf("print", ".css", await alone(PRINT)),
    quote: assetOf("quote", ".css", await alone(QUOTE)),
    search: assetOf("search", ".css", await alone(SEARCH)),
    mark: assetOf("mark", ".svg", await readFile(join(templates, "pictures", "mark.svg"))),
    fonts: named.map(({ asset }) => asset),
  };
}

/** The same rules in fewer bytes: the same text gives the same bytes. */
async function minified(style: string): Promise<string> {
  const { transform } = await import("esbuild"); // a build whose assets are known needs none of it
  return (await transform(style, { loader: "css", minify: true, charset: "utf8" })).code;
}

async function readSheets(folder: string): Promise<readonly { readonly name: string; readonly text: string }[]> {
  const names = (await readdir(folder)).filter((name) => name.endsWith(".css")).sort();
  return Promise.all(names.map(async (name) => ({ name, text: await readFile(join(folder, name), "utf8") })));
}
