import type { ChildProcess } from "node:child_process";
import { subscribe, unsubscribe } from "node:diagnostics_channel";
import { readdir, readFile, rm, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import type { PagefindIndex } from "pagefind";
import type { IndexPage } from "../search/segment.ts";
import { withDigest } from "./assets.ts";
import { requireRoom, WriteFault } from "./files.ts";

/** What there is to search, and what it is searched with. Pagefind also brings interfaces of its own, which nothing here uses. */
const INDEX = /^(?:pagefind-entry\.json|pagefind\.[\w-]+\.pf_meta|fragment|index|filter)$/;
const ENGINE = /^(?:pagefind\.js|pagefind-worker\.js|pagefind\.[\w-]+\.pf_meta|(?:fragment|index)\/.+)$/;
const ENTRY = "pagefind-entry.json";

/**
 * Writes the search index into a folder: one record a segment, in the order given, which alone decides the bytes.
 * @param language BCP 47: all segments go into one index of this language, whatever their own; Pagefind keeps an index a
 * language, and searches one of them.
 * One at a time: Pagefind's service is shared by all of a process.
 * @throws when Pagefind can't be started or refuses a record.
 */
export async function writeIndex(
  pages: Iterable<IndexPage> | AsyncIterable<IndexPage>,
  folder: string,
  language: string,
): Promise<{ readonly records: number }> {
  return withService(async () => {
    const index = await open(language);
    let [records, characters, waiting]: [number, number, IndexPage[]] = [0, 0, []];
    for await (const page of pages) {
      records++;
      characters += page.html.length;
      if (waiting.push(page) < ABREAST) continue;
      await takeIn(index, waiting);
      waiting = [];
    }
    await takeIn(index, waiting);
    await requireRoom(folder, BESIDE + characters);
    await write(index, folder);
    return { records };
  });
}

/**
 * What Pagefind writes beside an index, in bytes, and a little more: its interfaces, which are taken away again. The index
 * itself is compressed, and smaller than the records. Measured with version 1.6.
 */
const BESIDE = 1_500_000;

/**
 * Does something with Pagefind's service, a process of its own. It dies where it can't write a file, and whoever waits for
 * its answer then waits for ever.
 */
async function withService<T>(body: () => Promise<T>): Promise<T> {
  // Loaded here: a build that has nothing to index must not wait for it.
  const { close } = await import("pagefind");
  let heard: (message: unknown) => void = () => undefined;
  const dies = new Promise<never>((_, reject) => {
    heard = (message) => {
      const { process: child } = message as { readonly process: ChildProcess };
      // Told of every process that is started here, before it is known which program it runs.
      child.once("exit", () => {
        if (basename(child.spawnfile).startsWith("pagefind")) reject(new WriteFault(ENDED));
      });
    };
  });
  subscribe("child_process", heard);
  try {
    return await Promise.race([body(), dies]);
  } catch (error) {
    // What Pagefind says of its service where it was about to ask it.
    throw error instanceof Error && error.message === "Pagefind backend closed" ? new WriteFault(ENDED) : error;
  } finally {
    unsubscribe("child_process", heard);
    await close();
  }
}

const ENDED =
  "The search index can't be made: Pagefind ended without an answer, as it does where a disk is full. Make room, and run the command again.";

/** How many records Pagefind is handed at once: it takes them in one after the other, but need not wait for the next. */
const ABREAST = 20;

async function takeIn(index: PagefindIndex, pages: readonly IndexPage[]): Promise<void> {
  const answers = pages.map(async ({ address, html }) => {
    const { errors } = await index.addHTMLFile({ url: address, content: html });
    refuse(errors, `take in ${address}`);
  });
  await Promise.all(answers);
}

async function open(language: string): Promise<PagefindIndex> {
  const { createIndex } = await import("pagefind");
  const { errors, index } = await createIndex({ forceLanguage: language.toLowerCase() }).catch((error: unknown) => {
    // Its first line says what is wrong; the rest is for whoever mends Pagefind.
    const [says = ""] = (error instanceof Error ? error.message : String(error)).split("\n");
    return { errors: [says.replace(/\.$/, "")], index: undefined };
  });
  refuse(errors, "start");
  if (index === undefined) throw new Error("The search index can't start: Pagefind gave none. Run npm ci again.");
  return index;
}

/** Pagefind writes the files itself: handed over, they would all be in memory twice. What nobody needs is taken away. */
async function write(index: PagefindIndex, folder: string): Promise<void> {
  const { errors } = await index.writeFiles({ outputPath: folder });
  refuse(errors, "be written");
  const entry = entryOf(await readFile(join(folder, ENTRY), "utf8"));
  const compiled = withDigest(entry.compiled, await readFile(join(folder, compiledFile(entry.compiled))));
  for (const name of await readdir(folder)) {
    if (!INDEX.test(name)) await rm(join(folder, name), { recursive: true });
  }
  // Pagefind takes its WebAssembly from `wasm.NAME.pagefind` in the index's own folder: this name leads to the folder above.
  await writeFile(join(folder, ENTRY), entry.naming(`-/../../wasm.${compiled}`));
}

/**
 * What all tiers are searched with, for the folder that they stand in: Pagefind's module, its worker, and its
 * WebAssembly, named by its digest. It is an index by itself, of what belongs to no tier.
 * @throws when Pagefind can't be started.
 */
export async function searchEngine(
  language: string,
  pages: readonly IndexPage[],
): Promise<readonly { readonly path: string; readonly content: Uint8Array }[]> {
  return withService(async () => {
    const index = await open(language);
    await takeIn(index, pages);
    const { errors, files } = await index.getFiles();
    refuse(errors, "be written");
    const contentOf = (name: string): Uint8Array => {
      const file = files.find(({ path }) => path === name);
      refuse(file === undefined ? [`there is no ${name}`] : [], "be written");
      return file?.content ?? new Uint8Array();
    };
    const entry = entryOf(new TextDecoder().decode(contentOf(ENTRY)));
    const compiled = contentOf(compiledFile(entry.compiled));
    const name = withDigest(entry.compiled, compiled);
    return [
      ...files.filter(({ path }) => ENGINE.test(path)),
      { path: ENTRY, content: new TextEncoder().encode(entry.naming(name)) },
      { path: compiledFile(name), content: compiled },
    ];
  });
}

const compiledFile = (name: string): string => `wasm.${name}.pagefind`;

/** The part of an index's first file that is used here, as version 1.6 has it. */
interface EntryFile {
  readonly languages?: Readonly<Record<string, { readonly wasm?: string | null }>>;
}

/**
 * An index's first file. `compiled`: the name of the WebAssembly, of which Pagefind has one for each language that it
 * knows, and one for all others. `naming`: the same file with another name in it.
 */
function entryOf(text: string): { readonly compiled: string; naming(wasm: string): string } {
  const { languages = {}, ...rest } = JSON.parse(text) as EntryFile;
  return {
    compiled: Object.values(languages)[0]?.wasm ?? "unknown",
    naming(wasm) {
      const named = Object.entries(languages).map(([language, own]) => [language, { ...own, wasm }]);
      return JSON.stringify({ ...rest, languages: Object.fromEntries(named) });
    },
  };
}

function refuse(errors: readonly string[], what: string): void {
  if (errors.length === 0) return;
  throw new Error(
    `The search index can't ${what}: ${errors.join("; ")}. If Pagefind itself is missing or broken, run npm ci again.`,
  );
}
