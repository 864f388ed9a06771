import { describe, expect, test } from "vitest";
import type { CorrectionKind } from "../../src/model/correctionKinds.ts";
import type { Entry } from "../../src/pages/types.ts";
import { orderSheet } from "../../templates/pages/order-sheet.ts";
import { item, ORDER } from "./episode.ts";
import { CORRECTION, CORRECTIONS, entry, HOME, MISSING, SEARCH, TEXT_PAGE, YEAR } from "./pages.ts";
import { SET } from "./setting.ts";
import { SITE } from "./site.ts";

describe("front page", () => {
  test("leads to the latest edition and to all corrections", () => {
    const html = SET.home(HOME);
    expect(html).toContain(`<a href="${HOME.latest?.href}">${HOME.latest?.title}</a>`);
    expect(html).toContain('<a href="/corrections/">All 212 corrections</a>');
  });

  test("loads the rows' heights of the latest edition alone", () => {
    expect(SET.home(HOME)).toContain('<link rel="stylesheet" href="/2026-10-05/order.css"/>');
    expect(SET.home({ ...HOME, latest: null })).not.toContain("order.css");
  });

  test("says so where nothing has been published", () => {
    expect(SET.home({ ...HOME, latest: null })).toContain("Nothing has been published yet.");
  });

  test("a corrected edition leads to its corrections, another has no flag", () => {
    const html = SET.home(HOME);
    expect(html).toMatch(/<a class="flag" href="\/2026-10-02\/">.*?1 correction<\/a>/);
    expect(html).not.toContain('<a class="flag" href="/2026-10-01/">');
  });
});

describe("log of corrections", () => {
  test("a way to each kind and year that has any, and an entry for each kind", () => {
    const html = SET.corrections(CORRECTIONS);
    for (const { kind, href, count } of [...CORRECTIONS.kinds, ...CORRECTIONS.years]) {
      if (count !== 0) expect(html).toContain(`<a class="way" href="${href}"`);
      else expect(html).not.toContain(`href="${href}"`);
      if (kind !== null) expect(html).toMatch(new RegExp(`<article class="entry"[^>]*data-kind="${kind}"`));
    }
    expect(html).toContain('<a class="way" href="/corrections/" aria-current="page">');
  });

  test("a page that leaves out older ones says so", () => {
    expect(SET.corrections(CORRECTIONS)).toContain("These are the newest 100");
    expect(SET.corrections({ ...CORRECTIONS, newest: null })).not.toContain("These are the newest");
  });

  const logOf = (kind: CorrectionKind, number: number) =>
    SET.corrections({ ...CORRECTIONS, months: [{ id: "2026-10", title: "October", entries: [entry(kind, number)] }] });

  test("replaced words are read out as such", () => {
    expect(logOf("transcript", 3)).toContain(
      '<p>At <del><span class="vh">corrected from </span>fourteen tonnes</del> <ins class="mark" data-kind="transcript"><span class="vh">to </span>forty tonnes</ins> that jib is heavy.</p>',
    );
  });

  test("words that stand are only marked", () => {
    expect(logOf("on-air", 3)).toContain(
      '<p>At <span class="mark" data-kind="on-air">forty tonnes</span> that jib is heavy.</p>',
    );
  });

  test("withdrawn words are gone, the note stays", () => {
    const html = logOf("withdrawal", 3);
    expect(html).toContain("The words are withdrawn.");
    expect(html).toContain("What the public reads.");
    expect(html).not.toContain("forty tonnes");
  });

  test("says which correction took the place of which", () => {
    expect(logOf("update", 1)).toContain('Takes the place of <a href="/corrections/2026-10-05-1/">2026-10-05-1</a>.');
    expect(logOf("update", 2)).toContain(
      'Its place was taken by <a href="/corrections/2026-10-07-1/">2026-10-07-1</a>.',
    );
  });
});

