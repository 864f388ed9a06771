/** The evening that the faults are tried on. */
export const ID = "2026-10-05";
/** What loops gets so long: enough for the slowest of all pages that don't. Milliseconds. */
export const HANGS_MS = 8000;

/** Files, by path; "config": a line of the configuration. */
export type Files = Readonly<Record<string, string>>;

const page = (body: string, front = "title: A page"): string => `---\n${front}\n---\n${body}\n`;
const frame = (block: string): string => `{% extends "afterair.njk" %}\n${block}\n`;
const OUT_OF_ORDER = 'config.addFilter("broken", () => { throw new Error("Out of order."); });';
const ENDLESS = 'config.addFilter("broken", () => { for (;;) {} });';
const [CLAIM, ELSEWHERE] = [/which belongs to a page that every site has/, /^Give it another address/];
const [LONG, LOOP] = [/^This took longer than 8 seconds\.$/, /^Look for a loop that does not end/];

/** What it is, what of the folder is other, where the fault is, what is said of it, and how it is mended. */
export type Fault = readonly [what: string, files: Files, place: string, says: RegExp, mend: RegExp];

export const THROWN: readonly Fault[] = [
  [
    "a page in TypeScript that throws",
    { "bad.11ty.tsx": 'export default () => {\n  throw new Error("No words today.");\n};\n' },
    "bad.11ty.tsx:2:9",
    /^No words today\.$/,
    /^Correct the file/,
  ],
  [
    "a filter that throws, used on a page",
    { config: OUT_OF_ORDER, "bad.njk": page("\n{{ 1 | broken }}") },
    "eleventy.config.mjs:7:44",
    /^Out of order\.$/,
    /^Correct the file/,
  ],
  [
    "a filter that throws, used in the frame",
    { config: OUT_OF_ORDER, "_includes/frame.njk": frame("{% block masthead %}{{ 1 | broken }}{% endblock %}") },
    "eleventy.config.mjs:7:44",
    /^Out of order\.$/,
    /^Correct the file/,
  ],
  [
    "a plugin that throws when nobody waits for it",
    { config: 'setTimeout(() => { throw new Error("Too late."); }, 0);' },
    "eleventy.config.mjs:7:28",
    /^Too late\.$/,
    /^Correct the file/,
  ],
  [
    "a page that ends the process",
    { "bad.11ty.tsx": "export default () => { process.exit(0); };\n" },
    "bad.11ty.tsx:1:1",
    /^This ended the process/,
    /^Take what ends it out of it/,
  ],
  [
    "an include that is not there",
    { "_includes/frame.njk": frame('{% block masthead %}\n{% include "no.njk" %}{% endblock %}') },
    "_includes/frame.njk:3:13",
    /^template not found: no\.njk\.$/,
    /^Put the file into `_includes`/,
  ],
];

export const ENDLESS_ONES: readonly Fault[] = [
  ["a page", { "bad.11ty.tsx": "export default () => { for (;;) {} };\n" }, "bad.11ty.tsx:1:1", LONG, LOOP],
  ["a page of text", { config: ENDLESS, "bad.njk": page("{{ 1 | broken }}") }, "bad.njk:1:1", LONG, LOOP],
  [
    "the frame",
    { config: ENDLESS, "_includes/frame.njk": frame("{% block masthead %}{{ 1 | broken }}{% endblock %}") },
    "_includes/frame.njk:1:1",
    LONG,
    LOOP,
  ],
  ["the configuration", { config: "for (;;) {}" }, "eleventy.config.mjs:1:1", LONG, LOOP],
];

const claim = (permalink: string): Files => ({ "bad.njk": page("a", `permalink: ${permalink}`) });
export const CLAIMS: readonly Fault[] = [
  ["an episode's", claim(`/${ID}/`), "bad.njk:1:1", CLAIM, ELSEWHERE],
  ["that of a file of an episode's", claim(`/${ID}/transcript.vtt`), "bad.njk:1:1", CLAIM, ELSEWHERE],
  ["a year's", claim("/2026/"), "bad.njk:1:1", CLAIM, ELSEWHERE],
  ["the search's", claim("/search/"), "bad.njk:1:1", CLAIM, ELSEWHERE],
  ["that of the corrections", claim("/corrections/"), "bad.njk:1:1", CLAIM, ELSEWHERE],
  ["a text page's", claim("/contact/"), "bad.njk:1:1", CLAIM, ELSEWHERE],
  ["the home page's", claim("/"), "bad.njk:1:1", CLAIM, ELSEWHERE],
  ["that of what is not there", claim("/404.html"), "bad.njk:1:1", CLAIM, ELSEWHERE],
  [
    "the home page's, by a copied file",
    { config: 'config.addPassthroughCopy({ "files/note.txt": "index.html" });' },
    "eleventy.config.mjs:1:1",
    CLAIM,
    ELSEWHERE,
  ],
  [
    "an episode's, by a copied file",
    { config: `config.addPassthroughCopy({ "files/note.txt": "${ID}/note.txt" });` },
    "eleventy.config.mjs:1:1",
    CLAIM,
    ELSEWHERE,
  ],
];

