import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { checksumList, listOfFolders, parseChecksums } from "../../src/model/checksums.ts";
import { canonicalJson } from "../../src/record/canonical.ts";
import { digestOf } from "../../src/record/digest.ts";

describe("SHA-256: the examples of FIPS 180-4 (NIST, Secure Hash Standard; messages of 24, 448 and 8,000,000 bits)", () => {
  test.each([
    ["empty", "", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"],
    ["abc", "abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
    [
      "448 bits",
      "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
      "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ],
    ["one million a", "a".repeat(1_000_000), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"],
    ["one line feed", "\n", "01ba4719c80b6fe911b091a7c05124b64eeece964e09c058ef8f9805daca546b"],
  ])("%s", (_what, text, digest) => expect(digestOf(text)).toBe(digest));
});

describe("canonical JSON (RFC 8785)", () => {
  test("the example of its section 3.2.2 and 3.2.3", () => {
    const given = String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`;
    expect(canonicalJson(JSON.parse(given))).toBe(
      String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
  });
  test("the order of members of its section 3.2.3: UTF-16 code units", () => {
    const given = String.raw`{"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One","\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"}`;
    expect(Object.values(JSON.parse(canonicalJson(JSON.parse(given))) as object)).toEqual([
      "One",
      "Carriage Return",
      "Control",
      "Latin Small Letter O With Diaeresis",
      "Euro Sign",
      "Emoji: Grinning Face",
      "Hebrew Letter Dalet With Dagesh",
    ]);
  });
  test.each([
    [{ b: 2, a: 1, A: 0, 10: 4, 9: 3 }, '{"10":4,"9":3,"A":0,"a":1,"b":2}'],
    [[1.0, -0, 1e21, 1e-7, 0.000001, 1e2], "[1,0,1e+21,1e-7,0.000001,100]"],
    [
      { t: "2026-10-05T18:30:00+01:00", in: 41, by: ["Ilse Marrane"] },
      '{"by":["Ilse Marrane"],"in":41,"t":"2026-10-05T18:30:00+01:00"}',
    ],
  ])("%j", (value, text) => expect(canonicalJson(value)).toBe(text));
  test.each([
    ["NaN", Number.NaN],
    ["Infinity", Number.POSITIVE_INFINITY],
    ["a lone surrogate", "\ud800"],
    ["nothing", undefined],
  ])("%s is refused", (_what, value) => expect(() => canonicalJson(value)).toThrow());
});

describe("a checksum list, checked by coreutils' own sha256sum", () => {
  const root = mkdtempSync(join(tmpdir(), "afterair-sums-"));
  afterAll(() => rmSync(root, { recursive: true }));
  const texts: Readonly<Record<string, string>> = {
    "2026-10-05/index.html": "<p>one</p>",
    "2026-10-05/transcript.vtt": "WEBVTT\n",
    "a name with spaces.txt": "two",
    "*star.txt": "three",
    "back\\slash.txt": "four",
    "line\nbreak.txt": "five",
    "return\rcarriage.txt": "six",
    "Zürich/ø.txt": "seven",
    empty: "",
  };
  for (const [path, text] of Object.entries(texts)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text);
  }
  const list = checksumList(Object.entries(texts).map(([path, text]) => ({ path, digest: digestOf(text) })));
  const check = () => {
    writeFileSync(join(root, "checksums.txt"), list);
    return spawnSync("sha256sum", ["--strict", "-c", "checksums.txt"], { cwd: root, encoding: "utf8" });
  };

  test("every file is OK, and every line is well formed", () => {
    const { stdout, stderr, status } = check();
    expect({ oks: stdout.match(/: OK$/gm)?.length, stderr, status }).toEqual({
      oks: Object.keys(texts).length,
      stderr: "",
      status: 0,
    });
  });
  test("a changed byte fails", () => {
    writeFileSync(join(root, "empty"), "x");
    expect(check()).toMatchObject({ status: 1, stdout: expect.stringContaining("\nempty: FAILED\n") });
    writeFileSync(join(root, "empty"), "");
  });
  test("of several folders is laid together from theirs", () => {
    const digest = digestOf("");
    const lists = {
      "2026-10-05/": ["2026-10-05/index.html", "2026-10-05/a/index.html"],
      "2026-10-05-late/": ["2026-10-05-late/index.html"],
      "ø/": ["ø/index.html"],
      "😀/": ["😀/index.html"],
      "\uFB33/": ["\uFB33/index.html"],
    };
    const listOf = (paths: readonly string[]) => checksumList(paths.map((path) => ({ path, digest })));
    const apart = new Map(Object.entries(lists).map(([folder, paths]) => [folder, listOf(paths)]));
    expect(listOfFolders(apart)).toBe(listOf(Object.values(lists).flat()));
  });
  test("is what sha256sum itself prints, in the order of the paths' bytes", () => {
    const paths = Object.keys(texts).toSorted((a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b)));
    expect(list).toBe(execFileSync("sha256sum", ["--", ...paths], { cwd: root, encoding: "utf8" }));
  });
  test("is read back as it was", () => {
    expect(Object.fromEntries(parseChecksums(list))).toEqual(
      Object.fromEntries(Object.entries(texts).map(([path, text]) => [path, digestOf(text)])),
    );
  });
  test.each(["../a", "/a", "a/../b", ""])("never lists %j", (path) => {
    expect(() => checksumList([{ path, digest: digestOf("") }])).toThrow();
  });
});
