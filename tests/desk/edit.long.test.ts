import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { editWords } from "../../src/actions/desk/edit.ts";
import { deskFindings } from "../../src/actions/desk/publish.ts";
import { textOfWords } from "../../src/actions/desk/textEdit.ts";
import { openWords, wordsOf } from "../../src/actions/desk/words.ts";
import { newEpisode } from "../../src/actions/new.ts";
import { afterChange, type DeskEdit, type DeskWords } from "../../src/model/desk.ts";
import { parseVtt, validateVtt } from "../../src/webvtt/index.ts";

const DEMO = join(import.meta.dirname, "../../content");
const ID = "2027-03-01";
const NOW = new Date("2027-03-02T12:00:00Z");
let content: string;

/** Five captions of two speakers with a sound between, and a cut from 0:12 to 0:15. */
const CAPTIONS = `WEBVTT

00:00:01.000 --> 00:00:04.000
<v Tamsin Hathersay>Good evening, and welcome
to The Evening Tide.</v>

00:00:04.000 --> 00:00:06.000
<v.proposed Ilse Marrane>The light has burned.</v>

00:00:06.000 --> 00:00:08.000
[Waves]

00:00:08.000 --> 00:00:11.000
<v.proposed Ilse Marrane>It burned for years.</v>

00:00:15.500 --> 00:00:18.000
<v.proposed Ilse Marrane>Good night.</v>
`;

beforeEach(async () => {
  content = await mkdtemp(join(tmpdir(), "edit-"));
  const programme = await readFile(join(DEMO, "programme.md"), "utf8");
  await writeFile(join(content, "programme.md"), programme.replace(/^own: .*\n/m, ""));
  await cp(join(DEMO, "poster.svg"), join(content, "poster.svg"));
  await cp(join(DEMO, "names"), join(content, "names"), { recursive: true });
  const [transcript, runningOrder] = [join(content, "raw.txt"), join(content, "order.csv")];
  await writeFile(transcript, "[0:01] Good evening.\n");
  await writeFile(
    runningOrder,
    "slug,title,kind,planned\nhead,Headlines,headlines,0:06\nlight,The light,reader,0:14\n",
  );
  await newEpisode({
    content,
    id: ID,
    transcript,
    runningOrder,
    media: [],
    duration: "0:20",
    cut: ["0:12-0:15=cut"],
    clock: "aired",
    now: NOW,
  });
  await writeFile(join(folder(), "transcript.vtt"), CAPTIONS);
});
afterEach(() => rm(content, { recursive: true, force: true }));

const folder = () => join(content, "episodes/2027", ID);
const transcript = () => readFile(join(folder(), "transcript.vtt"), "utf8");
const words = async (): Promise<DeskWords> => wordsOf(await openWords(content, ID, NOW));
const edit = async (made: DeskEdit, version?: string) =>
  editWords({ content, id: ID, version: version ?? (await words()).version, edit: made, now: NOW });
/** Captions as `0.0-1.0 Voice: words`, `?` where the voice is a proposal. */
const shown = async () =>
  (await words()).captions.map(
    ({ start, end, voice, proposed, text }) =>
      `${start / 1000}-${end / 1000} ${voice ?? "-"}${proposed ? "?" : ""}: ${text}`,
  );

