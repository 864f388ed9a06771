import MarkdownIt from "markdown-it";

/** Where links may lead: the web, mail, or a place on this site. */
const ALLOWED = /^(?:https?:|mailto:|[/#?]|\.{0,2}\/)/i;

/** Made once: an episode may have thousands of notes, and one takes longer to make than a note to render. */
const RENDERER = rendererOf();
const READER = new MarkdownIt({ html: false });

/** Renders with `base` in its environment. */
function rendererOf() {
  const markdown = new MarkdownIt({ html: false, typographer: false });
  markdown.validateLink = (href) => ALLOWED.test(href.trim());
  markdown.normalizeLink = (href) => href;
  markdown.disable("image");
  markdown.core.ruler.push("base", ({ tokens, env }) => {
    for (const link of tokens.flatMap(({ children }) => children ?? [])) {
      const href = link.type === "link_open" ? String(link.attrGet("href")) : "";
      if (href.startsWith("/") && !href.startsWith("//")) link.attrSet("href", `${env.base}${href.slice(1)}`);
    }
  });
  return markdown;
}

/**
 * Renders what people wrote: no markup of their own, links to http, https, mailto and this site only. Links that begin
 * with a slash are taken from `base`, the site's base path with a slash at both ends.
 */
export const renderMarkdown = (text: string, base: string): string => RENDERER.render(text, { base }).trim();

/** The same as plain words, for feeds, descriptions and lists. */
export function markdownWords(text: string): string {
  const words: string[] = [];
  for (const token of READER.parse(text, {})) {
    for (const child of token.children ?? []) {
      if (child.type === "text" || child.type === "code_inline") words.push(child.content);
      else if (child.type === "softbreak" || child.type === "hardbreak") words.push(" ");
    }
    if (token.type === "inline") words.push(" ");
  }
  return words.join("").replace(/\s+/g, " ").trim();
}
