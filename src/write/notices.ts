import { existsSync } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Metafile } from "esbuild";

/** Work of others that goes out with a site, and on what terms. */
export interface Notice {
  readonly name: string;
  readonly version: string;
  /** What of it the site holds, as a sentence. */
  readonly holds: string;
  /** The licence, as its authors give it, with their names. */
  readonly terms: string;
}

/** The fonts in `templates/fonts`: the versions are those in the files' own name tables. */
const FONTS = [
  { file: "atkinson-hyperlegible-next", name: "Atkinson Hyperlegible Next", version: "2.001" },
  { file: "petrona", name: "Petrona", version: "2.001" },
];

/**
 * All work of others that a site holds: the fonts, the search engine, and what is bundled into the pages' scripts. What
 * only makes the site (the templates' engine, the indexer) goes out with none. @param bundled folders of packages.
 * @throws where a package or a font comes without terms: it must not go out then.
 */
export async function readNotices(templates: string, bundled: readonly string[]): Promise<readonly Notice[]> {
  const engine = "The site is searched with it: pagefind.js, pagefind-worker.js and the WebAssembly beside them.";
  const inScripts = "The scripts of the pages hold parts of it.";
  return [
    ...(await readFonts(join(templates, "fonts"))),
    await readPackage(folderOf("pagefind"), engine),
    ...(await Promise.all(bundled.map((folder) => readPackage(folder, inScripts)))),
  ];
}

async function readFonts(folder: string): Promise<readonly Notice[]> {
  const files = (await readdir(folder)).filter((name) => name.endsWith(".woff2"));
  return Promise.all(
    files.map(async (file) => {
      const font = FONTS.find((own) => file.startsWith(own.file));
      if (font === undefined) throw new Error(`${file} is a font without a notice: give its terms in ${folder}.`);
      const terms = await readFile(join(folder, `LICENSE-${font.file}.txt`), "utf8");
      return { ...font, holds: "The pages are set in it, in the Latin letters alone.", terms };
    }),
  );
}

/** Where a package lies, by the folders in which Node looks for one. */
function folderOf(name: string): string {
  const places = createRequire(import.meta.url).resolve.paths(name) ?? [];
  const folder = places.map((place) => join(place, name)).find((own) => existsSync(own));
  if (folder === undefined) throw new Error(`The package ${name} is missing: run npm ci again.`);
  return folder;
}

async function readPackage(folder: string, holds: string): Promise<Notice> {
  const { name, version } = JSON.parse(await readFile(join(folder, "package.json"), "utf8"));
  return { name, version, holds, terms: await readTerms(folder, name) };
}

/** The licence in a package's folder: a file of that name, or one in a folder of that name. */
async function readTerms(folder: string, name: string): Promise<string> {
  const entries = await readdir(folder, { withFileTypes: true });
  const found = entries.find((entry) => /^licen[cs]e(?:\.|$)/i.test(entry.name));
  if (found === undefined) throw new Error(`${name} goes out with the site, and its package has no licence.`);
  const path = join(folder, found.name);
  return found.isDirectory() ? readTerms(path, name) : readFile(path, "utf8");
}

/** The folders of the packages that a bundle is made of. @param root the folder that its inputs are named from. */
export function packagesIn({ inputs }: Pick<Metafile, "inputs">, root: string): readonly string[] {
  const folders = Object.keys(inputs).flatMap((input) => {
    const [inside] = /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(input) ?? [];
    return inside === undefined ? [] : [join(root, inside)];
  });
  return [...new Set(folders)].sort();
}

/** The notices as a text for people. */
export function noticesText(notices: readonly Notice[]): string {
  const begin = "This site holds work of others, on the terms that stand here with each.";
  const each = notices.map(({ name, version, holds, terms }) => `${name} ${version}\n\n${holds}\n\n${terms.trim()}`);
  return `${[begin, ...each].join(`\n\n${"=".repeat(72)}\n\n`)}\n`;
}
