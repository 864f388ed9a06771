import MarkdownIt from "markdown-it";

/** Where links may lead: the web, mail, or a place on this site. */
const ALLOWED = /^(?:https?:|mailto:|[/#?]|\.{0,2}\/)/i;

/**
 * Renders what people wrote: no markup of their own, links to http, https, mailto and this site only. Links that begin
 * with a slash are taken from `base`, the site's base path with a slash at both ends.
 */
export function renderMarkdown(text: string, base: string): string {
  const markdown = new MarkdownIt({ html: false, typographer: false });
  markdown.validateLink = (href) => ALLOWED.test(href.trim());
  markdown.normalizeLink = (href) => (href.startsWith("/") && !href.startsWith("//") ? base + href.slice(1) : href);
  markdown.disable("image");
  return markdown.render(text).trim();
}

/** The same as plain words, for feeds, descriptions and lists. */
export function markdownWords(text: string): string {
  const words: string[] = [];
  const markdown = new MarkdownIt({ html: false });
  for (const token of markdown.parse(text, {})) {
    for (const child of token.children ?? []) {
      if (child.type === "text" || child.type === "code_inline") words.push(child.content);
      else if (child.type === "softbreak" || child.type === "hardbreak") words.push(" ");
    }
    if (token.type === "inline") words.push(" ");
  }
  return words.join("").replace(/\s+/g, " ").trim();
}