export const ADDRESSES: readonly Fault[] = [
  ["outside the site", claim("../../x/"), "bad.njk:1:1", /would be written outside the site/, /^Take `\.\.` out/],
  [
    "outside the site, by a copied file",
    { config: 'config.addPassthroughCopy({ "files/note.txt": "../../x/note.txt" });' },
    "files/note.txt:1:1",
    /^Destination is not in the site/,
    /addPassthroughCopy/,
  ],
  [
    "one for two pages",
    { "a.njk": page("a", "permalink: /x/"), "b.njk": page("b", "permalink: /x/") },
    "b.njk:1:1",
    /^Two templates have the same permalink: \.\/b\.njk and \.\/a\.njk\.$/,
    /^Give one of them another/,
  ],
];

const ITEM = /^An episode has no `titel`\.$/;
const EPISODE = /^`episode` has no `titel`\.$/;
const TITLE = /^Did you mean `title`\?$/;
const NOT_IN_FRAME = /^A template around pages can't have `(?:collections|archive)`/;
export const NAMES: readonly Fault[] = [
  ["a field, in Nunjucks", { "bad.njk": page("\n{{ collections.episodes[0].titel }}") }, "bad.njk:5:28", ITEM, TITLE],
  [
    "a field, in Liquid",
    { "bad.liquid": page("\n{{ collections.episodes[0].titel }}") },
    "bad.liquid:5:28",
    ITEM,
    TITLE,
  ],
  [
    "a field, in TypeScript",
    { "bad.11ty.jsx": "export default ({ collections }) => (\n  <p>{collections.episodes[0].titel}</p>\n);\n" },
    "bad.11ty.jsx:2:31",
    ITEM,
    TITLE,
  ],
  [
    "a field, around episodes",
    { "_includes/episode.njk": "<p>{{ episode.titel }}</p>{{ content | safe }}\n" },
    "_includes/episode.njk:1:15",
    EPISODE,
    TITLE,
  ],
  [
    "a field, around segments",
    { "_includes/segment.liquid": "<p>{{ segment.titel }}</p>{{ content }}\n" },
    "_includes/segment.liquid:1:15",
    /^`segment` has no `titel`\.$/,
    TITLE,
  ],
  [
    "a field of the programme",
    { "bad.njk": page("{{ programme.titel }}") },
    "bad.njk:4:14",
    /`programme` has no `titel`/,
    TITLE,
  ],
  [
    "a list",
    { "bad.njk": page("{% for e in collections.episods %}{{ e }}{% endfor %}") },
    "bad.njk:4:25",
    /^`collections` has no `episods`\.$/,
    /^Did you mean `episodes`\?$/,
  ],
  [
    "a filter, in Nunjucks",
    { "bad.njk": page("{{ 1 | nosuch }}") },
    "bad.njk:4:8",
    /filter not found: nosuch/,
    /^Add the filter/,
  ],
  [
    "a filter, in Liquid",
    { "bad.liquid": page("{{ 1 | nosuch }}") },
    "bad.liquid:4:8",
    /undefined filter: nosuch/,
    /^Add the filter/,
  ],
  [
    "a part",
    { "_includes/segment.liquid": '<p>\n{% afterair "plaer" %}</p>{{ content }}\n' },
    "_includes/segment.liquid:2:14",
    /^A page of the kind `segment` has no part `plaer`\.$/,
    /^Did you mean `player`\?$/,
  ],
  [
    "a part, on a page of its own",
    { "bad.njk": page('{% afterair "player" %}') },
    "bad.njk:1:1",
    /^There are no parts of ours on this page/,
    /^Use `afterair` in _includes\/frame/,
  ],
  [
    "a list, in the frame",
    { "_includes/frame.njk": frame("{% block masthead %}{{ collections.episodes[0].title }}{% endblock %}") },
    "_includes/frame.njk:1:3",
    NOT_IN_FRAME,
    /^Ask for it on a page of your own/,
  ],
  [
    "a list, in Liquid around segments",
    { "_includes/segment.liquid": "{{ collections.episodes[0].title }}{{ content }}\n" },
    "_includes/segment.liquid:1:4",
    NOT_IN_FRAME,
    /^Ask for it on a page of your own/,
  ],
  [
    "a plugin",
    { "eleventy.config.mjs": 'import plugin from "no-such-plugin";\nexport default plugin;\n' },
    "eleventy.config.mjs:1:20",
    /^Could not resolve "no-such-plugin"\.$/,
    /^Install it where the folder is/,
  ],
];

