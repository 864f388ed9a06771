import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Ask } from "../../src/cli/recordIo.ts";
import { UsageError } from "../../src/model/usageError.ts";
import { readRecord } from "../../src/record/entry.ts";
import { auditing, commit, correcting, FOLDER, publishing, rules, type Stage, stage, world } from "./recordStage.ts";

let on: Stage;
beforeEach(() => {
  on = stage();
});
afterEach(() => on.clear());

const whats = () => readRecord(on.read("record.jsonl")).lines.map(({ entry }) => entry?.what ?? "no entry");

describe("publish", () => {
  test("enters an episode once, and says what it enters", async () => {
    const first = world();
    expect(await publishing(on, {}, first.io)).toEqual([]);
    expect(first.out()).toContain('published  "Fewer ferries", 3 segments, 7 cues');
    const record = on.read("record.jsonl");
    expect(record).toMatch(/^\{"afterair":"record 1","algorithm":"sha-256",.*\}\n$/);
    expect(record).not.toMatch(/ferr|Osric|Fewer/);
    const second = world();
    await publishing(on, {}, second.io);
    expect(second.out()).toBe("2026-10-05: all is entered; nothing to do.");
    expect(on.read("record.jsonl")).toBe(record);
  });

  test("enters corrections that were written by hand, in date order", async () => {
    await publishing(on);
    const text = (dated: string, rest: string) =>
      `---\ndated: ${dated}\n${rest}\nsigned: Standards editor\n---\nA note.\n`;
    on.write("corrections/2026-10-06-2.md", text("2026-10-06T08:30:00+01:00", "kind: withdrawal\nsegment: close"));
    on.write(
      "corrections/2026-10-06-1.md",
      text("2026-10-06T08:00:00+01:00", "kind: on-air\nat: 0:02\nsaid: eleven sailings"),
    );
    expect((await auditing(on)).map(({ rule }) => rule)).toEqual(["correction-not-entered", "correction-not-entered"]);
    // The recording still has the sound of what was withdrawn: that is told, and stands in nobody's way.
    expect((await publishing(on)).map(({ rule, level }) => [rule, level])).toEqual([["sound-withdrawn", "warns"]]);
    expect(whats()).toEqual(["published", "corrected", "withdrawn"]);
    expect(await auditing(on)).toEqual([]);
  });

  test.each([
    ["an episode that can't be read", () => on.edit("episode.md", "in: 0:15", "in: 0:75")],
    [
      "a correction whose words are not there",
      () =>
        on.write(
          "corrections/2026-10-06-1.md",
          "---\ndated: 2026-10-06T08:00:00\nkind: on-air\nsaid: no such words\nsigned: Me\n---\nA note.\n",
        ),
    ],
    [
      "a correction dated ahead",
      () =>
        on.write(
          "corrections/2026-10-08-1.md",
          "---\ndated: 2026-10-08T08:00:00\nkind: update\nsigned: Me\n---\nA note.\n",
        ),
    ],
  ])("refuses %s", async (_why, spoil) => {
    spoil();
    const told = world();
    expect(rules(await publishing(on, {}, told.io))).not.toEqual([]);
    expect(told.err()).toContain("Nothing was entered");
    expect(on.files()).not.toContain("record.jsonl");
  });

  test("refuses what a further check blocks", async () => {
    const at = { file: `${FOLDER}/episode.md`, line: 1, column: 1 };
    const checks = () => [{ rule: "mine", level: "blocks" as const, at, seconds: null, says: "No.", mend: "Mend." }];
    expect(rules(await publishing(on, { checks }))).toEqual(["mine"]);
    expect(on.files()).not.toContain("record.jsonl");
  });

  test("refuses frozen content that changed, and names the place", async () => {
    await publishing(on);
    on.edit("transcript.vtt", "forty years", "four years");
    expect(rules(await publishing(on))).toEqual(["content-changed"]);
    expect(whats()).toEqual(["published"]);
  });

  test("writes nothing in a trial", async () => {
    await publishing(on, { dryRun: true });
    expect(on.files()).toEqual(["episode.md", "transcript.vtt"]);
  });

  test("an unknown episode is a fault of the call", async () => {
    await expect(publishing(on, { episode: "2026-10-09" })).rejects.toThrow(UsageError);
  });
});

