import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { PlaceOfWords } from "../checks/subject.ts";
import type { Place } from "../model/finding.ts";
import { type Cue, cueTexts, decodeVtt, parseCue, parseCueText, parseVtt, type VttFile } from "../webvtt/index.ts";

interface Opened {
  readonly name: string;
  readonly file: VttFile;
  readonly cues: ReadonlyMap<number, Cue>;
}

/**
 * Where words stand in the transcripts below `root`. A transcript is read when the first of its words is asked for, and
 * let go of when those of another are: episodes are checked one after the other, thousands of them.
 */
export function placesBelow(root: string): PlaceOfWords {
  let last: Opened | null = null;
  const open = (name: string): Opened => {
    if (last?.name === name) return last;
    const file = parseVtt(decodeVtt(readFileSync(join(root, name))).text);
    last = { name, file, cues: new Map(file.cues.map((cue) => [cue.line, cue])) };
    return last;
  };
  return ({ at, pieces }, piece, offset) => {
    const { file, cues } = open(at.file);
    const cue = cues.get(at.line);
    const before = pieces.slice(0, piece).reduce((sum, { words }) => sum + words.length, 0);
    return cue === undefined ? at : placeAt(file, cue, writtenAt(file, cue, before + offset), at.file);
  };
}

/** Where the character `offset` of a cue's words is written, as an offset in the file; its payload's beginning if nowhere. */
export function writtenAt(file: VttFile, cue: Cue, offset: number): number {
  let left = offset;
  for (const { from, to, words } of cueTexts(parseCue(file, cue))) {
    if (left < words.length) return from + writtenLength(file.text.slice(from, to), left);
    left -= words.length;
  }
  return cue.payload;
}

function placeAt({ text }: VttFile, cue: Cue, at: number, file: string): Place {
  const lines = text.slice(cue.payload, at).split(/\r\n|\r|\n/);
  return { file, line: cue.line + lines.length, column: (lines.at(-1)?.length ?? 0) + 1 };
}

/** How many characters of a text as written, with its references, hold its first `length` characters. */
function writtenLength(written: string, length: number): number {
  let [words, at] = [0, 0];
  while (words < length && at < written.length) {
    const reference = written[at] === "&" ? /^&[#\w]+;?/.exec(written.slice(at, at + 40))?.[0] : undefined;
    const [node] = reference === undefined ? [] : parseCueText(reference);
    at += reference?.length ?? (written.startsWith("\r\n", at) ? 2 : 1);
    words += node?.kind === "text" ? node.words.length : 1;
  }
  return at;
}
