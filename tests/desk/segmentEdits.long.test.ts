import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { editWords } from "../../src/actions/desk/edit.ts";
import { openWords, wordsOf } from "../../src/actions/desk/words.ts";
import type { DeskEdit, DeskWords } from "../../src/model/desk.ts";
import type { DeskOrderEdit } from "../../src/model/deskOrder.ts";
import { CAUTIONS, SEGMENT_KINDS } from "../../src/model/episode.ts";
import { blocks } from "../../src/model/finding.ts";
import { parseEpisode } from "../../src/read/index.ts";

const DEMO = join(import.meta.dirname, "../../content");
const ID = "2027-03-01";
const NOW = new Date("2027-03-02T12:00:00Z");
let content: string;

const TRANSCRIPT = "WEBVTT\n\n00:00:01.000 --> 00:00:04.000\n<v Tamsin Hathersay>Good evening.</v>\n";

/** As somebody might write it: comments everywhere, quotes, a folded text, lists in both styles. */
const BLOCK = `---
# the evening of the first
title: "The light" # a working title
aired: 2027-03-01T18:30:00
duration: 0:50
clock: aired
cuts:
  - { from: 0:30, to: 0:35, why: break } # proposed
  - { from: 0:40, to: 0:45, why: rights }
segments:
  # the top
  - slug: head # first
    kind: headlines
    title: 'Headlines: tonight'
    in: 0:00
    planned: 0:08

  # the light
  - slug: light
    kind: reader # or a package
    title: >
      The light goes
      out
    in: 0:10 # proposed: clear, 16 of 17 such were within 2 s
    planned: 0:10
    by:
      - Ilse Marrane # on the island
    summary: A light.
  - slug: talks
    kind: agency
    title: Talks
    in: 0:20
    out: 0:28
    rights: { withheld: true, holder: Farwater News, show: nothing } # by contract
    cautions: [court]
    edges: heard
  - slug: close
    kind: close
    title: Close
    in: 0:35
    cautions: [minors]
# after all
---
# Notes

Text with   blanks, and a --- in it. # no comment
`;
const FLOW = `---
title: The light
aired: 2027-03-01T18:30:00
duration: 0:50
clock: aired
segments: [{ slug: head, kind: headlines, title: Headlines, in: 0:00 }, { slug: light, kind: reader, title: "A, b", in: 0:10, out: 0:20 }] # all
---
Body
`;
const UNDIVIDED = `---
title: The light # whole
aired: 2027-03-01T18:30:00
duration: 0:50
clock: aired
---
Body
`;

beforeEach(async () => {
  content = await mkdtemp(join(tmpdir(), "segments-"));
  const programme = await readFile(join(DEMO, "programme.md"), "utf8");
  await writeFile(join(content, "programme.md"), programme.replace(/^own: .*\n/m, ""));
  await cp(join(DEMO, "poster.svg"), join(content, "poster.svg"));
  await mkdir(folder(), { recursive: true });
  await begin(BLOCK);
});
afterEach(() => rm(content, { recursive: true, force: true }));

const folder = () => join(content, "episodes/2027", ID);
const begin = async (text: string) => {
  await rm(folder(), { recursive: true });
  await mkdir(folder());
  await writeFile(join(folder(), "transcript.vtt"), TRANSCRIPT);
  await writeFile(join(folder(), "episode.md"), text);
};
const episode = () => readFile(join(folder(), "episode.md"), "utf8");
const words = async (): Promise<DeskWords> => wordsOf(await openWords(content, ID, NOW));
const edit = async (made: DeskEdit) =>
  editWords({ content, id: ID, version: (await words()).version, edit: made, now: NOW });

/** A text with one place in it exchanged. */
const put = (text: string, was: string, now: string): string => {
  expect(text.split(was)).toHaveLength(2);
  return text.replace(was, () => now);
};
const PARTED = "  - slug: new-segment\n    kind: reader\n    title: New segment\n";

