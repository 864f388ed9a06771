import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { beginStation, exampleFolder, judgeStationAnswer, requireForStation } from "../../src/actions/begin.ts";
import { programmeText } from "../../src/actions/beginTexts.ts";
import { checkContent } from "../../src/actions/check.ts";
import { type BeginOptions, begin } from "../../src/cli/begin.ts";
import type { Ask } from "../../src/cli/recordIo.ts";
import { UsageError } from "../../src/model/usageError.ts";
import { parseProgramme } from "../../src/read/index.ts";
import { listedFile, source } from "../read/support.ts";
import { readArchive } from "../support/readArchive.ts";

const ANSWERS = {
  title: "The Evening Tide",
  timezone: "Europe/London",
  language: "en-GB",
  url: "https://tide.example.org/",
};

let around: string;
let folder: string;
beforeEach(() => {
  around = mkdtempSync(join(tmpdir(), "begin-"));
  folder = join(around, "content");
});
afterEach(() => rmSync(around, { recursive: true, force: true }));

const check = (content: string) =>
  checkContent({ content, on: null, now: new Date("2026-11-01T12:00:00Z"), episodes: [] });

describe("a new station", () => {
  test.each(["en-GB", "cy"])(
    "has nothing for check to tell, spoken in %s, with its example and without",
    async (language) => {
      await beginStation(folder, { ...ANSWERS, language });
      expect(readArchive(folder).archive?.episodes.map(({ id }) => id)).toEqual(["2026-10-05"]);
      expect(await check(folder)).toEqual([]);
      rmSync(exampleFolder(folder), { recursive: true });
      expect(await check(folder)).toEqual([]);
    },
  );

  test("has what the demo has for editors and version control", async () => {
    await beginStation(folder, ANSWERS);
    for (const name of [".gitattributes", ".schemas/programme.schema.json", ".schemas/episode.schema.json"])
      expect(readFileSync(join(folder, name), "utf8"), name).toBe(readFileSync(join("content", name), "utf8"));
  });

  test("every optional line of its programme.md can be uncommented", () => {
    const text = programmeText(ANSWERS).replace(/^# (?=[a-z]+: )(?!yaml)/gm, "");
    const files = [listedFile("programme.md"), listedFile("poster.svg")];
    const { programme, findings } = parseProgramme({
      programme: source("programme.md", text),
      names: [source("names/tamsin-hathersay.md", "---\nname: Tamsin Hathersay\nkind: person\n---\n")],
      textPages: [],
      files,
    });
    expect(findings.map(({ rule }) => rule)).toEqual(["poster-without-words"]);
    expect(programme).toMatchObject({ station: "Verrin Islands Broadcasting", presenters: ["Tamsin Hathersay"] });
  });

  test("may have any title that is one line", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", minLength: 1, maxLength: 40 }), (title) => {
        const judged = judgeStationAnswer("title", title);
        if (!judged.ok) return;
        const text = programmeText({ ...ANSWERS, title: judged.value });
        const read = parseProgramme({ programme: source("programme.md", text), names: [], textPages: [], files: [] });
        expect(read.programme?.title ?? read.findings.map(({ rule }) => rule)).toEqual(
          read.programme === null ? expect.arrayContaining([expect.stringMatching(/^text-/)]) : judged.value,
        );
      }),
    );
  });
});

