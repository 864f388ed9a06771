import { isAlias, isMap, isNode, isScalar, isSeq, Lexer, type Node, parseDocument, type YAMLError } from "yaml";
import type { Finding, Place } from "../model/finding.ts";
import { blocking, findingAt } from "./findings.ts";

export type Path = readonly (string | number)[];

/** YAML as plain values, with the place of each. */
export interface Tree {
  readonly value: unknown;
  /** Where the value at a path stands; of a missing one, the nearest value around it. */
  readonly placeOf: (path: Path) => Place;
  /** Where the key at a path stands. */
  readonly keyPlaceOf: (path: Path) => Place;
  /** The value at a path as it is written; "" when there is none. */
  readonly written: (path: Path) => string;
  /** The comment behind the value at a path, without its `#`; "" when there is none. */
  readonly commentOf: (path: Path) => string;
}

interface Spot {
  readonly key: number;
  readonly from: number;
  readonly to: number;
  readonly comment: string;
}

const id = (path: Path): string => JSON.stringify(path);

/** What the parser's codes mean to somebody who writes front matter. The rest keep the parser's own words. */
const YAML_FAULTS: Readonly<Record<string, { readonly rule: string; readonly says: string; readonly mend: string }>> = {
  DUPLICATE_KEY: {
    rule: "yaml-key-twice",
    says: "This key stands here a second time.",
    mend: "Keep one of the two.",
  },
  TAB_AS_INDENT: {
    rule: "yaml-tab",
    says: "This line is indented with a tab, which YAML does not allow.",
    mend: "Indent with spaces.",
  },
  BLOCK_AS_IMPLICIT_KEY: {
    rule: "yaml-colon",
    says: "A second colon followed by a blank makes this value unreadable.",
    mend: 'Put the whole value in quotes: "like this: so".',
  },
  BAD_SCALAR_START: {
    rule: "yaml-first-character",
    says: "A value can't begin with this character.",
    mend: "Put the whole value in quotes.",
  },
  MULTIPLE_DOCS: {
    rule: "yaml-second-document",
    says: "A line of three full stops ends the front matter too early.",
    mend: "Take the line out; front matter ends with a line of three hyphens.",
  },
};

/**
 * Reads a block of YAML 1.2 (core schema) that begins `base` characters into its file.
 * Aliases, tags other than plain ones and keys that are no text are refused, so nothing can grow when it is read.
 */
export function parseTree(
  block: string,
  base: number,
  place: (offset: number) => Place,
): { tree: Tree; findings: Finding[] } {
  const at = (offset: number): Place => place(base + Math.min(offset, block.length));
  const deep = tooDeepAt(block);
  if (deep !== null) {
    const says = "The front matter is nested too deep from here on.";
    return { tree: emptyTree(at(0)), findings: [blocking("yaml-too-deep", at(deep), says, "Flatten it.")] };
  }
  const options = { version: "1.2", schema: "core", strict: true, uniqueKeys: true, prettyErrors: false } as const;
  const document = parseDocument(`${block}\n`, options);
  const problems: readonly YAMLError[] = [...document.errors, ...document.warnings];
  const findings = onePerPlace(problems.map((problem) => yamlFinding(problem, at(problem.pos[0]))));
  if (document.directives?.yaml.explicit === true) {
    findings.push(
      blocking(
        "yaml-directive",
        at(block.indexOf("%")),
        "The front matter sets a YAML version.",
        "Take the line that begins with % out.",
      ),
    );
  }
  if (findings.length > 0) return { tree: emptyTree(at(0)), findings };
  return walk(document.contents, block, at);
}

/** No shape nests deeper than five; each level of a block takes at least a column. */
const DEEPEST_FLOW = 50;
const DEEPEST_COLUMN = 200;
/** Tokens of the lexer that stand for no character: a document begins, a scalar follows, a bracket is missing. */
const [DOCUMENT_BEGINS, SCALAR_FOLLOWS, BRACKET_MISSING] = ["\u0002", "\u001f", "\u0018"];
const LEXER_SIGNS: readonly string[] = [DOCUMENT_BEGINS, SCALAR_FOLLOWS, BRACKET_MISSING];

/**
 * Where a block nests deeper than any content does; null when it does not. Looks at the tokens alone: the parser
 * calls itself for each level, and thousands of levels end the process.
 */
function tooDeepAt(block: string): number | null {
  let [flow, offset, lineStart, isScalar] = [0, 0, 0, false];
  for (const token of new Lexer().lex(block)) {
    if (LEXER_SIGNS.includes(token)) {
      isScalar = token === SCALAR_FOLLOWS;
      continue;
    }
    if (!isScalar) {
      if (token === "[" || token === "{") flow++;
      if (token === "]" || token === "}") flow--;
      const isIndent = offset === lineStart && token.trim() === "" && flow === 0;
      const isLevel = token === "-" || token === "?" || isIndent;
      if (flow > DEEPEST_FLOW || (isLevel && offset + token.length - lineStart > DEEPEST_COLUMN)) return offset;
    }
    offset += token.length;
    if (token.endsWith("\n")) lineStart = offset;
    isScalar = false;
  }
  return null;
}