describe("publish --reissue", () => {
  const reissue = (earlier: string | null) => ({ reissue: { reason: "The segment was two items.", earlier } });

  test("needs the text as it was published, keeps it, and goes on from there", async () => {
    await publishing(on);
    const before = on.copy();
    await correcting(on, { kind: "transcript", said: "Osric Tarrick", now: "Osmund Tarrick" });
    on.edit("transcript.vtt", "Osric", "Osmund");
    on.edit("episode.md", "Good night", "Goodbye");
    await expect(publishing(on, reissue(null), world("2026-10-07T08:00:00Z").io)).rejects.toThrow(
      /transcript.vtt as it was published/,
    );
    const given = reissue(`${before}/${FOLDER}`);
    expect(rules(await publishing(on, given, world("2026-10-07T08:00:00Z").io))).toEqual([]);
    expect(whats()).toEqual(["published", "corrected", "reissued"]);
    expect(on.read("as-published/1/transcript.vtt")).toContain("Osric Tarrick");
    expect(on.read("as-published/1/episode.md")).toContain("Good night");
    expect(on.read("as-published/1/reason.md")).toBe("The segment was two items.\n");
    expect(rules(await auditing(on, { against: before }))).toEqual([]);
  });

  test.each([
    ["as-published/1/transcript.vtt", "Osric", "Osmund"],
    ["as-published/1/episode.md", "Good night", "Goodbye"],
    ["as-published/1/reason.md", "two", "three"],
  ])("a change of %s is found", async (path, from, to) => {
    await publishing(on);
    const before = on.copy();
    on.edit("transcript.vtt", "Good night", "Goodbye");
    await publishing(on, reissue(`${before}/${FOLDER}`));
    on.edit(path, from, to);
    expect(await auditing(on)).toMatchObject([{ rule: "copy-changed", at: { file: `${FOLDER}/${path}` } }]);
  });

  const WELSH = "as-published/1/transcript.cy.vtt";
  test.each([
    ["is edited", () => on.edit(WELSH, "Noswaith", "Bore"), WELSH],
    ["is taken away", () => on.remove(WELSH), WELSH],
    ["is added", () => on.write("as-published/1/transcript.fr.vtt", "WEBVTT\n"), "as-published/1/transcript.fr.vtt"],
  ])("a translation of an earlier text that %s is found", async (_what, change, path) => {
    on.write("transcript.cy.vtt", "WEBVTT\n\n00:00.000 --> 00:05.000\nNoswaith dda.\n");
    await publishing(on);
    const before = on.copy();
    on.edit("transcript.vtt", "Good night", "Goodbye");
    on.remove("transcript.cy.vtt");
    await publishing(on, reissue(`${before}/${FOLDER}`));
    expect(on.read(WELSH)).toContain("Noswaith");
    expect(await auditing(on)).toEqual([]);
    change();
    expect(await auditing(on)).toMatchObject([{ rule: "copy-changed", at: { file: `${FOLDER}/${path}` } }]);
  });

  test.each(["Turned \u202Earound", "&#x202e;Turned"])(
    "takes no reason that turns its reader around",
    async (reason) => {
      await publishing(on);
      await expect(publishing(on, { reissue: { reason, earlier: null } })).rejects.toThrow(/--reason holds .* U\+202E/);
    },
  );

  test("finds the earlier text in version control", async () => {
    await publishing(on);
    commit(on);
    on.edit("transcript.vtt", "Good night", "Goodbye");
    on.edit("episode.md", "Good night", "Goodbye");
    commit(on);
    expect(rules(await publishing(on, reissue(null)))).toEqual([]);
    expect(on.read("as-published/1/transcript.vtt")).toContain("Good night");
    expect(on.read("as-published/1/episode.md")).toContain("Good night");
    expect(rules(await auditing(on))).toEqual([]);
  });

  test("keeps only the reason where something is withdrawn", async () => {
    await publishing(on);
    const before = on.copy();
    await correcting(on, { kind: "withdrawal", segment: "ferry-timetable" });
    on.edit("transcript.vtt", "fourteen", "thirteen");
    const given = reissue(`${before}/${FOLDER}`);
    expect(rules(await publishing(on, given, world("2026-10-07T08:00:00Z").io))).toEqual([]);
    expect(on.files().filter((path) => path.startsWith("as-published/"))).toEqual(["as-published/1/reason.md"]);
    expect(rules(await auditing(on))).toEqual([]);
  });

  test("is refused where nothing was replaced", async () => {
    await publishing(on);
    await expect(publishing(on, reissue(null))).rejects.toThrow(/nothing to reissue/);
  });
});

