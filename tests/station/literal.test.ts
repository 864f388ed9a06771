import { cp, mkdir, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { blocks } from "../../src/model/finding.ts";
import { newFolder, readTree, removeFolder } from "../support/site.ts";
import { buildWith, copyStation, edit, SMALL } from "../support/station.ts";

/** What would be run if anything took it for a template or for markup: as a template it says 49, or fails. */
const HOSTILE = "{{ 7 * 7 }} {% nosuch %} {{ nosuch.field.x }} <script>alert(7)</script>";
const AS_HTML = "{{ 7 * 7 }} {% nosuch %} {{ nosuch.field.x }} &lt;script>alert(7)&lt;/script>";

let top = "";
let site: ReadonlyMap<string, Buffer>;
beforeAll(async () => {
  top = await newFolder();
  const content = join(top, "content");
  await cp(join(SMALL, "content"), content, { recursive: true });
  const episode = join(content, "episodes/2026/2026-10-05");
  // It is a draft: what is published must say what its record says.
  for (const name of ["record.jsonl", "corrections"]) await rm(join(episode, name), { recursive: true });
  await edit(join(episode, "episode.md"), "title: Fewer ferries", `title: 'Fewer ferries ${HOSTILE}'`);
  await edit(
    join(episode, "episode.md"),
    "summary: The timetable, and a light.",
    `summary: 'The timetable ${HOSTILE}'`,
  );
  await edit(join(episode, "episode.md"), "title: Nine sailings a week", `title: 'Nine sailings ${HOSTILE}'`);
  await edit(join(episode, "episode.md"), "summary: What is left.", `summary: 'What is left ${HOSTILE}'`);
  await edit(join(episode, "episode.md"), "With thanks to the harbour.", `With thanks ${HOSTILE}`);
  await edit(join(episode, "transcript.vtt"), /Osric Tarrick/, "Osric {{ 7 * 7 }} {% nosuch %} Tarrick");
  await mkdir(join(content, "pages"));
  await writeFile(join(content, "pages/contact.md"), `---\ntitle: 'Contact ${HOSTILE}'\n---\nWrite to us ${HOSTILE}\n`);
  const own = await copyStation(top);
  await edit(join(own, "topics.11ty.tsx"), "<div>", "<div><p>{collections.episodes.map(({ title }) => title)}</p>");
  await edit(join(own, "topics.11ty.tsx"), '"topics"', '"episodes" | "topics"');
  const out = join(top, "site");
  const { built } = await buildWith({ content, out, own, drafts: true });
  expect(built.findings.filter(blocks)).toEqual([]);
  site = await readTree(out);
}, 60_000);
afterAll(() => removeFolder(top));

/** However a serialiser writes `>`, quotes and apostrophes. */
const page = (path: string): string => (site.get(path)?.toString() ?? "").replaceAll("&gt;", ">");

describe("what looks like a template or like markup in the content is text", () => {
  test.each([
    ["an episode's page", "2026-10-05/index.html", ["Fewer ferries", "The timetable", "Nine sailings", "With thanks"]],
    ["a segment's page, in Liquid", "2026-10-05/ferry-timetable/index.html", ["Nine sailings", "What is left"]],
    ["the home page", "index.html", ["Fewer ferries", "The timetable"]],
    ["the year's page", "2026/index.html", ["Fewer ferries"]],
    ["a text page", "contact/index.html", ["Contact", "Write to us"]],
    [
      "a page of the station's with pagination, in Nunjucks",
      "evenings/2026-10-05/index.html",
      ["Fewer ferries", "Nine sailings"],
    ],
    ["a page of the station's with all lists, in Nunjucks", "everything/index.html", ["Fewer ferries", "What is left"]],
    ["a page of the station's in Markdown", "newest/index.html", ["Fewer ferries"]],
    ["a page of the station's in TypeScript", "topics-and-places/index.html", ["Fewer ferries"]],
    ["a feed of the station's", "evenings.xml", ["Fewer ferries", "The timetable"]],
  ])("on %s", (_what, path, texts) => {
    for (const text of texts) expect(page(path)).toContain(`${text} ${AS_HTML}`);
  });

  test("in the words of a transcript", () => {
    expect(page("2026-10-05/index.html")).toContain("{{ 7 * 7 }} {% nosuch %}");
    expect(page("2026-10-05/headlines/index.html")).toContain("{{ 7 * 7 }} {% nosuch %}");
  });

  test("and on no page is it run", () => {
    for (const [path, bytes] of site) {
      if (!/\.(?:html|xml)$/.test(path)) continue;
      const markup = bytes.toString().replace(/<script type="application\/ld\+json">[^<]*<\/script>/g, "");
      expect(markup, path).not.toMatch(/<script>|\b49\b/);
    }
  });

  test("a file that is copied is not read", () => {
    expect(page("files/note.txt")).toContain("{{ title }} {% title %}");
  });
});
