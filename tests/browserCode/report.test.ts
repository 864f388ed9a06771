import { describe, expect, test } from "vitest";
import { reportAddress } from "../../src/browser/report.ts";

const moment = {
  seconds: 221,
  clock: "3:41",
  words: "eleven sailings & “more” + 100%",
  page: "https://tide.example.org/2026-10-05/#t=221",
  episode: "2026-10-05",
  segment: "ferry-timetable",
};

describe("the address to report an error at", () => {
  test("a mail gets the moment in its subject, words and address in its body, and no plus for a space", () => {
    const address = reportAddress("mailto:corrections@tide.example.org?subject=5%20October%202026", moment);
    expect(address).not.toContain("+");
    const [to, query = ""] = address.split("?");
    const fields = new URLSearchParams(query);
    expect(to).toBe("mailto:corrections@tide.example.org");
    expect(fields.get("subject")).toBe("5 October 2026 at 3:41");
    expect(fields.get("body")).toContain(moment.words);
    expect(fields.get("body")).toContain(moment.page);
  });
  test("other fields of a mail stay", () => {
    expect(reportAddress("mailto:a@example.org?cc=b@example.org", moment)).toContain("cc=b@example.org");
  });
  test("a form gets them in its query, and keeps its own", () => {
    const form = new URL(reportAddress("https://forms.example.org/report?from=site", moment));
    expect(Object.fromEntries(form.searchParams)).toEqual({
      from: "site",
      episode: "2026-10-05",
      segment: "ferry-timetable",
      t: "221",
      words: moment.words,
    });
  });
  test("what is not known is left out", () => {
    const form = new URL(reportAddress("https://forms.example.org/", { ...moment, words: "", segment: null }));
    expect([...form.searchParams.keys()]).toEqual(["episode", "t"]);
  });
  test("any other address is left alone", () => {
    expect(reportAddress("/contact/", moment)).toBe("/contact/");
    expect(reportAddress("javascript:alert(1)", moment)).toBe("javascript:alert(1)");
  });
});
