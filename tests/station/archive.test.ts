import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ArchiveSource, digestsOf, isAsRead, viewOf } from "../../src/station/archive.ts";
import type { EpisodeData, YearData } from "../../src/station/contract.ts";

const year = (name: string, titles: readonly string[]): ArchiveSource["years"][number] & { wasRead: number } => ({
  entry: { year: name, url: `/${name}/`, href: `/${name}/`, episodes: titles.length, segments: 0, corrections: 0 },
  digest: titles.join(),
  wasRead: 0,
  read() {
    this.wasRead += 1;
    const episodes = titles.map((title) => ({ title, topics: [], segments: [] }) as unknown as EpisodeData);
    return { episodes, segments: [], corrections: [] } satisfies YearData;
  },
});
const names = { topics: ["Ferries"], speakers: [], places: [] };

function seen(...years: ReturnType<typeof year>[]) {
  const asked = new Set<string>();
  const source = { years, names };
  const { lists } = viewOf(source, (key) => asked.add(key));
  return { episodes: lists.episodes as readonly EpisodeData[], topics: lists.topics, asked, source };
}

describe("lists of the archive", () => {
  it("read a year only when one of its items is asked for", () => {
    const [newest, oldest] = [year("2026", ["b", "a"]), year("1998", ["z"])];
    const { episodes, asked } = seen(newest, oldest);
    expect(episodes.length).toBe(3);
    expect(newest.wasRead).toBe(0);
    expect(episodes.slice(0, 2).map(({ title }) => title)).toEqual(["b", "a"]);
    expect([newest.wasRead, oldest.wasRead]).toEqual([1, 0]);
    expect([...asked].sort()).toEqual(["episodes by year", "year 2026"]);
    expect([...episodes].map(({ title }) => title)).toEqual(["b", "a", "z"]);
    expect([...asked].sort()).toEqual(["episodes by year", "year 1998", "year 2026"]);
  });

  it("are lists to everybody who looks", () => {
    const { episodes } = seen(year("2026", ["b"]), year("1998", ["z"]));
    expect(Array.isArray(episodes)).toBe(true);
    expect(Object.keys(episodes)).toEqual(["0", "1"]);
    expect(JSON.parse(JSON.stringify(episodes))).toHaveLength(2);
    expect(episodes.filter(({ title }) => title === "z")).toHaveLength(1);
    expect(2 in episodes).toBe(false);
  });

  it("can't be changed", () => {
    const { episodes } = seen(year("2026", ["b", "a"]));
    expect(() => (episodes as EpisodeData[]).reverse()).toThrow("Change a copy");
  });

  it("say what a name that they don't know should be", () => {
    const { episodes } = seen(year("2026", ["b"]));
    const [first] = episodes as readonly (EpisodeData & { titel: string })[];
    expect(() => first?.titel).toThrow("An episode has no `titel`.");
  });

  it("tell a topic's name without reading a year", () => {
    const own = year("2026", ["b"]);
    const { topics, asked } = seen(own);
    expect((topics[0] as { name: string }).name).toBe("Ferries");
    expect([...asked]).toEqual(["topics"]);
    expect(own.wasRead).toBe(0);
  });
});

it("what was asked for is as it was, until that very year changes", () => {
  const { episodes, asked, source } = seen(year("2026", ["b"]), year("1998", ["z"]));
  void episodes[0]?.title;
  const all = digestsOf(source);
  const reads = Object.fromEntries([...asked].map((key) => [key, all[key] ?? ""]));
  const with1998 = digestsOf({ years: [year("2026", ["b"]), year("1998", ["y"])], names });
  const with2026 = digestsOf({ years: [year("2026", ["c"]), year("1998", ["z"])], names });
  expect(isAsRead(reads, with1998)).toBe(true);
  expect(isAsRead(reads, with2026)).toBe(false);
});

it("a correction in an old year leaves what reads only the newest episode as it was", () => {
  const { episodes, asked, source } = seen(year("2026", ["b"]), year("1998", ["z"]));
  void episodes[0]?.title;
  const all = digestsOf(source);
  const reads = Object.fromEntries([...asked].map((key) => [key, all[key] ?? ""]));
  const old = year("1998", ["z"]);
  const corrected = { ...old, digest: "z, corrected", entry: { ...old.entry, corrections: 1 } };
  expect(isAsRead(reads, digestsOf({ years: [year("2026", ["b"]), corrected], names }))).toBe(true);
});

