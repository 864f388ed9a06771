import { type Splice, spliceText } from "./bytes.ts";
import { readerOf } from "./cuetext.ts";
import type { VttFile } from "./file.ts";
import { readToken } from "./tokens.ts";

/** The file's text with a class taken off every voice that has it: `<v.proposed Ilse>` becomes `<v Ilse>`. */
export function withoutVoiceClass(file: VttFile, name: string): string {
  const splices = file.cues.flatMap((cue): Splice[] => {
    const found: Splice[] = [];
    const reader = readerOf(file, cue);
    for (let token = readToken(reader); token !== null; token = readToken(reader)) {
      if (token.kind !== "start" || token.name !== "v" || !token.classes.includes(name)) continue;
      const classes = token.classes.filter((one) => one !== name);
      const head = /^<v[^\s>]*/.exec(file.text.slice(token.from, token.to))?.[0] ?? "";
      found.push({ from: token.from, to: token.from + head.length, words: ["<v", ...classes].join(".") });
    }
    return found;
  });
  return spliceText(file.text, splices);
}
