import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { checkContent } from "../../src/actions/check.ts";
import { correct } from "../../src/cli/correct.ts";
import { sorted } from "../../src/cli/report.ts";
import { DEMO } from "../support/site.ts";
import { world } from "./recordStage.ts";

const RULE = "withdrawn-elsewhere";
const [BEFORE, AFTER] = ["2026-10-06", "2026-10-07"] as const;
const NOTE = "episodes/2026/2026-10-06/corrections/2026-10-09-1.md";
const TRANSCRIPT = "episodes/2026/2026-10-07/transcript.vtt";

let content = "";
beforeEach(() => {
  content = join(mkdtempSync(join(tmpdir(), "afterair-elsewhere-")), "content");
  cpSync(DEMO, content, { recursive: true });
});
afterEach(() => rmSync(join(content, ".."), { recursive: true }));

const read = (path: string) => readFileSync(join(content, path), "utf8");
function edit(path: string, from: string | RegExp, to: string): void {
  const text = read(path).replace(from, to);
  if (text === read(path)) throw new Error(`${path} has no ${from}`);
  writeFileSync(join(content, path), text);
}

/** What the rule says of some episodes, all if none is named. */
async function told(...episodes: readonly string[]) {
  const findings = await checkContent({ content, on: "2026-10-12", now: new Date("2026-10-12T12:00:00Z"), episodes });
  return sorted(findings).filter(({ rule }) => rule === RULE);
}

describe("afterair check", () => {
  test("tells that the knee injury, withdrawn on one evening, stands on another's page", async () => {
    const found = await told();
    expect(found.map(({ at, see }) => [at.file, (see ?? []).map(({ file }) => file)])).toEqual([[TRANSCRIPT, [NOTE]]]);
    const [{ says = "", mend = "", at } = {}] = found;
    expect(read(TRANSCRIPT).split("\n")[(at?.line ?? 0) - 1]).toContain("sore knee");
    expect(says).toBe(
      "“sore” and “knee” stand here beside Kit Saverell, as in what 2026-10-09-1 took away (2026-10-06, sport).",
    );
    expect(mend).toContain("`npx afterair correct 2026-10-07 --kind withdrawal --segment sport`");
  });

  test("asked for the evening that was withdrawn from, tells it at the withdrawal", async () => {
    const found = await told(BEFORE);
    expect(found.map(({ at, see }) => [at.file, (see ?? []).map(({ file }) => file)])).toEqual([[NOTE, [TRANSCRIPT]]]);
  });

  test("asked for the other evening alone, tells it there; asked for both, once", async () => {
    expect((await told(AFTER)).map(({ at }) => at.file)).toEqual([TRANSCRIPT]);
    expect((await told(BEFORE, AFTER)).map(({ at }) => at.file)).toEqual([TRANSCRIPT]);
    expect(await told("2026-10-05")).toEqual([]);
  });

  test("a place that was accepted is told on neither side", async () => {
    const accepted = `accepted:\n  - { rule: ${RULE}, at: 5:55, dated: 2026-10-10, why: It may stand., by: Standards editor }\nsegments:`;
    edit("episodes/2026/2026-10-07/episode.md", "segments:", accepted);
    expect([...(await told()), ...(await told(BEFORE)), ...(await told(AFTER))]).toEqual([]);
  });

  test("a programme can leave the rule out", async () => {
    edit("programme.md", "presenters:", `checks: { ${RULE}: off }\npresenters:`);
    expect([...(await told()), ...(await told(BEFORE)), ...(await told(AFTER))]).toEqual([]);
  });

  test("a draft that repeats it is to be edited", async () => {
    rmSync(join(content, "episodes/2026/2026-10-07/record.jsonl"));
    const [{ mend: there = "" } = {}] = await told(AFTER);
    const [{ mend: here = "" } = {}] = await told(BEFORE);
    for (const mend of [there, here]) expect(mend).toContain("edit it before it is published");
  });

  test("once the other place is withdrawn too, nothing is left to tell", async () => {
    const text =
      "---\ndated: 2026-10-10T09:00:00+01:00\nkind: withdrawal\nsegment: sport\nsigned: Standards editor\n---\nTaken away.\n";
    writeFileSync(join(content, "episodes/2026/2026-10-07/corrections/2026-10-10-1.md"), text);
    expect((await told()).map(({ says }) => says).join()).not.toMatch(/knee/);
  });
});

/** Every file below the content, with its text. */
const all = () =>
  readdirSync(content, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => `${entry.parentPath}/${entry.name} ${readFileSync(join(entry.parentPath, entry.name), "base64")}`)
    .sort();