/** One slip can make the parser complain many times over at one place. */
function onePerPlace(findings: readonly Finding[]): Finding[] {
  const first = new Map<string, Finding>();
  for (const found of findings) {
    const key = `${found.at.line}:${found.at.column}`;
    first.set(key, first.get(key) ?? found);
  }
  return [...first.values()];
}

function yamlFinding(problem: YAMLError, at: Place): Finding {
  const known = YAML_FAULTS[problem.code];
  if (known !== undefined) return blocking(known.rule, at, known.says, known.mend);
  if (problem.code === "TAG_RESOLVE_FAILED") return tagFinding(at);
  return blocking(
    "yaml-unreadable",
    at,
    `The front matter is not YAML from here on: ${problem.message.replace(/\.$/, "")}.`,
    "Check the quotes, brackets and indentation of this line and of the one before it.",
  );
}

const tagFinding = (at: Place): Finding =>
  blocking(
    "yaml-tag",
    at,
    "A tag (a word after !) stands before this value.",
    "Write the value alone; if it begins with !, put it in quotes.",
  );

const emptyTree = (at: Place): Tree => ({
  value: null,
  placeOf: () => at,
  keyPlaceOf: () => at,
  written: () => "",
  commentOf: () => "",
});

/** Turns nodes into plain values and notes where each stands. */
function walk(root: Node | null, block: string, at: (offset: number) => Place): { tree: Tree; findings: Finding[] } {
  const spots = new Map<string, Spot>();
  const findings: Finding[] = [];

  const plain = (node: unknown, path: Path, key: number): unknown => {
    const [from, to] = rangeOf(node) ?? [key, key];
    spots.set(id(path), { key, from, to, comment: isNode(node) ? (node.comment ?? "") : "" });
    if (isMap(node)) return plainMap(node.items, path);
    if (isSeq(node)) return node.items.map((child, i) => plain(child, [...path, i], rangeOf(child)?.[0] ?? from));
    if (isAlias(node)) {
      findings.push(
        blocking(
          "yaml-alias",
          at(from),
          "A name after * repeats another value.",
          "Write the value out here; if it begins with *, put it in quotes.",
        ),
      );
      return null;
    }
    if (!isScalar(node)) return null;
    const hash = commentGluedTo(node.type, to, block);
    if (hash !== null) findings.push(hashFinding(at(hash)));
    const { value } = node;
    if (value === null || ["string", "number", "boolean"].includes(typeof value)) return value;
    findings.push(tagFinding(at(from)));
    return null;
  };

  const plainMap = (pairs: readonly { key: unknown; value: unknown }[], path: Path): Record<string, unknown> => {
    const map: Record<string, unknown> = {};
    for (const { key, value } of pairs) {
      const start = rangeOf(key)?.[0] ?? 0;
      const name = isScalar(key) ? key.value : undefined;
      if (typeof name !== "string" || name === "__proto__") {
        findings.push(blocking("key-unknown", at(start), "This can't be a key.", "Take it out; keys are plain words."));
      } else {
        map[name] = plain(value, [...path, name], start);
      }
    }
    return map;
  };

  const value = plain(root, [], 0);
  const spotOf = (path: Path): Spot => {
    const exact = spots.get(id(path));
    if (exact !== undefined) return exact;
    return path.length === 0 ? { key: 0, from: 0, to: 0, comment: "" } : spotOf(path.slice(0, -1));
  };
  const written = (path: Path): string => {
    const spot = spots.get(id(path));
    return spot === undefined ? "" : block.slice(spot.from, spot.to);
  };
  const commentOf = (path: Path): string => spots.get(id(path))?.comment ?? "";
  const tree: Tree = {
    value,
    placeOf: (path) => at(spotOf(path).from),
    keyPlaceOf: (path) => at(spotOf(path).key),
    written,
    commentOf,
  };
  return { tree, findings };
}

function rangeOf(node: unknown): readonly [number, number] | null {
  if (!isScalar(node) && !isMap(node) && !isSeq(node) && !isAlias(node)) return null;
  return node.range ? [node.range[0], node.range[1]] : null;
}

/** Where ` #9` follows an unquoted value, which YAML takes for a comment; null elsewhere. */
function commentGluedTo(type: string | undefined, end: number, block: string): number | null {
  if (type !== "PLAIN") return null;
  const rest = /^[ \t]+#[^\s#]/.exec(block.slice(end, end + 200));
  return rest === null ? null : end + rest[0].length - 2;
}

const hashFinding = (at: Place): Finding =>
  findingAt(
    at,
    "warns",
    "yaml-hash",
    "From this # to the end of the line YAML takes the words for a comment.",
    "If they belong to the value, put the whole value in quotes; if they are a comment, put a blank after #.",
  );