describe("a correction's page is a statement", () => {
  const stated = (kind: CorrectionKind, number = 3, more: Partial<Entry> = {}) =>
    SET.correction({ ...CORRECTION, entry: { ...entry(kind, number), ...more } });
  const rowsOf = (html: string) => [...html.matchAll(/<dt>(.*?)<\/dt>/g)].map(([, name]) => name);

  test.each([
    ["on-air", ["As broadcast", "On-air error", "Made", "Its place", "In the record"]],
    ["transcript", ["Written before", "As broadcast", "Transcript error", "Made", "Its place", "In the record"]],
    ["page", ["On the page before", "On the page now", "Page error", "Made", "Its place", "In the record"]],
    ["clarification", ["As broadcast", "Clarification", "Made", "Its place", "In the record"]],
    ["update", ["As broadcast", "Update", "Made", "Its place", "In the record"]],
    ["withdrawal", ["Taken away", "Withdrawal", "Made", "In the record"]],
  ] as const)("%s: what was said, what is right, when, by whom, where, and its entry", (kind, rows) => {
    const html = stated(kind);
    expect(rowsOf(html)).toEqual(rows);
    expect(html).toContain("signed: Standards editor");
    expect(html).toContain("ab".repeat(32));
    expect(html).toContain("What the public reads.");
  });

  test("is about something, and leads to where it is heard", () => {
    const html = stated("on-air");
    expect(html).toContain("<h1>On-air error: Nine sailings, 5 October 2026</h1>");
    expect(html).toContain('<a href="/2026-10-05/ferry-timetable/#t=221.5">What on-air is about, at 3:41</a>');
  });

  test.each([
    ["a withdrawal", "withdrawal"],
    ["what was withdrawn since", "on-air"],
  ] as const)("of %s it gives no words, and leads to none", (_why, kind) => {
    const { statement } = entry(kind, 3);
    const html = stated(kind, 3, { words: null, statement: { ...statement, isGone: true, places: [] } });
    expect(html).not.toContain("tonnes");
    expect(html).not.toMatch(/href="\/2026-10-05\/[^"]*(?:#|ferry)/);
  });

  test("says which correction took the place of which", () => {
    expect(stated("update", 1)).toContain(
      'It takes the place of <a href="/corrections/2026-10-05-1/">2026-10-05-1</a>.',
    );
    expect(stated("update", 2)).toContain(
      'Its place was taken by <a href="/corrections/2026-10-07-1/">2026-10-07-1</a>.',
    );
  });
});

describe("year", () => {
  const html = SET.year(YEAR);

  test("two editions of one day are told apart", () => {
    expect(html).toContain('5<span class="vh"> October: The edition of 2026-10-05, and a bell found in a barn</span>');
    expect(html).toContain(
      '5<span class="vh"> October: The edition of 2026-10-05-late, and a bell found in a barn</span>',
    );
    expect(html).toContain('29<span class="vh"> October</span>');
  });

  test("the newest day stands out, the days after it are to come", () => {
    expect(html).toContain('<td class="newest"><a href="/2026-10-05/"');
    expect(html).toContain('<td class="ahead"><span class="d">6</span>');
  });

  test("in an earlier year the days after the last edition had none", () => {
    const later = { year: "2027", href: "/2027/", count: 1, current: false };
    expect(SET.year({ ...YEAR, years: [later, ...YEAR.years] })).toContain('<td class="off"><span class="d">6</span>');
  });

  test("a month's name heads all its weeks", () => {
    expect(html).toContain('<th scope="rowgroup" rowspan="2"><span class="m-long">October</span>');
  });
});

describe("search", () => {
  const html = SET.search(SEARCH);

  test("has what the script fills, and nothing in it", () => {
    expect(html).toContain('<form action="/search/" method="get" id="finder">');
    expect(html).toContain('<p class="found" role="status"></p>');
    expect(html).toMatch(
      /<section class="results" [^>]*data-index="\/search\/index\/" data-tiers="2026-10" data-suggest="\/assets\/suggest\.js">.*?<ol><\/ol>/,
    );
    expect(html).toContain('<button type="button" data-more hidden>');
  });

  test.each(["year", "kind", "corrected", "speaker", "topic"])("the form can ask for %s", (name) => {
    expect(html).toMatch(new RegExp(`<(?:input type="checkbox"|select)[^>]* name="${name}"[^>]* form="finder"`));
  });

  test("without script it leads to the archive", () => {
    expect(html).toMatch(/<noscript>.*?<a href="\/2026\/">in the archive, by year<\/a>.*?<\/noscript>/);
  });
});

describe("frame", () => {
  test.each([
    ["Latest", SET.home(HOME), SITE.home],
    ["Archive", SET.year(YEAR), SITE.archive],
    ["Corrections", SET.corrections(CORRECTIONS), SITE.corrections],
    ["Search", SET.search(SEARCH), SITE.search],
    ["How we correct", SET.text(TEXT_PAGE), "/how-we-correct/"],
  ])("%s says where we are", (title, html, href) => {
    expect(html).toContain(`<a href="${href}" aria-current="page">${title}</a>`);
    expect(html.split('aria-current="page"')).toHaveLength({ [SITE.archive]: 3, [SITE.corrections]: 4 }[href] ?? 2);
  });

  test("a page's title names the programme, once", () => {
    expect(SET.search(SEARCH)).toContain("<title>Search: The Evening Tide</title>");
    expect(SET.home({ ...HOME, title: SITE.programme })).toContain("<title>The Evening Tide</title>");
  });

  test("a missing page is kept out of search engines", () => {
    expect(SET.missing(MISSING)).toContain('<meta name="robots" content="noindex"/>');
    expect(SET.missing(MISSING)).not.toContain("canonical");
    expect(SET.search(SEARCH)).toContain('<link rel="canonical" href="https://tide.example.org/search/"/>');
  });

  test.each([
    ["en-GB", "ltr"],
    ["cy", "ltr"],
    ["ar-EG", "rtl"],
    ["HE", "rtl"],
  ])("%s runs %s", (language, dir) => {
    const page = { ...TEXT_PAGE, site: { ...SITE, language } };
    expect(SET.text(page)).toMatch(new RegExp(`^<!DOCTYPE html><html lang="${language}" dir="${dir}">`));
  });
});

test("the order sheet gives each row its length and the way to the next whole minute", () => {
  expect(
    orderSheet({
      order: {
        ...ORDER,
        items: [
          item("first", { in: 0, seconds: 70 }),
          item("on the minute", { in: 120, seconds: 60.0004 }),
          item("between", { in: 445.25, seconds: 12.5 }),
          item("not in the recording", { in: 905, seconds: 0 }),
        ],
      },
    }),
  ).toBe(`@layer parts {
  .order-item:nth-child(1) { --dur: 70; --phase: 0; }
  .order-item:nth-child(2) { --dur: 60; --phase: 0; }
  .order-item:nth-child(3) { --dur: 12.5; --phase: 34.75; }
  .order-item:nth-child(4) { --dur: 0; --phase: 55; }
}
`);
});