describe("a torn last line", () => {
  test.each([
    ["half a line is taken off", (line: string) => line.slice(0, 90), 1],
    ["a whole line gets its end back", (line: string) => line, 2],
  ])("%s, and only when asked", async (_why, tear, count) => {
    await publishing(on);
    await correcting(on, { kind: "on-air", said: "Osric Tarrick" });
    const [first = "", second = ""] = on.read("record.jsonl").split("\n");
    on.write("record.jsonl", `${first}\n${tear(second)}`);
    expect(rules(await auditing(on))).toContain("record-line-torn");
    expect(rules(await publishing(on))).toContain("record-line-torn");
    expect(rules(await correcting(on, { kind: "on-air", said: "forty years" }))).toContain("record-line-torn");
    expect(on.read("record.jsonl")).toBe(`${first}\n${tear(second)}`);
    const told = world("2026-10-06T10:00:00Z");
    expect(rules(await publishing(on, { repair: true }, told.io))).toEqual([]);
    expect(told.out()).toContain(count === 1 ? "Taken off the end" : "put back");
    expect(await auditing(on)).toEqual([]);
    expect(whats()).toEqual(["published", "corrected"]);
    if (count === 2) expect(on.read("record.jsonl")).toBe(`${first}\n${second}\n`);
  });
});

