/** A segment of a script, and who says what in it. */
export interface ScriptSegment {
  readonly slug: string;
  readonly kind: string;
  readonly title: string;
  /** As it would be printed: `1:50`. */
  readonly planned: string;
  readonly by: readonly string[];
  readonly turns: readonly { readonly speaker: string; readonly sentences: readonly string[] }[];
}

/** Reads a script: `== slug | kind | title | planned | by`, then `NAME: words` a line. */
export function readScript(text: string): readonly ScriptSegment[] {
  return text
    .split(/^== /m)
    .slice(1)
    .map((part) => {
      const [head = "", ...lines] = part.trim().split("\n");
      const [slug = "", kind = "", title = "", planned = "", by = ""] = head.split("|").map((cell) => cell.trim());
      return {
        slug,
        kind,
        title,
        planned,
        by: by === "" ? [] : by.split(", "),
        turns: lines.map((line) => {
          const [, speaker = "", words = ""] = /^([^:]+): (.+)$/.exec(line) ?? [];
          return { speaker, sentences: sentencesIn(words) };
        }),
      };
    });
}

/** At a full stop, a question mark or a colon before a new thought; `Mrs` ends nothing. */
const sentencesIn = (words: string): readonly string[] =>
  words.split(/(?<=[.?!]) (?=[A-Z])/).map((sentence) => sentence.trim());