describe("a change to the words", () => {
  test.each<[string, DeskEdit, number, string | null]>([
    [
      "other words keep the caption's time",
      { op: "words", caption: 1, text: "The lamp has burned.", isWhole: true },
      1,
      "4-6 Ilse Marrane?: The lamp has burned.",
    ],
    ["no words take the caption out", { op: "words", caption: 4, text: " ", isWhole: true }, 4, null],
    ["a sound stays one", { op: "words", caption: 2, text: "[Gulls]", isWhole: true }, 2, "6-8 -: [Gulls]"],
    ["words become a sound", { op: "words", caption: 4, text: "(Rain)", isWhole: true }, 4, "15.5-18 -: [Rain]"],
    [
      "a speaker is given",
      { op: "voice", from: 1, to: 4, voice: "Osmund Tarrick" },
      3,
      "8-11 Osmund Tarrick: It burned for years.",
    ],
    [
      "a speaker is taken away",
      { op: "voice", from: 0, to: 1, voice: null },
      0,
      "1-4 -: Good evening, and welcome to The Evening Tide.",
    ],
    ["a proposal is right", { op: "accept", from: 3, to: 4 }, 3, "8-11 Ilse Marrane: It burned for years."],
    [
      "whole words are replaced",
      { op: "replace", find: "burned", by: "shone" },
      3,
      "8-11 Ilse Marrane?: It shone for years.",
    ],
    ["no part of one", { op: "replace", find: "year", by: "day" }, 3, "8-11 Ilse Marrane?: It burned for years."],
  ])("%s", async (_why, made, n, expected) => {
    expect((await edit(made)).is).toBe("done");
    expect((await shown())[n] ?? null).toBe(expected);
  });

  test("a caption is parted where a word begins, and joined again", async () => {
    await edit({ op: "split", caption: 0, word: 2 });
    const [first, second] = await shown();
    expect(first).toMatch(/^1-\d\.\d+ Tamsin Hathersay: Good evening,$/);
    expect(second).toMatch(/-4 Tamsin Hathersay: and welcome to The Evening Tide\.$/);
    await edit({ op: "join", caption: 0 });
    expect((await shown())[0]).toBe("1-4 Tamsin Hathersay: Good evening, and welcome to The Evening Tide.");
  });

  test.each([
    ["there is room", 3, "It burned for years and years and nobody came to put it out because nobody knew"],
    [
      "there is none",
      1,
      "It burned for years and years and nobody ever came to put it out because nobody knew how that was done",
    ],
  ])("more words than a caption holds are cut into several when somebody leaves it: %s", async (_why, n, text) => {
    await edit({ op: "words", caption: n, text, isWhole: false });
    expect(await shown()).toHaveLength(5);
    await edit({ op: "words", caption: n, text, isWhole: true });
    const { captions } = await words();
    const more = captions.length - 5;
    expect(more).toBeGreaterThan(0);
    const own = captions.slice(n, n + 1 + more);
    expect(own.map((caption) => caption.text).join(" ")).toBe(text);
    expect(own.every(({ voice, proposed }) => voice === "Ilse Marrane" && proposed)).toBe(true);
  });

  test.each<[string, DeskEdit, string]>([
    ["a caption before its first word", { op: "split", caption: 0, word: 0 }, "between two of its words"],
    ["a sound", { op: "split", caption: 2, word: 1 }, "not split"],
    ["two speakers in one caption", { op: "join", caption: 0 }, "Two people"],
    ["a sound with words", { op: "join", caption: 1 }, "stands by itself"],
    ["what the recording is cut between", { op: "join", caption: 3 }, "cut between"],
    ["the last with none", { op: "join", caption: 4 }, "no caption after"],
    ["what is not there", { op: "words", caption: 99, text: "x", isWhole: true }, "no such caption"],
    ["an in point before the one above", { op: "point", segment: "light", at: -5 }, "before"],
    ["an in point past the end", { op: "point", segment: "light", at: 99_000 }, "after"],
  ])("%s: refused in a sentence, and nothing is changed", async (_why, made, says) => {
    const before = await transcript();
    expect(await edit(made)).toMatchObject({ is: "refused", says: expect.stringContaining(says) });
    expect(await transcript()).toBe(before);
  });

  describe("a caption that holds more than words", () => {
    const MARKED = CAPTIONS.replace(
      "00:00:04.000 --> 00:00:06.000",
      "one\n00:00:04.000 --> 00:00:06.000 align:start line:0",
    )
      .replace("It burned for years.", "It <i>burned</i> for years.")
      .replace("Ilse Marrane>Good night.", "Ilse Marrane>Good</v> <v.proposed Osmund Tarrick>night.");
    beforeEach(() => writeFile(join(folder(), "transcript.vtt"), MARKED));

    test.each<[string, DeskEdit]>([
      ["other words", { op: "words", caption: 1, text: "The lamp has burned.", isWhole: true }],
      ["a speaker", { op: "voice", from: 1, to: 2, voice: "Osmund Tarrick" }],
      ["found words", { op: "replace", find: "light", by: "lamp" }],
      ["a proposal that is right", { op: "accept", from: 1, to: 2 }],
    ])("keeps its name and where it stands on the picture: %s", async (_why, made) => {
      expect((await edit(made)).is).toBe("done");
      expect(await transcript()).toContain("one\n00:00:04.000 --> 00:00:06.000 align:start line:0\n");
    });

    test("parted, the first half has its name, and both stand where it stood", async () => {
      await edit({ op: "split", caption: 1, word: 2 });
      expect(await transcript()).toMatch(/one\n00:00:04\.000 --> \S+ align:start line:0\n[^\n]+The light/);
      expect((await transcript()).match(/align:start line:0/g)).toHaveLength(2);
      expect((await transcript()).match(/^one$/gm)).toHaveLength(1);
    });

    test.each<[string, DeskEdit]>([
      ["tags", { op: "words", caption: 3, text: "It shone.", isWhole: true }],
      ["tags, parted", { op: "split", caption: 3, word: 1 }],
      ["tags, and another speaker", { op: "voice", from: 3, to: 4, voice: "Osmund Tarrick" }],
      ["two voices", { op: "words", caption: 4, text: "Bye.", isWhole: true }],
    ])("is changed in the file alone: %s", async (_why, made) => {
      expect(await edit(made)).toMatchObject({ is: "refused", says: expect.stringContaining("in the file") });
      expect(await transcript()).toBe(MARKED);
    });

    test("but who speaks in it can be said to be right: nothing but the mark goes", async () => {
      await edit({ op: "accept", from: 3, to: 5 });
      expect(await transcript()).toBe(MARKED.replace(/v\.proposed (Ilse Marrane>(?:It|Good)|Osmund)/g, "v $1"));
      expect((await words()).captions.map(({ isMixed }) => isMixed)).toEqual([false, false, false, true, true]);
    });
  });

  test("an in point is set, accepted and undone", async () => {
    const episode = () => readFile(join(folder(), "episode.md"), "utf8");
    const before = await episode();
    await edit({ op: "point", segment: "light", at: 5250 });
    expect((await words()).segments[1]).toMatchObject({ in: 5250, proposed: false });
    await edit({ op: "undo" });
    expect(await episode()).toBe(before);
  });

  test("of what was changed elsewhere nothing is overwritten, and nothing of it is undone here", async () => {
    await edit({ op: "words", caption: 1, text: "The lamp.", isWhole: true });
    const { version } = await words();
    const theirs = (await transcript()).replace("Good night.", "Good night to you.");
    await writeFile(join(folder(), "transcript.vtt"), theirs);
    expect(await edit({ op: "words", caption: 4, text: "Bye.", isWhole: true }, version)).toMatchObject({
      is: "stale",
    });
    expect((await words()).canUndo).toBe(false);
    expect(await edit({ op: "undo" })).toMatchObject({ is: "refused" });
    expect(await transcript()).toBe(theirs);
  });

  test("the words as text, put in again, change nothing; with other words, they keep the times of those that stay", async () => {
    const opened = await openWords(content, ID, NOW);
    const before = await transcript();
    const text = textOfWords(opened);
    expect(text).toContain("Tamsin Hathersay: Good evening, and welcome to The Evening Tide.");
    await edit({ op: "text", text, isSure: false });
    const plain = (vtt: string) => vtt.replaceAll("v.proposed", "v");
    expect(plain(await transcript())).toBe(plain(before));
    const done = await edit({ op: "text", text: text.replace("burned for years", "shone for years"), isSure: false });
    expect(done).toMatchObject({ is: "done", says: expect.stringContaining("1 are others") });
    expect((await shown()).at(-1)).toContain("15.5-18");
    expect(await edit({ op: "text", text: "Ilse Marrane: Bye.", isSure: false })).toMatchObject({
      is: "refused",
      says: expect.stringContaining("would go"),
    });
    expect(await edit({ op: "text", text: "  ", isSure: true })).toMatchObject({ is: "refused" });
  });

  test("a finding is let stand with a reason, and can be put back on the list", async () => {
    const episode = () => readFile(join(folder(), "episode.md"), "utf8");
    const before = await episode();
    const made = { op: "let", rule: "name-near-miss", at: 4000, why: 'He: "it is so".', by: "Desk" } as const;
    expect(await edit(made)).toMatchObject({ is: "done" });
    expect((await openWords(content, ID, NOW)).episode.accepted).toMatchObject([
      { rule: "name-near-miss", at: 4000, why: 'He: "it is so".', by: "Desk", dated: "2027-03-02" },
    ]);
    await edit({ ...made, rule: "count-differs", at: null });
    expect((await openWords(content, ID, NOW)).episode.accepted).toHaveLength(2);
    expect(await edit({ ...made, why: " " })).toMatchObject({ is: "refused" });
    await edit({ op: "undo" });
    await edit({ op: "undo" });
    expect(await episode()).toBe(before);
  });

  test("names are written as the register has them, and only those that are sure", async () => {
    await edit({ op: "words", caption: 1, text: "Osric Tarrick is in sollen.", isWhole: true });
    const found = (await deskFindings(content, ID, NOW)).find(({ rule }) => rule === "name-small-letters");
    expect(found?.mend).toContain("“Names as registered” does it");
    expect(await edit({ op: "names" })).toMatchObject({ is: "done", says: "1 name changed." });
    expect((await shown())[1]).toContain("Osric Tarrick is in Sollen.");
  });
});

