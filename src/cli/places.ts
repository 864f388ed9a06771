import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { PlaceOfWords } from "../checks/check.ts";
import type { Place } from "../model/finding.ts";
import {
  type Cue,
  type CueNode,
  decodeVtt,
  parseCue,
  parseCueText,
  parseVtt,
  type TextNode,
  type VttFile,
} from "../webvtt/index.ts";

/** Where words stand in the transcripts below `root`. A transcript is read when the first of its words is asked for. */
export function placesBelow(root: string): PlaceOfWords {
  const files = new Map<string, { file: VttFile; cues: ReadonlyMap<number, Cue> }>();
  const open = (name: string) => {
    const file = parseVtt(decodeVtt(readFileSync(join(root, name))).text);
    const read = { file, cues: new Map(file.cues.map((cue) => [cue.line, cue])) };
    files.set(name, read);
    return read;
  };
  return ({ at, parts }, part, offset) => {
    const { file, cues } = files.get(at.file) ?? open(at.file);
    const cue = cues.get(at.line);
    const before = parts.slice(0, part).reduce((sum, { words }) => sum + words.length, 0);
    return cue === undefined ? at : placeIn(file, cue, before + offset, at);
  };
}

/** The place of the character `offset` of a cue's words. */
function placeIn(file: VttFile, cue: Cue, offset: number, at: Place): Place {
  let left = offset;
  for (const node of textsOf(parseCue(file, cue))) {
    if (left < node.words.length) return placeAfter(file.text.slice(node.from, node.to), left, node, at);
    left -= node.words.length;
  }
  return { ...at, line: cue.line + 1 };
}

/** All texts outside `rt`, in order. */
function textsOf(nodes: readonly CueNode[]): readonly TextNode[] {
  return nodes.flatMap((node) => {
    if (node.kind === "text") return [node];
    return node.kind === "span" && node.tag !== "rt" ? textsOf(node.children) : [];
  });
}

/** The place in a text as written (with its references) of the character `offset` of its words. */
function placeAfter(written: string, offset: number, { line, column }: TextNode, at: Place): Place {
  let [words, n] = [0, 0];
  while (words < offset && n < written.length) {
    const reference = written[n] === "&" ? /^&[#\w]+;?/.exec(written.slice(n, n + 40))?.[0] : undefined;
    const [node] = reference === undefined ? [] : parseCueText(reference);
    n += reference?.length ?? (written.startsWith("\r\n", n) ? 2 : 1);
    words += node?.kind === "text" ? node.words.length : 1;
  }
  const lines = written.slice(0, n).split(/\r\n|\r|\n/);
  const last = lines.at(-1)?.length ?? 0;
  return { ...at, line: line + lines.length - 1, column: lines.length === 1 ? column + last : last + 1 };
}