describe("a change to the running order leaves every other character as it is", () => {
  test.each<[string, DeskOrderEdit, readonly (readonly [string, string])[]]>([
    [
      "a title keeps its quotes",
      { op: "title", segment: "head", title: "Top:  it's\ntonight" },
      [["'Headlines: tonight'", "'Top: it''s tonight'"]],
    ],
    [
      "a folded title",
      { op: "title", segment: "light", title: "Dark" },
      [[">\n      The light goes\n      out\n", "Dark\n"]],
    ],
    [
      "a plain title that needs quotes",
      { op: "title", segment: "close", title: "Close: #1" },
      [["title: Close", 'title: "Close: #1"']],
    ],
    ["a kind", { op: "kind", segment: "light", kind: "package" }, [["reader # or", "package # or"]]],
    [
      "withheld",
      { op: "withhold", segment: "head", show: "nothing" },
      [["0:08\n", "0:08\n    rights: { withheld: true, show: nothing }\n"]],
    ],
    [
      "withheld otherwise",
      { op: "withhold", segment: "talks", show: "transcript" },
      [["show: nothing", "show: transcript"]],
    ],
    [
      "not withheld, and the holder is kept",
      { op: "withhold", segment: "talks", show: null },
      [["withheld: true", "withheld: false"]],
    ],
    [
      "parted behind a list",
      { op: "splitSegment", segment: "light", at: 15_250 },
      [["    summary: A light.\n", `    summary: A light.\n${PARTED}    in: 0:15.250\n`]],
    ],
    [
      "parted: what was decided about its sound holds for both",
      { op: "splitSegment", segment: "talks", at: 22_000 },
      [
        ["    out: 0:28\n", "    out: 0:22\n"],
        [
          "    edges: heard\n",
          `${PARTED}    in: 0:22\n    out: 0:28\n    rights: { withheld: true, holder: Farwater News, show: nothing }\n    cautions: [ court ]\n`,
        ],
      ],
    ],
    [
      "the last one parted",
      { op: "splitSegment", segment: "close", at: 40_000 },
      [["[minors]\n", `[minors]\n${PARTED}    in: 0:40\n    cautions: [ minors ]\n`]],
    ],
    [
      "joined: comments stay but for the proposal, and what was planned is added up",
      { op: "joinSegment", segment: "head" },
      [
        ["planned: 0:08", "planned: 0:18\n    summary: A light.\n    by: [ Ilse Marrane ]"],
        [/ {2}- slug: light[\s\S]*A light\.\n/.exec(BLOCK)?.[0] ?? "", "    # or a package\n    # on the island\n"],
      ],
    ],
    [
      "until when it is withheld",
      { op: "rights", segment: "talks", field: "until", value: "2027-04-01" },
      [["show: nothing", "show: nothing, until: 2027-04-01"]],
    ],
    [
      "for whom it is withheld",
      { op: "rights", segment: "talks", field: "holder", value: " Farwater " },
      [["holder: Farwater News", "holder: Farwater"]],
    ],
    [
      "for whom is not known any more",
      { op: "rights", segment: "talks", field: "holder", value: "" },
      [[" holder: Farwater News,", ""]],
    ],
    [
      "a label more",
      { op: "caution", segment: "talks", caution: "minors", isOn: true },
      [["[court]", "[ court, minors ]"]],
    ],
    [
      "no label",
      { op: "caution", segment: "close", caution: "minors", isOn: false },
      [["    cautions: [minors]\n", ""]],
    ],
    [
      "the first label",
      { op: "caution", segment: "head", caution: "graphic", isOn: true },
      [["0:08\n", "0:08\n    cautions: [ graphic ]\n"]],
    ],
    [
      "its edges were listened to",
      { op: "edges", segment: "head", isHeard: true },
      [["0:08\n", "0:08\n    edges: heard\n"]],
    ],
    ["nobody listened to its edges", { op: "edges", segment: "talks", isHeard: false }, [["    edges: heard\n", ""]]],
    [
      "a cut at another place: it is no proposal any more",
      { op: "moveCut", cut: 0, from: 29_500.4, to: 34_000 },
      [["0:30, to: 0:35, why: break } # proposed", "0:29.500, to: 0:34, why: break }"]],
    ],
    [
      "a cut more, in its place",
      { op: "addCut", from: 36_000, to: 37_000, why: "rights" },
      [["  - { from: 0:40,", "  - { from: 0:36, to: 0:37, why: rights }\n  - { from: 0:40,"]],
    ],
    [
      "a stretch that the recording has",
      { op: "dropCut", cut: 0 },
      [["  - { from: 0:30, to: 0:35, why: break } # proposed\n", ""]],
    ],
    ["a cut is right", { op: "cut", cut: 0 }, [[" # proposed\n", "\n"]]],
    ["a cut that is no proposal", { op: "cut", cut: 1 }, []],
  ])("%s", async (_why, made, changes) => {
    expect(await edit(made)).toMatchObject({ is: "done" });
    expect(await episode()).toBe(changes.reduce((text, [was, now]) => put(text, was, now), BLOCK));
    if (changes.length > 0) await edit({ op: "undo" });
    expect(await episode()).toBe(BLOCK);
  });

  test.each<[string, string, DeskOrderEdit, readonly (readonly [string, string])[]]>([
    [
      "a title between commas",
      FLOW,
      { op: "title", segment: "head", title: "Top, tonight" },
      [["title: Headlines", 'title: "Top, tonight"']],
    ],
    [
      "withheld in one line",
      FLOW,
      { op: "withhold", segment: "light", show: "nothing" },
      [["out: 0:20", "out: 0:20, rights: { withheld: true, show: nothing }"]],
    ],
    [
      "parted in one line",
      FLOW,
      { op: "splitSegment", segment: "light", at: 12_000 },
      [["out: 0:20 }", "out: 0:12 }, { slug: new-segment, kind: reader, title: New segment, in: 0:12, out: 0:20 }"]],
    ],
    [
      "joined in one line",
      FLOW,
      { op: "joinSegment", segment: "head" },
      [
        [', { slug: light, kind: reader, title: "A, b", in: 0:10, out: 0:20 }', ""],
        ["in: 0:00", "in: 0:00, out: 0:20"],
      ],
    ],
    [
      "a programme that was not divided",
      UNDIVIDED,
      { op: "splitSegment", segment: "programme", at: 20_000 },
      [
        [
          "aired\n---",
          `aired\nsegments:\n  - slug: programme\n    kind: round-up\n    title: The light\n    in: 0:00\n${PARTED}    in: 0:20\n---`,
        ],
      ],
    ],
    [
      "with the line ends of another system",
      BLOCK.replaceAll("\n", "\r\n"),
      { op: "withhold", segment: "head", show: "nothing" },
      [["0:08\r\n", "0:08\r\n    rights: { withheld: true, show: nothing }\r\n"]],
    ],
  ])("%s", async (_why, text, made, changes) => {
    await begin(text);
    expect(await edit(made)).toMatchObject({ is: "done" });
    expect(await episode()).toBe(changes.reduce((own, [was, now]) => put(own, was, now), text));
  });

  test("what was withheld here and is not any more leaves nothing behind", async () => {
    await edit({ op: "withhold", segment: "head", show: "nothing" });
    expect((await words()).order.lines[0]?.withheld).toBe("nothing");
    await edit({ op: "withhold", segment: "head", show: null });
    expect(await episode()).toBe(BLOCK);
  });

  test.each([
    [
      "cuts: [{ from: 0:30, to: 0:35, why: break }, { from: 0:40, to: 0:45, why: rights }]",
      0,
      "cuts: [{ from: 0:40, to: 0:45, why: rights }]",
    ],
    [
      "cuts: [{ from: 0:30, to: 0:35, why: break }, { from: 0:40, to: 0:45, why: rights }]",
      1,
      "cuts: [{ from: 0:30, to: 0:35, why: break }]",
    ],
    ["cuts:\n  - { from: 0:40, to: 0:45, why: rights } # proposed", 0, null],
    ["cuts: [{ from: 0:40, to: 0:45, why: rights }]", 0, null],
  ])("%s without cut %i", async (cuts, cut, left) => {
    const text = FLOW.replace("clock: aired\n", `clock: aired\n${cuts}\n`);
    await begin(text);
    expect(await edit({ op: "dropCut", cut })).toMatchObject({ is: "done" });
    expect(await episode()).toBe(text.replace(`${cuts}\n`, left === null ? "" : `${left}\n`));
  });

  test("a new segment's first title makes its address; another title leaves it", async () => {
    await edit({ op: "splitSegment", segment: "head", at: 5000 });
    expect(await edit({ op: "title", segment: "new-segment", title: "Talks" })).toMatchObject({
      says: "Its address ends in talks-2.",
    });
    expect(await edit({ op: "title", segment: "talks-2", title: "More talks" })).toMatchObject({
      is: "done",
      says: null,
    });
    expect((await words()).segments.map(({ slug }) => slug)).toEqual(["head", "talks-2", "light", "talks", "close"]);
  });

  test("joined: who speaks in it, its topics and its places are those of both, and one summary is left", async () => {
    const both = BLOCK.replace(
      "    planned: 0:08\n",
      "    by: [Joss Tolvey]\n    summary: The top.\n    topics: [ferries]\n",
    );
    await begin(
      both.replace(
        "    summary: A light.",
        "    topics: [ferries, power]\n    places: [Sollen]\n    summary: A light.",
      ),
    );
    expect(await edit({ op: "joinSegment", segment: "head" })).toMatchObject({
      says: "“The light goes out” is part of “Headlines: tonight” now. Its summary is gone: “A light.”",
    });
    const { episode: joined } = await openWords(content, ID, NOW);
    expect(joined.segments[0]).toMatchObject({
      by: ["Joss Tolvey", "Ilse Marrane"],
      topics: ["ferries", "power"],
      places: ["Sollen"],
      summary: "The top.",
    });
  });

  test("joined: a list over several lines stays as it is, and what is not in it is told", async () => {
    await begin(BLOCK.replace("    planned: 0:08\n", "    by:\n      - Joss Tolvey # at sea\n"));
    expect(await edit({ op: "joinSegment", segment: "head" })).toMatchObject({
      says: "“The light goes out” is part of “Headlines: tonight” now. Taken out with its entry: by.",
    });
  });

  test("new segments have slugs of their own", async () => {
    await edit({ op: "splitSegment", segment: "head", at: 5000 });
    await edit({ op: "splitSegment", segment: "new-segment", at: 7000 });
    expect((await words()).segments.map(({ slug, in: start }) => [slug, start])).toEqual([
      ["head", 0],
      ["new-segment", 5000],
      ["new-segment-2", 7000],
      ["light", 10_000],
      ["talks", 20_000],
      ["close", 35_000],
    ]);
  });
});

