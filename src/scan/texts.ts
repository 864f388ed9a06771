import { decodeHTML } from "entities";

/** Elements inside a line: the words on both sides of their tags follow one another. All other tags end a text. */
const INLINE = new Set(
  "a abbr b bdi bdo c cite code data del dfn em font i ins kbd lang mark q rp rt ruby s samp small span strong sub sup time u v var wbr".split(
    " ",
  ),
);
const TAGS =
  /<!--[\s\S]*?-->|<(script|style)\b((?:"[^"]*"|'[^']*'|[^"'>])*)>([\s\S]*?)<\/\1\s*>|<[/!?]?([a-zA-Z][\w:-]*)((?:"[^"]*"|'[^']*'|[^"'<>])*)>/g;
const VALUES = /=\s*(?:"([^"]*)"|'([^']*)'|([^\s"'=<>`]+))/g;
const STRINGS = /"(?:[^"\\]|\\[\s\S])*"/g;
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
  else for (const part of text.split(/\r?\n[^\S\n]*\r?\n|^.*-->.*$/m)) plain(part, texts, DEPTH);
  return texts;
}

function markup(text: string, texts: string[], depth: number): void {
  let [open, from] = ["", 0];
  const end = (): void => {
    if (open.trim() !== "") plain(open, texts, depth - 1, true);
    open = "";
  };
  for (const { 0: whole, 1: raw, 2: rawValues, 3: content, 4: name, 5: values, index } of text.matchAll(TAGS)) {
    open += text.slice(from, index);
    from = index + whole.length;
    if (raw === undefined && name !== undefined && INLINE.has(name.toLowerCase())) open += " ";
    else end();
    for (const value of valuesIn(rawValues ?? values ?? "")) plain(value, texts, depth - 1, true);
    if (content !== undefined)
      raw === "script" && /^\s*[[{]/.test(content) ? strings(content, texts, depth - 1) : texts.push(content);
  }
  open += text.slice(from);
  end();
}

/** The values of attributes; where none has a value, what stands there: a caption's voice. */
function valuesIn(attributes: string): readonly string[] {
  if (attributes.trim() === "") return [];
  if (!attributes.includes("=")) return [attributes];
  return [...attributes.matchAll(VALUES)].flatMap((found) => found[1] ?? found[2] ?? found[3] ?? []);
}

function strings(text: string, texts: string[], depth: number): void {
  for (const [string] of text.matchAll(STRINGS)) plain(unquoted(string), texts, depth - 1);
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