describe("a folder that is not for it is refused, and nothing is written", () => {
  const listing = () => readdirSync(around, { recursive: true }).sort();
  test.each([
    ["has a file", () => [mkdirSync(folder), writeFileSync(join(folder, "notes.txt"), "x")], /notes\.txt/],
    [
      "has a programme",
      () => [mkdirSync(folder), writeFileSync(join(folder, "programme.md"), "x")],
      /programme already/,
    ],
    ["is a file", () => [writeFileSync(folder, "x")], /is no folder/],
    ["is a link", () => [mkdirSync(join(around, "far")), symlinkSync(join(around, "far"), folder)], /is no folder/],
    ["lies in another's content", () => [writeFileSync(join(around, "programme.md"), "x")], /of another programme/],
  ])("%s", async (_why, make, says) => {
    make();
    const was = listing();
    await expect(beginStation(folder, ANSWERS)).rejects.toThrow(says);
    await expect(beginStation(folder, ANSWERS)).rejects.toThrow(UsageError);
    expect(listing()).toEqual(was);
  });

  test("a link into another's content", async () => {
    mkdirSync(join(around, "other/names"), { recursive: true });
    writeFileSync(join(around, "other/programme.md"), "x");
    symlinkSync(join(around, "other/names"), join(around, "way"));
    const was = listing();
    await expect(beginStation(join(around, "way/content"), ANSWERS)).rejects.toThrow(/of another programme/);
    expect(listing()).toEqual(was);
  });

  test("the folder one stands in", () => {
    expect(() => requireForStation(".")).toThrow(/called in/);
  });

  test("an answer that can't stand", async () => {
    await expect(beginStation(folder, { ...ANSWERS, url: "tide.example.org" })).rejects.toThrow(/--url/);
    expect(listing()).toEqual([]);
  });
});

test("an empty folder is taken, and so is one below folders that are not there yet", async () => {
  mkdirSync(folder);
  await beginStation(folder, ANSWERS);
  expect(existsSync(join(folder, "programme.md"))).toBe(true);
  await beginStation(join(around, "a", "b"), ANSWERS);
  expect(readdirSync(join(around, "a"))).toEqual(["b"]);
});

test.each([
  ["timezone", "London", "Did you mean Europe/London?"],
  ["timezone", "europe/londn", "Did you mean Europe/London?"],
  ["timezone", "GMT+1", "IANA"],
  ["language", "english", "en"],
  ["language", "en_GB", "en-GB"],
  ["url", "https://tide.example.org", "https://tide.example.org/"],
  ["url", "tide.example.org/", "https://"],
  ["title", "two\nlines", "one line"],
] as const)("%s: %s is answered with the mend", (question, answer, mend) => {
  const judged = judgeStationAnswer(question, answer);
  expect(judged.ok ? "fine" : judged.says).toContain(mend);
});

describe("the command", () => {
  const run = async (options: Omit<BeginOptions, "folder">, ask: Ask | null = null) => {
    const lines: string[] = [];
    const system = { timezone: "Europe/Dublin", language: "en-IE" };
    await begin({ ...options, folder }, { out: (text) => lines.push(text), ask, system });
    return lines.join("\n");
  };
  const programme = () => readFileSync(join(folder, "programme.md"), "utf8");
  const { title, url } = ANSWERS;

  test("takes flags, and the machine's zone and language; says three next steps", async () => {
    const said = await run({ title, url });
    expect(programme()).toContain("timezone: Europe/Dublin\n");
    expect(programme()).toContain("language: en-IE\n");
    expect(said.split("\n").filter((line) => line.startsWith("    npx afterair"))).toHaveLength(3);
  });

  test("where nobody can be asked, says which flags are missing", async () => {
    await expect(run({ url })).rejects.toThrow("give --title");
    expect(existsSync(folder)).toBe(false);
  });

  /** Answers in turn, again where an answer is wrong, as a person at a terminal would. */
  function answering(given: readonly (string | null)[]): Ask & { readonly told: string[] } {
    const left = [...given];
    const told: string[] = [];
    return {
      told,
      async text(_question, { placeholder, wrong } = {}) {
        for (;;) {
          const answer = left.shift() ?? null;
          if (answer === "" && placeholder !== undefined) return placeholder;
          const says = answer === null ? null : (wrong?.(answer) ?? null);
          if (says === null) return answer;
          told.push(says);
        }
      },
      choose: async () => null,
      confirm: async () => null,
    };
  }

  test("asks for what no flag says, and again where an answer is wrong", async () => {
    const ask = answering(["London", "", "cy", "tide.example.org", url]);
    await run({ title }, ask);
    expect(ask.told).toHaveLength(2);
    expect(programme()).toMatch(
      /^title: The Evening Tide\ntimezone: Europe\/Dublin\nlanguage: cy\nurl: https:\/\/tide/m,
    );
  });

  test("writes nothing where whoever was asked went away", async () => {
    expect(await run({ title }, answering(["", null]))).toBe("Nothing was written.");
    expect(existsSync(folder)).toBe(false);
  });
});
