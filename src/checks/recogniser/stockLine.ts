import { grouped } from "../../model/grouped.ts";
import type { Check } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import { watchedWords } from "../watch.ts";
import { STOCK_LINES } from "./stockLines.ts";

export const stockLine: Check = {
  name: "stock-line",
  level: "warns",
  group: "recogniser",
  reason:
    "Recognisers fill silence with lines from the films they learned from; published, they credit people who did nothing.",
  looks:
    "Sentences that begin with a line of the list: credits of transcribers, thanks for watching, calls to subscribe. The list is in " +
    "src/checks/recogniser/stockLines.ts; a programme changes it under `watch.stock` in programme.md.",
  example: "“Subtitles by the Ostwick Caption Circle.”",
  accept: "It was said, in a report about subtitles, say.",
  judge: (subject) => {
    const lines = watchedWords("stock", STOCK_LINES, subject.programme).map(lineOf);
    const byFirst = grouped(lines, ({ words }) => words[0] ?? "");
    return subject.spoken.sentences.flatMap((sentence) => {
      const likely = byFirst.get(written(sentence.words[0])) ?? [];
      if (!likely.some((line) => beginsWith(sentence, line))) return [];
      const says = `“${quoted(sentence.words)}” is a line that recognisers put into silence.`;
      return doubtOf(sentence.words, subject, says, "Listen there. Delete it unless somebody said it.");
    });
  },
};

interface StockLine {
  readonly words: readonly string[];
  /** It counts only before a colon. */
  readonly hasColon: boolean;
}

const lineOf = (line: string): StockLine => ({
  words: line.replace(/:$/, "").split(" "),
  hasColon: line.endsWith(":"),
});

const written = (word: Word | undefined): string => (word?.text ?? "").toLowerCase().replaceAll("’", "'");

function beginsWith({ words }: Sentence, { words: wanted, hasColon }: StockLine): boolean {
  if (!wanted.every((own, n) => words[n] !== undefined && written(words[n]) === own)) return false;
  const last = words[wanted.length - 1];
  if (hasColon) return last?.after.startsWith(":") === true;
  return wanted.length > 1 || wanted.length === words.length || /^copyright/.test(wanted[0] ?? "");
}
