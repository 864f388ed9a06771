import { expect, test } from "vitest";
import { claimedTwice } from "../../src/model/output.ts";

const place = (file: string) => ({ file, line: 1, column: 1 });

test("two sources of one address are both named", () => {
  const findings = claimedTwice([
    { path: "search/index.html", from: null },
    { path: "contact/index.html", from: place("pages/contact.md") },
    { path: "search/index.html", from: place("pages/search.md") },
    { path: "contact/index.html", from: place("pages/contact-2.md") },
  ]);
  expect(findings.map(({ at, see }) => [at.file, see?.map(({ file }) => file)])).toEqual([
    ["pages/search.md", undefined],
    ["pages/contact-2.md", ["pages/contact.md"]],
  ]);
});

test("a page that every site has is not blamed when it comes second", () => {
  const [finding] = claimedTwice([
    { path: "a/index.html", from: place("pages/a.md") },
    { path: "a/index.html", from: null },
  ]);
  expect(finding?.at.file).toBe("pages/a.md");
});