describe("correct", () => {
  beforeEach(() => publishing(on));

  test("shows the passage before and after, writes the file and enters it", async () => {
    const told = world("2026-10-06T09:00:00Z");
    const findings = await correcting(
      on,
      { kind: "transcript", said: "osric tarrick", now: "Osmund Tarrick" },
      told.io,
    );
    expect(findings).toEqual([]);
    expect(on.read(on.corrections()[0] ?? "")).toBe(
      "---\ndated: 2026-10-06T10:00:00+01:00\nkind: transcript\nsegment: headlines\nat: 0:10\nsaid: Osric Tarrick\nnow: Osmund Tarrick\nsigned: Standards editor\n---\nWe got it wrong.\n",
    );
    expect(told.out()).toContain(">    0:10  Tamsin Hathersay: Osric Tarrick has kept");
    expect(told.out()).toContain(">    0:10  Tamsin Hathersay: ‹Osmund Tarrick› has kept");
    expect(told.out()).toContain("     0:05  Tamsin Hathersay: sailings a week");
    expect(whats()).toEqual(["published", "corrected"]);
    expect(await auditing(on)).toEqual([]);
  });

  test("the same words twice on one day get two names, and a name is never given twice", async () => {
    const open = { kind: "update", segment: "close" } as const;
    await correcting(on, open);
    await correcting(on, open);
    const [first = "", second = ""] = on.corrections().toSorted((a, b) => a.length - b.length);
    expect(second.startsWith(first.slice(0, -".md".length))).toBe(true);
    // One whose file is gone has its name in the record still.
    const kept = on.read(first);
    on.remove(first);
    await correcting(on, open);
    expect(on.files()).not.toContain(first);
    on.write(first, kept);
  });

  test("a trial writes nothing", async () => {
    const told = world("2026-10-06T09:00:00Z");
    await correcting(on, { kind: "on-air", said: "Osric Tarrick", dryRun: true }, told.io);
    expect(told.out()).toContain("‹Osric Tarrick›");
    expect(on.files()).toEqual(["episode.md", "record.jsonl", "transcript.vtt"]);
  });

  test("words that are not there name the nearest, and write nothing", async () => {
    const told = world("2026-10-06T09:00:00Z");
    expect(rules(await correcting(on, { kind: "on-air", said: "Oscar Tarrick" }, told.io))).toEqual([
      "correction-words-not-found",
    ]);
    expect(told.err()).toContain('The nearest words are "Osric Tarrick" at 0:10');
    expect(on.files()).toEqual(["episode.md", "record.jsonl", "transcript.vtt"]);
  });

  test("words that stand twice want a time", async () => {
    const twice = correcting(on, { kind: "on-air", said: "eleven sailings" });
    await expect(twice).rejects.toThrow(/stands in 2 places: choose one with --at, or --every/);
    expect(await correcting(on, { kind: "on-air", said: "eleven sailings", at: "0:16" })).toEqual([]);
  });

  test.each([
    ["kind", {}, "--kind"],
    ["the new words", { kind: "transcript" as const, said: "Osric" }, "--now"],
    ["the field", { kind: "page" as const, said: "x", now: "y" }, "--field"],
    ["the moment of a speaker", { kind: "transcript" as const, field: "speaker", said: "x", now: "y" }, "--at"],
    ["the note", { kind: "update" as const, note: null }, "--note"],
  ])("without a terminal, a flag for %s is missed", async (_what, given, flag) => {
    await expect(correcting(on, given)).rejects.toThrow(`Missing: ${flag}.`);
  });

  test("an episode that is not published is mended, not corrected", async () => {
    on.remove("record.jsonl");
    await expect(correcting(on, { kind: "update" })).rejects.toThrow(/is not published yet/);
  });

  test("asks for what is left open, and finds the passage by its words", async () => {
    const asked: string[] = [];
    const answers = ["transcript", "rowan skelland", "1", "Ruan Skelland", "His name is Ruan.", "Me"];
    const answer = (question: string) => {
      asked.push(question);
      return Promise.resolve(answers.shift() ?? null);
    };
    const ask: Ask = {
      text: answer,
      choose: async (question, choices) => {
        const given = await answer(question);
        return choices.find(({ value }) => value === given)?.value ?? null;
      },
      confirm: async (question) => {
        asked.push(question);
        return true;
      },
    };
    const told = world("2026-10-06T09:00:00Z", ask);
    await correcting(on, { note: null, signed: null, yes: false }, told.io);
    expect(asked).toEqual([
      "What went wrong?",
      "The words, or a time (3:41):",
      "Which of these?",
      'Instead of "Rowan Skelland":',
      "The note that the public reads:",
      "Signed:",
      "Publish this correction?",
    ]);
    expect(on.read(on.corrections()[0] ?? "")).toContain("at: 0:25\nsaid: Rowan Skelland\nnow: Ruan Skelland\n");
  });

  test("whoever goes away in the middle has written nothing", async () => {
    const gone: Ask = { text: async () => null, choose: async () => null, confirm: async () => null };
    const told = world("2026-10-06T09:00:00Z", gone);
    expect(await correcting(on, { yes: false }, told.io)).toEqual([]);
    expect(told.out()).toBe("Nothing was written.");
    expect(on.corrections()).toEqual([]);
  });
});
