import type { ChildProcess } from "node:child_process";
import { createHash } from "node:crypto";
import { subscribe, unsubscribe } from "node:diagnostics_channel";
import { once } from "node:events";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { indexPages } from "../../src/search/indexPage.tsx";
import type { SearchEdition, SearchEntry, SearchSegment, SearchText } from "../../src/search/segment.ts";
import { searchEngine, writeIndex } from "../../src/write/pagefind.ts";
import { segmentWith } from "./segments.ts";

interface Fragment {
  readonly url: string;
  readonly content: string;
  readonly meta: Readonly<Record<string, string>>;
  readonly filters: Readonly<Record<string, readonly string[]>>;
  readonly anchors: readonly { readonly id: string; readonly location: number }[];
}

const hostile = segmentWith({
  address: "/tide/2026-10-06/hostile/",
  title: `A <b>title</b>, with: "marks" & [signs]`,
  aired: "2026-10-06T18:30:00+01:00",
  topics: ["a, b: c[d]"],
  paragraphs: [
    {
      id: "t=1",
      words: "</main><script>alert(1)</script> — and  “fish & chips” cost 5 < 6\nor so",
      speaker: `D"Arcy, <i>O’Neill</i>: x`,
    },
    { id: "aired=321", words: "Nothing ends here", speaker: "Ilse Marrane" },
    { id: "t=9", words: "thirty-one o’clock … yes", speaker: null },
  ],
  corrections: [
    {
      kind: "on-air",
      kindName: "On-air error",
      datedLong: "6 October 2026",
      href: "/tide/2026-10-06/hostile/#note-1",
      note: "“Fish” & <chips>",
    },
  ],
});
const text = (language: string): SearchText => ({
  is: "text",
  address: "/tide/contact/",
  title: "Write to us",
  summary: null,
  blocks: [],
  language,
});
const edition: SearchEdition = {
  is: "edition",
  address: "/tide/2026-10-06/",
  title: "Tuesday’s edition",
  summary: "The cable, and the <vote>.",
  episode: "2026-10-06",
  aired: "2026-10-06T18:30:00+01:00",
  language: "en-GB",
};
const SEGMENTS: readonly SearchSegment[] = [segmentWith({}), hostile];

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "index-"));
  await writeIndex(indexPages(SEGMENTS), join(folder, "one"), "en-GB");
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const listed = async (name: string) => (await readdir(join(folder, name), { recursive: true })).sort();

async function fragments(name = "one"): Promise<readonly Fragment[]> {
  const files = (await listed(name)).filter((path) => path.endsWith(".pf_fragment"));
  const read = await Promise.all(files.map((path) => readFile(join(folder, name, path))));
  return read.map(
    (bytes) =>
      JSON.parse(
        gunzipSync(bytes)
          .toString()
          .replace(/^pagefind_dcd/, ""),
      ) as Fragment,
  );
}
async function fragmentOf({ address }: SearchEntry, name = "one"): Promise<Fragment> {
  const found = (await fragments(name)).find(({ url }) => url === address);
  if (found === undefined) throw new Error(`no record of ${address}`);
  return found;
}

