import { HtmlValidate } from "html-validate";
import { describe, expect, test } from "vitest";
import { ALL, changed } from "./setting.ts";
import { HOSTILE } from "./site.ts";

const validator = new HtmlValidate({
  extends: ["html-validate:recommended", "html-validate:document"],
  rules: {
    // the serialiser closes void elements with a slash, which HTML allows
    "void-style": "off",
    // a headline may be longer than a search engine shows
    "long-title": "off",
    // `t=221`: the fragment that media players know is the paragraph's id
    "valid-id": ["error", { relaxed: true }],
    // everything but the recording comes from the site's own host, where a digest adds nothing
    "require-sri": ["error", { target: "crossorigin" }],
    // several boxes of one name are several values of it
    "form-dup-name": ["error", { shared: ["radio", "checkbox"] }],
  },
});

test.each(ALL)("%s is valid HTML", async (_name, html) => {
  const report = await validator.validateString(html);
  const faults = report.results.flatMap(({ messages }) =>
    messages.map(({ ruleId, message, selector }) => `${ruleId}: ${message} (${selector})`),
  );
  expect(faults).toEqual([]);
});

describe.each(ALL)("%s keeps to the site's policy", (_name, html) => {
  test("no style attribute", () => {
    expect(html).not.toMatch(/\sstyle=/);
  });

  test("no script but modules of the site and data", () => {
    const scripts = [...html.matchAll(/<script\b([^>]*)>([^<]*)/g)];
    for (const [, attributes = "", content] of scripts) {
      if (attributes.includes("application/ld+json")) continue;
      expect(attributes).toMatch(/^ type="module" src="\/assets\/[a-z]+\.js"$/);
      expect(content).toBe("");
    }
  });

  test("the policy stands before everything that it rules over", () => {
    const [before = "", after, ...more] = html.split('<meta http-equiv="Content-Security-Policy"');
    expect(more).toEqual([]);
    expect(after).toMatch(/^ content="default-src 'none'; script-src 'self'/);
    expect(before).not.toMatch(/<(?:link|script|style|img|base)\b/);
  });

  test("no event handler", () => {
    expect(html).not.toMatch(/<[^>]+\son[a-z]+=/);
  });

  test("nothing is fetched from elsewhere but the recording", () => {
    const fetched = [
      ...html.matchAll(
        /<(?:link rel="(?:stylesheet|preload|icon)"|script|img|source|track)\b[^>]*?(?:src|href)="([^"]+)"/g,
      ),
    ];
    const hosts = fetched.flatMap(([, address = ""]) => /^https?:\/\/([^/]+)/.exec(address)?.[1] ?? []);
    expect(hosts.filter((host) => host !== "media.example.org")).toEqual([]);
  });

  test("every id once, and every link within the page leads somewhere", () => {
    const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
    expect(ids).toHaveLength(new Set(ids).size);
    const within = [...html.matchAll(/<a [^>]*href="#([^"]+)"/g)].map(([, id]) => id);
    expect(within.filter((id) => !ids.includes(id) && !id?.startsWith("note-"))).toEqual([]);
  });
});

describe.each(changed((text) => text + HOSTILE))("hostile text in %s", (_name, html) => {
  test("is text", () => {
    expect(html).toContain("&lt;script>");
    expect(html).not.toMatch(/<script>|<img src=x|alert\("/);
  });
});