const episode = (...parts: readonly string[]): Files => ({
  "_includes/episode.njk": `${parts.map((part) => `{% afterair "${part}" %}`).join("")}\n`,
});
const AROUND = "_includes/episode.njk:1:1";
export const LOST: readonly Fault[] = [
  ["the player", episode("heading", "corrections", "words"), AROUND, /without the player/, /\{% afterair "player" %\}/],
  [
    "its corrections",
    episode("heading", "player", "words"),
    AROUND,
    /without its corrections/,
    /\{% afterair "corrections" %\}/,
  ],
  ["the words", episode("heading", "player", "corrections"), AROUND, /without the words/, /\{% afterair "words" %\}/],
  [
    "the policy",
    {
      "_includes/frame.njk":
        '<!DOCTYPE html>{% afterair "root" %}<head><title>x</title></head><body>{{ content | safe }}</body></html>\n',
    },
    "_includes/frame.njk:1:1",
    /without the policy/,
    /\{% afterair "head" %\}/,
  ],
  [
    "the captions, by a plugin",
    { config: 'config.addTransform("less", (html) => html.replace(/<track[^>]*>/g, ""));' },
    "_includes/frame.njk:1:1",
    /without the player, with what it steps over and the captions/,
    /let no filter take it away/,
  ],
  [
    "the notes of corrections, by a plugin",
    { config: 'config.addTransform("less", (html) => html.replace(/ id="note-1"/g, ""));' },
    "_includes/frame.njk:1:1",
    /without the words with their addresses and the notes of corrections/,
    /let no filter take it away/,
  ],
];

export const BROKEN: readonly Fault[] = [
  [
    "a configuration that calls what is not there",
    { config: "config.nope();" },
    "eleventy.config.mjs:7:10",
    /^config\.nope is not a function\.$/,
    /^Correct the file/,
  ],
  [
    "a configuration that is no program",
    { config: "config.(" },
    "eleventy.config.mjs:7:10",
    /^Expected identifier/,
    /^Correct the file/,
  ],
  [
    "data that ends too early",
    { "_data/x.json": '{\n "a": \n' },
    "_data/x.json:2:6",
    /^Unexpected end of JSON input\.$/,
    /^Correct the file/,
  ],
  [
    "data without a comma",
    { "_data/x.json": '{\n "a": 1 "b": 2\n}\n' },
    "_data/x.json:2:9",
    /^Expected ','/,
    /^Correct the file/,
  ],
  [
    "data that is no JSON",
    { "_data/x.json": '{\n "a": nix\n}\n' },
    "_data/x.json:1:1",
    /^Unexpected token .* is not valid JSON\.$/,
    /^Correct the file/,
  ],
  [
    "a tag that nobody closes, in Liquid",
    { "bad.liquid": page("\n{% if x %}") },
    "bad.liquid:5:1",
    /not closed/,
    /^Correct the file/,
  ],
  [
    "a tag that nobody closes, in Nunjucks",
    { "bad.njk": page("{% if x %}") },
    "bad.njk:1:1",
    /expected elif, else, or endif/,
    /^Correct the file/,
  ],
  [
    "an element that nobody closes",
    { "bad.11ty.tsx": "export default () => <p>" },
    "bad.11ty.tsx:1:25",
    /closing "p" tag/,
    /^Correct the file/,
  ],
  [
    "front matter that is none",
    { "bad.njk": page("a", "title: [") },
    "bad.njk:1:1",
    /unexpected end of the stream/,
    /^Correct the file/,
  ],
  [
    "two frames",
    { "_includes/frame.liquid": "{{ content }}" },
    "_includes/frame.njk:1:1",
    /^There are two of this name/,
    /^Keep one/,
  ],
  [
    "two configurations",
    { "eleventy.config.js": "export default () => {};" },
    "eleventy.config.js:1:1",
    /^There are two of this name/,
    /^Keep one/,
  ],
  [
    "front matter in the frame",
    { "_includes/frame.njk": `---\na: 1\n---\n${frame("")}` },
    "_includes/frame.njk:1:1",
    /begins with front matter/,
    /_data/,
  ],
  [
    "a date that is another in every copy",
    { "bad.njk": page("a", "date: git Last Modified") },
    "bad.njk:1:1",
    /another date in every copy/,
    /2026-10-05/,
  ],
];