describe("lists of the archive, for any number of years and episodes", () => {
  /** How many episodes each year has, newest first; and two places in the list, or beyond its end. */
  const archives = fc.record({
    counts: fc.array(fc.nat(4), { minLength: 1, maxLength: 6 }),
    from: fc.integer({ min: -3, max: 20 }),
    to: fc.integer({ min: -3, max: 20 }),
  });
  const plainOf = (counts: readonly number[]) =>
    counts.flatMap((count, at) => Array.from({ length: count }, (_, n) => `${2026 - at} ${n}`));
  const listOf = (counts: readonly number[]) =>
    seen(
      ...counts.map((count, at) =>
        year(
          `${2026 - at}`,
          Array.from({ length: count }, (_, n) => `${2026 - at} ${n}`),
        ),
      ),
    );
  const titles = (list: readonly { readonly title: string }[]) => list.map(({ title }) => title);
  const yearsOf = (asked: ReadonlySet<string>) => [...asked].filter((key) => /^year \d+$/.test(key)).sort();
  const yearsIn = (list: readonly string[]) => [...new Set(list.map((title) => `year ${title.slice(0, 4)}`))].sort();

  it("are as plain lists to all that reads a list", () => {
    fc.assert(
      fc.property(archives, ({ counts, from, to }) => {
        const [{ episodes }, plain] = [listOf(counts), plainOf(counts)];
        expect(episodes.length).toBe(plain.length);
        expect(titles(episodes.slice(from, to))).toEqual(plain.slice(from, to));
        expect(titles(episodes)).toEqual(plain);
        expect(titles(episodes.filter(({ title }) => title.endsWith("1")))).toEqual(
          plain.filter((title) => title.endsWith("1")),
        );
        expect(titles([...episodes])).toEqual(plain);
        expect(titles(Array.from(episodes))).toEqual(plain);
        expect(episodes.at(from)?.title).toBe(plain.at(from));
        expect(episodes.findLast(({ title }) => title.endsWith("0"))?.title).toBe(
          plain.findLast((title) => title.endsWith("0")),
        );
        expect(JSON.parse(JSON.stringify(episodes)).map(({ title }: { title: string }) => title)).toEqual(plain);
        expect(Object.keys(episodes)).toEqual(Object.keys(plain));
        expect(titles(episodes.concat(episodes))).toEqual(plain.concat(plain));
        for (const item of [episodes[from], episodes.at(-1)]) {
          expect(episodes.indexOf(item as EpisodeData)).toBe(item === undefined ? -1 : plain.indexOf(item.title));
          expect(episodes.includes(item as EpisodeData)).toBe(item !== undefined);
        }
        const met: string[] = [];
        for (const { title } of episodes) met.push(title);
        expect(met).toEqual(plain);
        expect(titles(episodes.toReversed())).toEqual(plain.toReversed());
      }),
    );
  });

  it("note the very years whose items were asked for", () => {
    fc.assert(
      fc.property(archives, ({ counts, from, to }) => {
        const plain = plainOf(counts);
        const read = (ask: (list: readonly EpisodeData[]) => unknown) => {
          const { episodes, asked } = listOf(counts);
          ask(episodes);
          return yearsOf(asked);
        };
        expect(read((list) => list.length)).toEqual([]);
        expect(read((list) => list[from])).toEqual(yearsIn(plain.slice(from, from + 1).filter(() => from >= 0)));
        expect(read((list) => list.slice(from, to))).toEqual(yearsIn(plain.slice(from, to)));
        expect(read((list) => list.find(({ title }) => title === plain[to]))).toEqual(
          yearsIn(plain[to] === undefined ? plain : plain.slice(0, to + 1)),
        );
        for (const ask of [
          (list: readonly EpisodeData[]) => list.map(({ title }) => title),
          (list: readonly EpisodeData[]) => [...list],
          (list: readonly EpisodeData[]) => JSON.stringify(list),
        ])
          expect(read(ask)).toEqual(yearsIn(plain));
      }),
    );
  });
});
