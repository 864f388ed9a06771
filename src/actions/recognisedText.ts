import type { RawFormat } from "../read/incoming/reading.ts";
import type { Recognised } from "../read/incoming/transcript.ts";

/** What a format is called before people. */
export const CALLED: Readonly<Record<RawFormat, string>> = {
  WebVTT: "captions in WebVTT",
  SubRip: "captions in SubRip (SRT)",
  SBV: "captions in SBV",
  ASS: "captions in ASS or SSA",
  TTML: "captions in TTML",
  SCC: "CEA-608 captions in SCC",
  table: "a table",
  "word list": "words in JSON",
  "timed text": "text with times",
  "plain text": "plain text without times",
};

/** Names that are told; of more only how many. */
const MOST_VOICES = 12;

/** What a raw transcript was taken for, and what about it is invented, for people. */
export function recognisedText(what: Recognised, file: string): string {
  const { format, encoding, words, joined, voices, unnamedTurns } = what;
  return [
    `${file} was read as ${CALLED[format]}, in ${encoding}: ${count(words, "word")}.`,
    timesText(what),
    ...(joined === 0
      ? []
      : [
          `The captions roll: ${count(joined, "caption")} were joined with the ones before, so that no word stands twice.`,
        ]),
    voices.length === 0 ? "It names no speakers." : `Speakers: ${listedVoices(voices)}.`,
    ...(unnamedTurns === 0
      ? []
      : [
          `${count(unnamedTurns, "turn")} begin with a dash or >> and no name: they were marked as unnamed voices, for you to name.`,
        ]),
  ].join("\n");
}

function timesText({ words, timed, ended, format }: Recognised): string {
  if (timed === 0) return "It has no times: those of all words are invented, unless they are heard in the recording.";
  if (timed >= words)
    return ended === timed
      ? "Each word has its own times."
      : "Each word has its own beginning; some ends are invented.";
  const runs = format === "word list" ? "runs of words" : format === "timed text" ? "paragraphs" : "captions";
  const given =
    ended === timed ? `${timed} ${runs} have times` : `${timed} ${runs} have a beginning, and ${ended} of them an end`;
  return `${given}; those of single words are invented, unless they are heard in the recording.`;
}

const listedVoices = (voices: readonly string[]): string => {
  const more = voices.length - MOST_VOICES;
  return voices.slice(0, MOST_VOICES).join(", ") + (more > 0 ? `, and ${more} more` : "");
};

const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? "" : "s"}`;