test.each<[string, DeskEdit, string]>([
  ["no title", { op: "title", segment: "head", title: " " }, "empty"],
  ["no such segment", { op: "title", segment: "gone", title: "x" }, "no segment gone"],
  ["a date that is none", { op: "rights", segment: "talks", field: "until", value: "soon" }, "soon"],
  [
    "rights of what is not withheld",
    { op: "rights", segment: "head", field: "until", value: "2027-04-01" },
    "not withheld",
  ],
  ["a cut that ends before it begins", { op: "addCut", from: 5000, to: 5000, why: "break" }, "before it begins"],
  ["a cut without a reason", { op: "addCut", from: 5000, to: 6000, why: " " }, "Say why"],
  ["cuts that overlap", { op: "moveCut", cut: 0, from: 30_000, to: 42_000 }, "cut"],
  ["no such cut", { op: "cut", cut: 9 }, "no such cut"],
  ["parted where it begins", { op: "splitSegment", segment: "light", at: 10_000 }, "not inside"],
  ["parted in a gap", { op: "splitSegment", segment: "talks", at: 29_000 }, "from 0:20 to 0:28"],
  ["the last with none", { op: "joinSegment", segment: "close" }, "no segment after"],
  ["what may be given with what may not", { op: "joinSegment", segment: "light" }, "not the same rights"],
  ["an in point before the out point above", { op: "point", segment: "close", at: 27_000 }, "past this in point"],
  ["a kind that there is not", { op: "kind", segment: "head", kind: "song" as never }, "song"],
])("%s: refused in a sentence, and nothing is changed", async (_why, made, says) => {
  expect(await edit(made)).toMatchObject({ is: "refused", says: expect.stringContaining(says) });
  expect(await episode()).toBe(BLOCK);
});

