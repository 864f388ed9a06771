import { grouped } from "../../model/grouped.ts";
import type { Check } from "../check.ts";
import { doubtOf } from "../doubts.ts";
import { quoted, type Sentence, type Word } from "../speech.ts";
import type { Subject } from "../subject.ts";
import { watchedWords } from "../watch.ts";
import { STOCK_LINES } from "./stockLines.ts";
import { isStockShape } from "./stockShape.ts";

export const stockLine: Check = {
  name: "stock-line",
  level: "warns",
  group: "recogniser",
  reason:
    "Recognisers fill silence with lines from the films they learned from; published, they credit people who did nothing.",
  looks:
    "Sentences that begin with a line of the list: credits of transcribers, thanks for watching, calls to subscribe; and short ones without a " +
    "verb that name subtitles, captions, a transcript or a translation, then “by”, “from” or “courtesy of” somebody; short ones in " +
    "other languages that name subtitles or thank for watching, words to who watches a video, bare site addresses that are not the " +
    "programme's, and © with a year. A credit of somebody in the running order or the register is none; a line that follows itself is told once. The list is in " +
    "src/checks/recogniser/stockLines.ts; a programme changes it under `watch.stock` in programme.md.",
  example: "“Subtitles by the Ostwick Caption Circle.”",
  accept: "It was said, in a report about subtitles, say.",
  judge: (subject) => {
    const lines = watchedWords("stock", STOCK_LINES, subject.programme).map(lineOf);
    const kept = new Set(lines.map(({ words }) => words.join(" ")));
    const dropped = STOCK_LINES.map(lineOf).filter(({ words }) => !kept.has(words.join(" ")));
    const isOurs = creditedIn(subject);
    const host = hostOf(subject.programme.url);
    const byFirst = grouped(lines, ({ words }) => words[0] ?? "");
    const { sentences } = subject.spoken;
    return sentences.flatMap((sentence, n) => {
      const likely = byFirst.get(written(sentence.words[0])) ?? [];
      const isDropped = dropped.some((line) => beginsWith(sentence, line));
      const isListed = likely.some((line) => beginsWith(sentence, line));
      const isLike = !isDropped && (isCredit(sentence) || isStockShape(sentence, host));
      if ((!isListed && !isLike) || isOurs(sentence) || isAgain(sentence, sentences[n - 1])) return [];
      const says = `“${quoted(sentence.words)}” is a line that recognisers put into silence.`;
      return doubtOf(sentence.words, subject, says, "Listen there. Delete it unless somebody said it.");
    });
  },
};

/** A line that follows itself, as in a loop, is told once. */
const isAgain = ({ words }: Sentence, before: Sentence | undefined): boolean =>
  before !== undefined &&
  before.words.length === words.length &&
  words.every(({ fold }, n) => fold === before.words[n]?.fold);

const hostOf = (url: string): string => (URL.canParse(url) ? new URL(url).host : "");

/** Whether a sentence credits somebody of the programme: a name after `by` that the running order, a voice or the register has. */
function creditedIn({ programme, episode, spoken, known }: Subject): (sentence: Sentence) => boolean {
  const people = [
    ...programme.presenters,
    ...episode.segments.flatMap(({ by }) => by),
    ...known.names.filter(({ entry }) => entry.kind === "person").map(({ entry }) => entry.name),
    ...new Set(spoken.sentences.map(({ voice }) => voice ?? "")),
  ];
  const names = people.map((name) => name.toLowerCase()).filter((name) => name.includes(" "));
  return ({ words }) => {
    const by = words.findIndex(({ fold }) => fold === "by");
    const after = by === -1 ? "" : quoted(words.slice(by + 1)).toLowerCase();
    return names.some((name) => after.startsWith(name));
  };
}

/** A credit is short, names the work in its first words, and has no verb that a reporter would use. No source. */
const [CREDIT_WORDS, FIRST_WORDS] = [14, 4] as const;
const WORK =
  /^(?:(?:sub|sur)titl(?:es?|ed|ing)|captions?|captioned|captioning|transcripts?|transcription|transcribed|translations?|translated|subtitler|captioner|transcriber)$/;
const BY = /^(?:by|courtesy|from|©)$/;
const REPORTED =
  /^(?:is|are|was|were|has|have|had|will|would|says?|said|shows?|showed|must|can|could|may|it|he|she|they|we|i|who|that|which|when|into|court)$/;

/** A credit line of any wording: `Captioning services provided by …`, `Subtitles and translation courtesy of …`. */
function isCredit({ words }: Sentence): boolean {
  if (words.length < 3 || words.length > CREDIT_WORDS) return false;
  const folds = words.map(written);
  const work = folds.slice(0, FIRST_WORDS).findIndex((fold) => WORK.test(fold));
  const by = folds.findIndex((fold, n) => n > work && BY.test(fold));
  const isNamed =
    by !== -1 && by < words.length - 1 && words.slice(by + 1).some(({ text }) => /^[\p{Lu}\d]/u.test(text));
  return work !== -1 && isNamed && !folds.some((fold) => REPORTED.test(fold));
}

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