describe("afterair correct --kind withdrawal", () => {
  /** Takes the withdrawal of the demo back, as if it were still to be made. */
  beforeEach(() => {
    rmSync(join(content, NOTE));
    const record = "episodes/2026/2026-10-06/record.jsonl";
    const lines = read(record).trimEnd().split("\n");
    writeFileSync(
      join(content, record),
      lines
        .filter((line) => !line.includes("2026-10-09-1"))
        .map((line) => `${line}\n`)
        .join(""),
    );
  });

  async function withdrawing(note = "We took it away.", segment: string | null = "sport", episode: string = BEFORE) {
    const { io, out, err } = world("2026-10-09T15:00:00Z");
    const draft = { kind: "withdrawal", segment, at: null, field: null, said: null, now: null, every: false } as const;
    const own = {
      ...draft,
      signed: "Standards editor",
      supersedes: null,
      note,
      content,
      episode,
      dryRun: true,
      yes: true,
    };
    await correct(own, io);
    return { lines: out().split("\n"), err: err() };
  }

  test("lists the other place with its page and its command, and does nothing", async () => {
    const before = all();
    const { lines } = await withdrawing();
    const at = lines.findIndex((line) => line.startsWith("The same matter stands elsewhere"));
    expect(lines.slice(at + 1, at + 5)).toEqual([
      "  1. 2026-10-07, sport, 5:55: “sore” and “knee” stand here beside Kit Saverell.",
      "       Kit Saverell gave them the lead after 17 minutes, sore knee and all.",
      "     look       https://tide.example.org/2026-10-07/sport/#t=328",
      `     take away  npx afterair correct 2026-10-07 --kind withdrawal --segment sport --content ${content}`,
    ]);
    expect(lines.join("\n")).toContain("for the station's own code and qualified advice");
    expect(all()).toEqual(before);
  });

  test("names the file and line in a draft", async () => {
    rmSync(join(content, "episodes/2026/2026-10-07/record.jsonl"));
    const line =
      read(TRANSCRIPT)
        .split("\n")
        .findIndex((own) => own.includes("sore knee")) + 1;
    expect((await withdrawing()).lines).toContain(`     edit       ${join(content, TRANSCRIPT)}:${line}`);
  });

  test("tells of a note that repeats what it withdraws", async () => {
    const { lines } = await withdrawing("We should not have spoken of Kit Saverell's knee.");
    expect(lines.join("\n")).toMatch(/note of 2026-10-09-\w{5}: “knee” stands here beside Kit Saverell/);
  });

  test("tells of the headlines of the same evening", async () => {
    const { lines } = await withdrawing("We took it away.", "cable-court");
    expect(lines.join("\n")).toMatch(/2026-10-06, headlines, 0:2\d: .*“damaged”.* stand here close together/);
  });

  test("says what could not be compared", async () => {
    edit("episodes/2026/2026-10-07/transcript.vtt", /^WEBVTT/, "no such format");
    expect((await withdrawing()).lines).toContain("Not compared, because they can't be read: 2026-10-07.");
  });

  test("shows twelve of many, and counts the others", async () => {
    for (let n = 10; n < 30; n++) {
      const folder = join(content, `episodes/2026/2026-09-${n}`);
      mkdirSync(folder);
      const front = `title: An evening\naired: 2026-09-${n}T18:30:00\nduration: 0:20\nmedia: [{ src: "a.mp3", type: audio/mpeg }]\nclock: media`;
      writeFileSync(
        join(folder, "episode.md"),
        `---\n${front}\nsegments:\n  - { slug: sport, kind: sport, title: Sport, in: 0:00 }\n---\n`,
      );
      writeFileSync(join(folder, "a.mp3"), "sound");
      writeFileSync(
        join(folder, "transcript.vtt"),
        "WEBVTT\n\n00:01.000 --> 00:05.000\nKit Saverell scored, sore knee and all.\n",
      );
    }
    const { lines } = await withdrawing();
    expect(lines.filter((line) => /^ {1,2}\d+\. /.test(line))).toHaveLength(12);
    expect(lines.join("\n")).toMatch(/and (?:9|1\d) more, less likely\./);
    expect(
      lines
        .slice(
          0,
          lines.findIndex((line) => line.includes("more, less likely")),
        )
        .join("\n"),
    ).toContain("sport/#t=328");
  });

  test("says so where nothing is found", async () => {
    expect((await withdrawing("Away.", "weather")).lines.join("\n")).toMatch(
      /not found elsewhere: 3 episodes|stands elsewhere/,
    );
  });
});
