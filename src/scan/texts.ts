import { decodeHTML } from "entities";

/** Elements inside a line: the words on both sides of their tags follow one another. All other tags end a text. */
const INLINE = new Set(
  "a abbr b bdi bdo c cite code data del dfn em font i ins kbd lang mark q rp rt ruby s samp small span strong sub sup time u v var wbr".split(
    " ",
  ),
);
const VALUES = /=\s*(?:"([^"]*)"|'([^']*)'|([^\s"'=<>`]+))/g;
/** Whose content is no markup. */
const RAW = new Set(["script", "style"]);
/** Markup in text that was markup itself: a feed has pages inside, a page has data inside. */
const DEPTH = 5;

/**
 * The unbroken texts in a file of the site: what a person, a script or a machine could read as words one after the other.
 * Text of elements, values of attributes, strings of JSON, captions one by one, paragraphs of plain text; references and
 * escapes are decoded. It takes whatever comes, and fails at nothing. @param path its ending says what the file is.
 */
export function textsIn(path: string, text: string): readonly string[] {
  const texts: string[] = [];
  if (/\.(?:html?|xml|svg)$/.test(path)) markup(text, texts, DEPTH);
  else if (/\.(?:jsonl?|pf_fragment)$/.test(path)) strings(text, texts, DEPTH);
  else for (const piece of text.split(/\r?\n[^\S\n]*\r?\n|^.*-->.*$/m)) plain(piece, texts, DEPTH);
  return texts;
}

/** Reads from front to end, once: what is not closed is text to the end. */
function markup(text: string, texts: string[], depth: number): void {
  let [open, at] = ["", 0];
  const end = (): void => {
    if (open.trim() !== "") plain(open, texts, depth - 1, true);
    open = "";
  };
  while (at < text.length) {
    const start = text.indexOf("<", at);
    const tag = start < 0 ? null : tagAt(text, start);
    if (tag === null) break;
    open += text.slice(at, start) + tag.text;
    at = tag.end;
    if (tag.name === null) continue;
    if (INLINE.has(tag.name)) open += " ";
    else end();
    for (const value of tag.name === "" ? [tag.inside] : valuesIn(tag.inside)) plain(value, texts, depth - 1, true);
    if (!tag.opens || !RAW.has(tag.name)) continue;
    const close = closingOf(tag.name, text, at);
    plain(text.slice(at, close), texts, depth - 1);
    at = close;
  }
  open += text.slice(at);
  end();
}

/** What begins with an angle: a tag, a comment, or text. */
interface Tag {
  /** In lower case, "" for a comment; null: it is text. */
  readonly name: string | null;
  readonly opens: boolean;
  readonly inside: string;
  readonly text: string;
  readonly end: number;
}

/** Null where it is not closed. */
function tagAt(text: string, start: number): Tag | null {
  const comment = text.startsWith("<!--", start) ? "-->" : text.startsWith("<![CDATA[", start) ? "]]>" : null;
  if (comment !== null) {
    const end = text.indexOf(comment, start + 4);
    return end < 0
      ? null
      : { name: "", opens: false, inside: text.slice(start + 4, end), text: "", end: end + comment.length };
  }
  const begins = /[/!?]?[a-zA-Z][\w:-]*/y;
  begins.lastIndex = start + 1;
  const named = begins.exec(text)?.[0];
  if (named === undefined) return { name: null, opens: false, inside: "", text: "<", end: start + 1 };
  const from = start + 1 + named.length;
  const end = endOfTag(text, from);
  if (end < 0) return null;
  const name = named.replace(/^[/!?]/, "").toLowerCase();
  return { name, opens: !named.startsWith("/"), inside: text.slice(from, end), text: "", end: end + 1 };
}

/** Where the angle stands that ends a tag; one in quotes does not. */
function endOfTag(text: string, from: number): number {
  for (let at = from; at < text.length; at++) {
    const own = text[at];
    if (own === ">") return at;
    if (own !== '"' && own !== "'") continue;
    at = text.indexOf(own, at + 1);
    if (at < 0) return -1;
  }
  return -1;
}

/** Where the content of a script or a style ends. */
function closingOf(name: string, text: string, from: number): number {
  const close = new RegExp(`</${name}`, "gi");
  close.lastIndex = from;
  return close.exec(text)?.index ?? text.length;
}

/** The values of attributes; where none has a value, what stands there: a caption's voice. */
function valuesIn(attributes: string): readonly string[] {
  if (attributes === "" || attributes.trim() === "") return [];
  if (!attributes.includes("=")) return [attributes];
  return [...attributes.matchAll(VALUES)].flatMap((found) => found[1] ?? found[2] ?? found[3] ?? []);
}

/** The strings of JSON, names and values; one that is not closed reaches to the end. */
function strings(text: string, texts: string[], depth: number): void {
  for (let start = text.indexOf('"'); start >= 0; ) {
    let end = start + 1;
    while (end < text.length && text[end] !== '"') end += text[end] === "\\" ? 2 : 1;
    plain(unquoted(text.slice(start, end + 1)), texts, depth - 1);
    start = text.indexOf('"', end + 1);
  }
}

function unquoted(string: string): string {
  try {
    return String(JSON.parse(string));
  } catch {
    // No JSON after all: read as it stands.
    return string;
  }
}

/** A text that may be written in some other way once more. */
function plain(text: string, texts: string[], depth: number, isEncoded = false): void {
  const own = unescaped(isEncoded && text.includes("&") ? decodeHTML(text) : text);
  if (depth > 0 && /<[a-zA-Z/!?]/.test(own)) markup(own, texts, depth);
  else if (depth > 0 && /^\s*(?:\{\s*"|\[\s*["{])/.test(own)) strings(own, texts, depth);
  else texts.push(own);
}

function unescaped(text: string): string {
  const spelled = text.includes("\\u")
    ? text.replace(/\\u([\da-fA-F]{4})/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)))
    : text;
  if (!/%[\da-fA-F]{2}/.test(spelled)) return spelled;
  try {
    return decodeURIComponent(spelled);
  } catch {
    // A percent sign that is one.
    return spelled;
  }
}
