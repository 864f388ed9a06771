import type { Read } from "../model/finding.ts";
import type { Splice } from "./bytes.ts";
import { cueParts, readerOf } from "./cuetext.ts";
import { escapeAnnotation } from "./escape.ts";
import type { Cue, VttFile } from "./file.ts";
import { quote } from "./report.ts";
import { finding } from "./rules.ts";
import { readToken, type StartToken } from "./tokens.ts";

/**
 * The splices that name the voice of a cue: in its `v` tags, or, where it has none, in one at its beginning, which
 * may stay open because it is the whole cue (WebVTT §4.2.2). With `was`, only in the tags that name that voice.
 */
export function voiceSplices(
  file: VttFile,
  cue: Cue,
  voice: string,
  was: string | null,
  fileName: string,
): Read<readonly Splice[]> {
  const refuse = (says: string, mend: string): Read<readonly Splice[]> => {
    const at = { file: fileName, line: cue.line, column: 1 };
    return { ok: false, findings: [finding("edit-voice", at, cue.startTime, says, mend)] };
  };
  const name = escapeAnnotation(voice);
  if (name === "") return refuse("The new voice has no name.", "Give the name of who speaks.");
  const tags = voiceTags(file, cue);
  if (was !== null) {
    const meant = tags.filter((tag) => tag.annotation === was);
    if (meant.length === 0) return refuse(`No voice in this cue is called ${quote(was)}.`, "Give a name that it has.");
    return { ok: true, value: meant.map((tag) => nameSplice(tag, name)), findings: [] };
  }
  const voices = new Set(cueParts(file, cue).map((part) => part.voice));
  if (voices.size === 0) return refuse("This cue has no words.", "Give it words first.");
  if (voices.size > 1) return refuse("Several voices speak in this cue.", "Say which of them is meant.");
  const insert = { from: cue.payload, to: cue.payload, words: `<v ${name}>` };
  return { ok: true, value: tags.length > 0 ? tags.map((tag) => nameSplice(tag, name)) : [insert], findings: [] };
}

function voiceTags(file: VttFile, cue: Cue): readonly StartToken[] {
  const tags: StartToken[] = [];
  const reader = readerOf(file, cue);
  for (let token = readToken(reader); token !== null; token = readToken(reader)) {
    if (token.kind === "start" && token.name === "v" && token.closed) tags.push(token);
  }
  return tags;
}

function nameSplice({ annotation, annotationFrom, to }: StartToken, name: string): Splice {
  return { from: annotationFrom, to: to - 1, words: annotation === null ? ` ${name}` : name };
}