describe("the search index", () => {
  test("holds one record a segment", async () => {
    expect((await fragments()).map(({ url }) => url).sort()).toEqual(SEGMENTS.map(({ address }) => address).sort());
  });

  test.each(SEGMENTS)(
    "keeps where each paragraph of $address begins, and nothing that was not said",
    async (segment) => {
      const { content, anchors } = await fragmentOf(segment);
      const words = content.split(/\s+/);
      const starts = anchors.slice(1).map(({ location }) => location);
      expect(anchors.slice(1).map(({ id }) => id)).toEqual(segment.paragraphs.map(({ id }) => id));
      const said = starts.map((start, at) => words.slice(start, starts[at + 1] ?? words.length).join(" "));
      expect(said).toEqual(segment.paragraphs.map((paragraph) => paragraph.words.replace(/\s+/g, " ")));
    },
  );

  test("keeps title, filters and card whatever signs are in them", async () => {
    const { meta, filters, anchors } = await fragmentOf(hostile);
    expect(meta).toEqual({
      title: hostile.title,
      topics: "a, b: c[d], Package",
      summary: hostile.summary,
      places: "Sollen",
      who: `D"Arcy, <i>O’Neill</i>: x, Ilse Marrane, reporter`,
      aired: "day20261006 month202610 year2026",
      notes: "“Fish” & <chips>",
    });
    expect(filters).toEqual({
      year: ["2026"],
      kind: ["package"],
      speaker: [`D"Arcy, <i>O’Neill</i>: x`, "Ilse Marrane"],
      topic: ["a, b: c[d]"],
      place: ["Sollen"],
      corrected: ["1", "on-air"],
    });
    expect(JSON.parse(anchors[0]?.id ?? "")).toMatchObject({ who: filters.speaker, by: [0, 1, -1] });
  });

  test("is small: a segment of the usual length takes less than its words and 1.5 kB", async () => {
    const words = Array.from({ length: 900 }, (_, at) => `word${(at * 7919) % 613}`).join(" ");
    const blocks = Array.from({ length: 60 }, (_, at) => [at * 28, 20] as const);
    const strip = { runs: 1680, in: 70, out: 445, studio: blocks, others: blocks, held: [] };
    const usual = segmentWith({ strip, paragraphs: [{ id: "t=70", words, speaker: "Ilse Marrane" }] });
    await writeIndex(indexPages([usual]), join(folder, "usual"), "en-GB");
    const [file] = (await listed("usual")).filter((path) => path.endsWith(".pf_fragment"));
    expect((await readFile(join(folder, "usual", file ?? ""))).length).toBeLessThan(words.length + 1500);
  });

  test("holds an edition by its day, its title and its summary, and a page by its words or its title alone", async () => {
    const page = { ...text("en-GB"), address: "/tide/about/", blocks: ["How we work.", "Who we are."] };
    await writeIndex(indexPages([edition, text("en-GB"), page]), join(folder, "others"), "en-GB");
    const [first, second, third] = await Promise.all(
      [edition, text("en-GB"), page].map((own) => fragmentOf(own, "others")),
    );
    expect(first?.meta).toEqual({
      edition: "Tuesday’s edition The cable, and the <vote>.",
      out: "day20261006 month202610 year2026",
    });
    expect(first?.filters).toEqual({ year: ["2026"] });
    expect(second?.meta).toEqual({ title: "Write to us", topics: "contact" });
    expect(second?.filters).toEqual({});
    expect(third?.content).toMatch(/^How we work\. Who we are\.$/);
  });

  test("comes out byte for byte the same", async () => {
    await writeIndex(indexPages(SEGMENTS), join(folder, "two"), "en-GB");
    expect(await listed("two")).toEqual(await listed("one"));
    for (const path of (await listed("one")).filter((name) => /\.\w+$/.test(name))) {
      const [one, two] = await Promise.all(["one", "two"].map((name) => readFile(join(folder, name, path))));
      expect(two?.equals(one ?? Buffer.alloc(0)), path).toBe(true);
    }
  });

  test("has nothing but what there is to search", async () => {
    const top = (await listed("one")).filter((path) => !path.includes("/"));
    expect(top).toEqual(["filter", "fragment", "index", "pagefind-entry.json", expect.stringMatching(/\.pf_meta$/)]);
  });

  test.each(["en-GB", "cy"])("names the WebAssembly that stands above it, in %s", async (language) => {
    const engine = new Map(
      (await searchEngine(language, [...indexPages([text(language)])])).map(({ path, content }) => [path, content]),
    );
    await writeIndex(indexPages(SEGMENTS), join(folder, language), language);
    const named = (entry: string): string => {
      const { languages } = JSON.parse(entry) as { languages: Readonly<Record<string, { wasm: string }>> };
      return `wasm.${languages[language.toLowerCase()]?.wasm}.pagefind`;
    };
    const own = await readFile(join(folder, language, "pagefind-entry.json"), "utf8");
    const compiled = new URL(named(own), "https://tide.example/search/index/2026-10/").pathname;
    const [path, content] = [...engine].find(([name]) => name.startsWith("wasm.")) ?? [];
    expect(compiled).toBe(`/search/index/${path}`);
    expect(named(new TextDecoder().decode(engine.get("pagefind-entry.json")))).toBe(path);
    const digest = createHash("sha256")
      .update(content ?? "")
      .digest("hex");
    expect(path).toContain(`-${digest.slice(0, 10)}.`);
  });

  test("is searched with Pagefind's own module and worker, and none of its interfaces", async () => {
    const names = (await searchEngine("en-GB", [...indexPages([text("en-GB")])])).map(({ path }) => path).sort();
    expect(names.filter((name) => /\.(?:css|js)$/.test(name))).toEqual(["pagefind-worker.js", "pagefind.js"]);
    expect(names).toHaveLength(7);
  });

  test("a record that fails stops it, and it can be written again after that", async () => {
    const failing = function* (): Generator<SearchSegment> {
      yield segmentWith({});
      throw new Error("the transcript went away");
    };
    await expect(writeIndex(indexPages(failing()), join(folder, "three"), "en-GB")).rejects.toThrow(
      "the transcript went away",
    );
    expect(await writeIndex(indexPages(SEGMENTS), join(folder, "three"), "en-GB")).toEqual({ records: 2 });
    expect(await listed("three")).toEqual(await listed("one"));
  });

  test("where its program ends without an answer, nobody waits for one", async () => {
    let service: ChildProcess | null = null;
    const heard = (message: unknown): void => {
      service ??= (message as { readonly process: ChildProcess }).process;
    };
    subscribe("child_process", heard);
    const ending = async function* () {
      yield* indexPages([segmentWith({})]);
      service?.kill("SIGKILL");
      if (service !== null) await once(service, "exit");
    };
    await expect(writeIndex(ending(), join(folder, "five"), "en-GB")).rejects.toThrow(/ended without an answer/);
    unsubscribe("child_process", heard);
    expect(await writeIndex(indexPages(SEGMENTS), join(folder, "five"), "en-GB")).toEqual({ records: 2 });
  });

  test("without Pagefind's own program, it says what to do, in one line", async () => {
    vi.stubEnv("npm_config_arch", "none-such");
    const writing = writeIndex(indexPages(SEGMENTS), join(folder, "four"), "en-GB");
    await expect(writing).rejects.toThrow(/^The search index can't start: .*none-such.*\. .*run npm ci again\.$/);
    vi.unstubAllEnvs();
  });

  test("an archive without a segment has an index without a record", async () => {
    expect(await writeIndex(indexPages([]), join(folder, "none"), "en-GB")).toEqual({ records: 0 });
    expect(await listed("none")).toContain("pagefind-entry.json");
  });
});