/** Comments of the front matter, but for marks of what is proposed. */
const commentsOf = (text: string): readonly string[] =>
  (text.split(/\r?\n---/)[0] ?? "").match(/# (?!proposed)[^\r\n]*/g) ?? [];
const bodyOf = (text: string): string => text.slice(text.search(/\r?\n---\r?\n/));

test("whatever is done: the file can be read, comments and body stay, no address changes, and undoing it all gives the same bytes", async () => {
  const pick = fc.nat({ max: 5 });
  type Picked = { readonly pick: number; readonly make: (segment: string) => DeskEdit };
  const of = <T>(own: fc.Arbitrary<T>, make: (value: T) => (segment: string) => DeskEdit): fc.Arbitrary<Picked> =>
    fc.record({ pick, make: own.map(make) });
  const title = fc.oneof(
    fc.constantFrom(
      "Light",
      "a: b",
      "# no",
      "it's",
      '"q" [x], {y}',
      "- z",
      "true",
      "0:41",
      "né",
      "",
      "&a *b",
      "x #y",
      "%",
      "---",
    ),
    fc.string({ maxLength: 12 }),
  );
  const anyEdit = fc.oneof(
    of(title, (own) => (segment) => ({ op: "title", segment, title: own })),
    of(fc.constantFrom(...SEGMENT_KINDS), (kind) => (segment) => ({ op: "kind", segment, kind })),
    of(fc.constantFrom("nothing", "transcript", null), (show) => (segment) => ({ op: "withhold", segment, show })),
    of(fc.integer({ min: -10, max: 62_000 }), (at) => (segment) => ({ op: "splitSegment", segment, at })),
    of(fc.constant(0), () => (segment) => ({ op: "joinSegment", segment })),
    of(fc.option(fc.integer({ min: -10, max: 62_000 })), (at) => (segment) => ({ op: "point", segment, at })),
    of(fc.nat({ max: 2 }), (cut) => () => ({ op: "cut", cut })),
    of(fc.nat({ max: 2 }), (cut) => () => ({ op: "dropCut", cut })),
    of(fc.tuple(fc.nat({ max: 2 }), fc.nat({ max: 50_000 }), fc.nat({ max: 9000 })), ([cut, from, runs]) => () => ({
      op: "moveCut",
      cut,
      from,
      to: from + runs,
    })),
    of(fc.tuple(fc.nat({ max: 50_000 }), fc.nat({ max: 9000 })), ([from, runs]) => () => ({
      op: "addCut",
      from,
      to: from + runs,
      why: "break: 1",
    })),
    of(fc.tuple(fc.constantFrom(...CAUTIONS), fc.boolean()), ([caution, isOn]) => (segment) => ({
      op: "caution",
      segment,
      caution,
      isOn,
    })),
    of(fc.boolean(), (isHeard) => (segment) => ({ op: "edges", segment, isHeard })),
    of(fc.constantFrom("", "2027-04-01"), (value) => (segment) => ({ op: "rights", segment, field: "until", value })),
  );
  const { programme } = await openWords(content, ID, NOW);
  let [made, refused] = [0, 0];
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(
        BLOCK,
        BLOCK.replace("\nsegments:", "\nsegments: # all of them"),
        BLOCK.replaceAll("\n", "\r\n"),
        FLOW,
      ),
      fc.array(anyEdit, { minLength: 1, maxLength: 8 }),
      async (text, edits) => {
        await begin(text);
        const comments = commentsOf(text);
        for (const own of edits) {
          const before = await words();
          const was = await episode();
          const change = own.make(before.segments[own.pick % before.segments.length]?.slug ?? "");
          const done = await edit(change);
          const now = await episode();
          if (done.is !== "done") {
            refused++;
            expect(now).toBe(was);
            continue;
          }
          made++;
          const { sources } = await openWords(content, ID, NOW);
          expect(parseEpisode(sources, programme.timezone, programme.mediaHosts).findings.filter(blocks)).toEqual([]);
          for (const comment of comments) expect(now).toContain(comment);
          expect(bodyOf(now)).toBe(bodyOf(was));
          const [slugs, old] = [done.words.segments, before.segments].map((all) => all.map(({ slug }) => slug));
          const gone = old?.filter((slug) => !slugs?.includes(slug)) ?? [];
          const isNamed = change.op === "title" && gone[0]?.startsWith("new-segment") === true;
          expect(gone).toHaveLength(change.op === "joinSegment" || isNamed ? 1 : 0);
          // What may not be given is not given by parting or joining.
          if (change.op === "splitSegment" || change.op === "joinSegment")
            for (const moment of [0, 5000, 15_000, 25_000, 36_000, 49_000])
              expect(withheldAt(done.words, moment)).toBe(withheldAt(before, moment));
        }
        while ((await words()).canUndo) await edit({ op: "undo" });
        expect(await episode()).toBe(text);
        while ((await words()).canRedo) await edit({ op: "redo" });
        while ((await words()).canUndo) await edit({ op: "undo" });
        expect(await episode()).toBe(text);
      },
    ),
    { numRuns: 25 },
  );
  expect([made > 40, refused > 20]).toEqual([true, true]);
}, 120_000);

function withheldAt({ segments, order }: Pick<DeskWords, "segments" | "order">, moment: number): string | null {
  const n = segments.findIndex((own) => own.in <= moment && moment < own.out);
  return order.lines[n]?.withheld ?? null;
}