test("whatever is done: the file conforms, words stay in order, and undoing it all gives the same bytes", async () => {
  const n = fc.nat({ max: 6 });
  const text = fc.array(fc.constantFrom("light", "burned,", "Sollen.", "a", "seventeen", "-->", "<b>", "&"), {
    maxLength: 30,
  });
  const anyEdit: fc.Arbitrary<DeskEdit> = fc.oneof(
    fc.record({
      op: fc.constant("words" as const),
      caption: n,
      text: text.map((own) => own.join(" ")),
      isWhole: fc.boolean(),
    }),
    fc.record({ op: fc.constant("split" as const), caption: n, word: n }),
    fc.record({ op: fc.constant("join" as const), caption: n }),
    fc.record({
      op: fc.constant("voice" as const),
      from: n,
      to: n,
      voice: fc.constantFrom(null, "Ilse Marrane", "A > B & C"),
    }),
    fc.record({ op: fc.constant("accept" as const), from: n, to: n }),
    fc.record({
      op: fc.constant("point" as const),
      segment: fc.constant("light"),
      at: fc.integer({ min: -10, max: 21_000 }),
    }),
    fc.record({
      op: fc.constant("replace" as const),
      find: fc.constantFrom("light", "a"),
      by: fc.constantFrom("lamp", ""),
    }),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(anyEdit, { minLength: 1, maxLength: 6 }), async (edits) => {
      await writeFile(join(folder(), "transcript.vtt"), CAPTIONS);
      const episode = await readFile(join(folder(), "episode.md"), "utf8");
      for (const made of edits) {
        const [before, seen] = [await transcript(), await words()];
        const done = await edit(made);
        if (done.is !== "done") expect(await transcript()).toBe(before);
        // Told of what is other alone, the page sees what it would see if it were loaded anew.
        if (done.is === "done") expect(afterChange(seen, done.words)).toEqual(await words());
        expect(validateVtt(parseVtt(await transcript()), "captions", "transcript.vtt")).toEqual([]);
        const captions = (await words()).captions;
        expect(captions.every(({ start, end }, k) => end > start && start >= (captions[k - 1]?.end ?? 0))).toBe(true);
        if (made.op === "split" || made.op === "join" || made.op === "voice" || made.op === "accept") {
          const plain = (vtt: string) =>
            vtt
              .replace(/^.*-->.*$|<[^>]*>/gm, "")
              .split(/\s+/)
              .join(" ");
          expect(plain(await transcript())).toBe(plain(before));
        }
      }
      for (let seen = await words(); seen.canUndo; ) {
        const done = await edit({ op: "undo" });
        if (done.is !== "done") throw new Error("It could not be undone.");
        seen = afterChange(seen, done.words);
        expect(seen).toEqual(await words());
      }
      expect(await transcript()).toBe(CAPTIONS);
      expect(await readFile(join(folder(), "episode.md"), "utf8")).toBe(episode);
    }),
    { numRuns: 25 },
  );
}, 120_000);
