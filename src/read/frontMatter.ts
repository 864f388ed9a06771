import { blocks, type Finding, type Place, type Read } from "../model/finding.ts";
import { MOST_BODY, MOST_FRONT } from "../model/limits.ts";
import { blocking } from "./findings.ts";
import type { Source } from "./source.ts";
import { decodeText, type Text, unseenFindings } from "./text.ts";
import { type Path, parseTree, type Tree } from "./yamlTree.ts";

/** A Markdown file, split: what its head says and where, and its body. */
export interface Front {
  readonly file: string;
  readonly data: Readonly<Record<string, unknown>>;
  /** Where a value stands; of a missing one, the nearest value around it. */
  readonly placeOf: (path: Path) => Place;
  readonly keyPlaceOf: (path: Path) => Place;
  /** A value as it is written in the file; "" when it is missing. */
  readonly written: (path: Path) => string;
  /** The comment behind a value, without its `#`; "" when there is none. */
  readonly commentOf: (path: Path) => string;
  readonly body: string;
  /** Where the body begins. */
  readonly bodyAt: Place;
}

const CLOSING = "\n---";

/** Splits a file at its front matter and reads that as YAML 1.2. Nothing in it is ever run. */
export function splitFront(source: Source): Read<Front> {
  const decoded = decodeText(source);
  if (!decoded.ok) return decoded;
  const text = decoded.value;
  const outline = outlineFault(text);
  const unseen = outline === null ? unseenFindings(text) : [outline];
  if (unseen.some(blocks)) return { ok: false, findings: unseen };
  const { block, body } = split(text.text);
  const base = text.text.indexOf(CLOSING, 3) - block.length;
  const { tree, findings: ofYaml } = parseTree(block, base, text.place);
  const data = asMap(tree.value);
  if (data === null) {
    const found = ofYaml.length > 0 ? ofYaml : [notAMap(tree, text.place(text.text.indexOf("\n") + 1))];
    return { ok: false, findings: [...unseen, ...found] };
  }
  const { placeOf, keyPlaceOf, written, commentOf } = tree;
  const bodyAt = text.place(text.text.length - body.length);
  return {
    ok: true,
    value: { file: text.file, data, placeOf, keyPlaceOf, written, commentOf, body, bodyAt },
    findings: [...unseen, ...ofYaml],
  };
}

/** The YAML between the hyphens, unread, and what stands below them. Of a text whose outline has no fault. */
function split(text: string): { block: string; body: string } {
  const close = text.indexOf(CLOSING, 3);
  const body = text.slice(close + CLOSING.length).replace(/^\r?\n?/, "");
  return { block: text.slice(lineEnd(text, 3), close), body };
}

function asMap(value: unknown): Readonly<Record<string, unknown>> | null {
  return typeof value === "object" && value !== null && !Array.isArray(value) ? { ...value } : null;
}

function notAMap(tree: Tree, first: Place): Finding {
  const empty = tree.value === null;
  return blocking(
    empty ? "front-matter-empty" : "front-matter-not-a-map",
    empty ? first : tree.placeOf([]),
    empty ? "The front matter is empty." : "The front matter is not a list of keys with values.",
    "Write one `key: value` a line.",
  );
}

/** Faults of the lines that open and close the front matter, found before anything reads what stands between. */
function outlineFault({ text, place }: Text): Finding | null {
  if (!text.startsWith("---") || text[3] === "-") {
    return blocking(
      "front-matter-missing",
      place(0),
      "This file has no front matter.",
      "Begin it with a line of three hyphens, then `key: value` lines, then three hyphens again.",
    );
  }
  const language = text.slice(3, lineEnd(text, 3)).trim();
  if (!["", "yaml", "yml"].includes(language.toLowerCase())) return languageFault(language, place(3));
  const close = text.indexOf(CLOSING, 3);
  if (close === -1) {
    const says = "The front matter that begins here is never closed.";
    return blocking("front-matter-unterminated", place(0), says, "Put a line of three hyphens after its last key.");
  }
  if (text.slice(close + 4, lineEnd(text, close + 1)).trim() !== "") {
    const says = "A line that begins with three hyphens closes the front matter, but this one goes on.";
    return blocking(
      "front-matter-closing-line",
      place(close + 1),
      says,
      "Leave the three hyphens alone on their line, or indent the line.",
    );
  }
  const lines = place(close).line;
  if (close <= MOST_FRONT.characters && lines <= MOST_FRONT.lines) return bodyTooLong(text, close, place);
  return blocking(
    "front-matter-too-long",
    place(0),
    `The front matter has ${close} characters in ${lines} lines; ${MOST_FRONT.characters} and ${MOST_FRONT.lines} are the most.`,
    "Move long text into the body, below the second line of three hyphens.",
  );
}

function bodyTooLong(text: string, close: number, place: Text["place"]): Finding | null {
  const from = lineEnd(text, close + 1) + 1;
  const length = text.length - from;
  if (length <= MOST_BODY) return null;
  const says = `The text below the front matter has ${length} characters; ${MOST_BODY} are the most.`;
  return blocking("body-too-long", place(from), says, "Shorten it, or put the rest where it can be linked to.");
}

function lineEnd(text: string, from: number): number {
  const end = text.indexOf("\n", from);
  return end === -1 ? text.length : end;
}

function languageFault(language: string, at: Place): Finding {
  const shown = language.slice(0, 40);
  const runs = ["js", "javascript", "coffee", "coffeescript"].includes(language.toLowerCase());
  return blocking(
    "front-matter-language",
    at,
    runs
      ? `Front matter in ${shown} is code, and code is never run here.`
      : `“${shown}” stands behind the opening hyphens.`,
    "Leave the three hyphens alone on the first line and write YAML below.",
  );
}
