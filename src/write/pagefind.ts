import { readdir, readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import type { PagefindIndex } from "pagefind";
import type { IndexPage } from "../search/segment.ts";

/**
 * What our search page loads. Pagefind also brings interfaces of its own, which nothing here uses, and a second
 * WebAssembly file for languages that the index does not have.
 */
const NEEDED =
  /^(?:pagefind\.js|pagefind-worker\.js|pagefind-entry\.json|pagefind\.[\w-]+\.pf_meta|fragment|index|filter)$/;

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
  // Loaded here: a build that has nothing to index must not wait for it.
  const { close } = await import("pagefind");
  try {
    const index = await open(language);
    let [records, waiting]: [number, IndexPage[]] = [0, []];
    for await (const page of pages) {
      records++;
      if (waiting.push(page) < ABREAST) continue;
      await takeIn(index, waiting);
      waiting = [];
    }
    await takeIn(index, waiting);
    await write(index, folder);
    return { records };
  } finally {
    await close();
  }
}

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
  const { errors, index } = await createIndex({ forceLanguage: language.toLowerCase() });
  refuse(errors, "start");
  if (index === undefined) throw new Error("The search index can't start: Pagefind gave none. Run npm ci again.");
  return index;
}

/** Pagefind writes the files itself: handed over, they would all be in memory twice. What nobody needs is taken away. */
async function write(index: PagefindIndex, folder: string): Promise<void> {
  const { errors } = await index.writeFiles({ outputPath: folder });
  refuse(errors, "be written");
  const compiled = `wasm.${compiledFor(await readFile(join(folder, "pagefind-entry.json")))}.pagefind`;
  for (const name of await readdir(folder)) {
    if (!NEEDED.test(name) && name !== compiled) await rm(join(folder, name), { recursive: true });
  }
}

/** Pagefind has its WebAssembly once for each language that it knows, and once for all others. */
function compiledFor(entry: Uint8Array): string {
  const { languages } = JSON.parse(new TextDecoder().decode(entry)) as {
    readonly languages?: Readonly<Record<string, { readonly wasm?: string | null }>>;
  };
  return Object.values(languages ?? {})[0]?.wasm ?? "unknown";
}

function refuse(errors: readonly string[], what: string): void {
  if (errors.length === 0) return;
  throw new Error(
    `The search index can't ${what}: ${errors.join("; ")}. If Pagefind itself is missing or broken, run npm ci again.`,
  );
}
