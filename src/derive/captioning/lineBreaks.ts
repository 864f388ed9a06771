import type { CaptionFigures } from "../../model/captions.ts";
import { breakBefore, namesByFirst } from "./breaks.ts";
import { layLines } from "./lines.ts";

/** Words laid into the lines of a caption anew, `\n` between them: where a correction has put others in their place. */
export function intoLines(words: string, figures: CaptionFigures, names: readonly string[] = []): string {
  const text = words.split(/\s+/).filter((word) => word !== "");
  const known = namesByFirst(names);
  const breaks = text.map((_, n) => breakBefore(n, text, known));
  const lengths = [0];
  for (const word of text) lengths.push((lengths.at(-1) ?? 0) + word.length + 1);
  const { starts } = layLines(0, text.length, lengths, breaks, figures);
  const edges = [0, ...starts, text.length];
  return edges
    .slice(0, -1)
    .map((start, n) => text.slice(start, edges[n + 1]).join(" "))
    .join("\n");
}
