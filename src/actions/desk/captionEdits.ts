import { lengthOf } from "../../derive/align/layWords.ts";
import { breakBefore, namesByFirst } from "../../derive/captioning/breaks.ts";
import { makeCues } from "../../derive/captioning/cues.ts";
import { layLines } from "../../derive/captioning/lines.ts";
import { timeWords } from "../../derive/captioning/wordTimes.ts";
import { timedWords } from "../../derive/propose/again.ts";
import { soundIn } from "../../derive/turns.ts";
import { CAPTION_FIGURES } from "../../model/captions.ts";
import type { CuePiece, TranscriptCue } from "../../model/episode.ts";
import { soundOf } from "../../model/spoken.ts";
import { wholeWords } from "../../model/wholeWords.ts";
import { cueText, decodeVtt, PROPOSED_CLASS, parseVtt, replaceCues } from "../../webvtt/index.ts";
import type { Opened } from "./words.ts";

/** What came of a change: the transcript, or why it is not made. */
export type Edited = string | { readonly is: "refused"; readonly says: string };

const refused = (says: string): Edited => ({ is: "refused", says });

interface NewCaption extends Partial<Pick<TranscriptCue, "id" | "settings">> {
  readonly start: number;
  readonly end: number;
  readonly pieces: readonly CuePiece[];
}

/** The transcript with some captions in the place of others; all else stays, character for character. */
function exchanged({ transcript }: Opened, out: readonly number[], cues: readonly NewCaption[]): string {
  const file = parseVtt(decodeVtt(transcript.bytes).text);
  return replaceCues(file, {
    out: new Set(out),
    cues: cues.map(({ pieces, ...cue }) => ({ ...cue, payload: cueText(pieces) })),
    notesOut: [],
    notes: [],
  });
}

/** Words in the lines of a caption. */
function inLines(words: readonly string[], { programme }: Opened): string {
  const figures = programme.captions ?? CAPTION_FIGURES;
  const lengths = [0];
  for (const word of words) lengths.push((lengths.at(-1) ?? 0) + word.length + 1);
  const names = namesByFirst(programme.names.map(({ name }) => name));
  const breaks = words.map((_, n) => (n === 0 ? 0 : breakBefore(n, words, names)));
  const { starts } = layLines(0, words.length, lengths, breaks, figures);
  const edges = [0, ...starts, words.length];
  return edges
    .slice(0, -1)
    .map((from, n) => words.slice(from, edges[n + 1]).join(" "))
    .join("\n");
}

const wordsIn = (text: string): readonly string[] => text.split(/\s+/).filter((word) => word !== "");

/** The piece of a caption that has one voice, with other words. */
const withWords = ({ pieces }: TranscriptCue, words: readonly string[], opened: Opened): readonly CuePiece[] => [
  { ...(pieces[0] ?? { voice: null, language: null }), words: inLines(words, opened) },
];

const KEPT = "This caption holds more than the words of one voice, such as tags: change it in the file.";

/** A caption as it was, but for what is said in it. */
const captionOf = ({ id, settings, start, end }: TranscriptCue, pieces: readonly CuePiece[]): NewCaption => ({
  id,
  settings,
  start,
  end,
  pieces,
});

/**
 * A caption with other words, in its own time; where they are more than one caption holds, and somebody has left it, they are
 * cut into several. No words: it is taken out.
 * @param isWhole false while somebody still types: then it stays one caption, and stays.
 */
export function rewritten(opened: Opened, n: number, text: string, isWhole: boolean): Edited {
  const cue = opened.cues[n];
  if (cue === undefined) return refused("There is no such caption.");
  if (opened.kept.has(n)) return refused(KEPT);
  const words = wordsIn(text);
  if (words.length === 0 && isWhole) return exchanged(opened, [n], []);
  if (words.length === 0) return refused("A caption without words is taken out when you leave it.");
  const sound = soundOf(words.join(" "));
  if (sound !== null)
    return exchanged(opened, [n], [captionOf(cue, [{ voice: null, language: null, words: `[${sound}]` }])]);
  const plain = () => exchanged(opened, [n], [captionOf(cue, withWords(cue, words, opened))]);
  if (!isWhole || soundIn(cue) !== null || fitsOne(words, opened)) return plain();
  return exchanged(opened, [n], severalOf(cue, words, opened));
}

/**
 * Words that are too many for one caption as several, from where it began to where speech at the usual pace takes them, or
 * to the next caption or cut. Where there is no room, they stand there all the same, and are told to be too fast.
 */
function severalOf(cue: TranscriptCue, words: readonly string[], opened: Opened): readonly NewCaption[] {
  const { cues, episode, programme } = opened;
  const { start, at, pieces } = cue;
  const [piece] = pieces;
  const edges = episode.clock === "aired" ? episode.cuts.flatMap(({ from, to }) => [from, to]) : [];
  const next = Math.min(...[...cues.map((own) => own.start), ...edges].filter((own) => own >= cue.end));
  const natural = start + lengthOf(words.map((text) => ({ text })));
  const end = Math.round(Math.max(cue.end, Math.min(next, natural)));
  const voice = { voice: piece?.voice ?? null, ...(piece?.proposed === undefined ? {} : { proposed: piece.proposed }) };
  const timed = timeWords([{ start, end, voice: null, text: words.join(" "), at }], { end });
  const made = makeCues(
    timed.map((word) => ({ ...word, ...voice })),
    { figures: programme.captions ?? CAPTION_FIGURES, names: programme.names.map(({ name }) => name), edges },
  ).map((own) => ({ ...own, end: Math.min(own.end, end) }));
  // In no time at all, nothing can be parted.
  if (!made.every((own) => own.end > own.start)) return [captionOf(cue, withWords(cue, words, opened))];
  // Where it stands on the picture, all of them stand; its name is the first one's.
  return made.map((own, k) => ({ ...own, settings: cue.settings, id: k === 0 ? cue.id : "" }));
}

function fitsOne(words: readonly string[], opened: Opened): boolean {
  const { line, lines } = opened.programme.captions ?? CAPTION_FIGURES;
  const laid = inLines(words, opened).split("\n");
  return laid.length <= lines && laid.every((one) => one.length <= line);
}

/** A caption parted before a word, at the moment when that is said. */
export function split(opened: Opened, n: number, word: number): Edited {
  const cue = opened.cues[n];
  const words = cue === undefined ? [] : timedWords([cue]);
  const at = words[word]?.start;
  if (cue === undefined || opened.kept.has(n)) return refused(KEPT);
  if (word <= 0 || at === undefined) return refused("A caption is parted between two of its words.");
  const texts = words.map(({ text }) => text);
  const middle = Math.min(Math.max(Math.round(at), cue.start + 1), cue.end - 1);
  if (middle <= cue.start || middle >= cue.end) return refused("This caption is too short to be parted.");
  return exchanged(
    opened,
    [n],
    [
      { ...captionOf(cue, withWords(cue, texts.slice(0, word), opened)), end: middle },
      { ...captionOf(cue, withWords(cue, texts.slice(word), opened)), id: "", start: middle },
    ],
  );
}

/** A caption and the next one as one. */
export function joined(opened: Opened, n: number): Edited {
  const [one, other] = [opened.cues[n], opened.cues[n + 1]];
  if (one === undefined || other === undefined) return refused("There is no caption after this one.");
  const isCut = opened.episode.cuts.some(({ from }) => one.start < from && from < other.end);
  if (soundIn(one) !== null || soundIn(other) !== null) return refused("A sound stands by itself.");
  if (opened.kept.has(n) || opened.kept.has(n + 1)) return refused(KEPT);
  if (one.pieces[0]?.voice !== other.pieces[0]?.voice)
    return refused("Two people are not captioned together: give both captions one speaker first.");
  if (isCut && opened.episode.clock === "aired") return refused("The recording is cut between these captions.");
  const words = timedWords([one, other]).map(({ text }) => text);
  return exchanged(
    opened,
    [n, n + 1],
    [{ ...captionOf(one, withWords(one, words, opened)), end: Math.max(one.end, other.end) }],
  );
}

/** Captions [from, to) said by somebody, which is then no proposal any more; null: nobody is named. */
export function voiced(opened: Opened, from: number, to: number, voice: string | null): Edited {
  const own = opened.cues.map((cue, n) => ({ cue, n })).slice(from, to);
  if (own.some(({ n }) => opened.kept.has(n))) return refused(KEPT);
  const spoken = own.filter(({ cue }) => soundIn(cue) === null);
  return exchanged(
    opened,
    spoken.map(({ n }) => n),
    spoken.map(({ cue }) =>
      captionOf(
        cue,
        cue.pieces.map(({ language, words }) => ({ voice, language, words })),
      ),
    ),
  );
}

/** The class of a voice that nobody has accepted, in its tag. */
const PROPOSED = new RegExp(`(<v(?:\\.[^\\s.>]+)*?)\\.${PROPOSED_CLASS}(?=[.\\s>])`, "g");

/** Captions [from, to) whose proposed speakers somebody says are right. Nothing but the mark goes. */
export function accepted({ transcript }: Opened, from: number, to: number): Edited {
  const { text, cues } = parseVtt(decodeVtt(transcript.bytes).text);
  return cues.slice(from, to).reduceRight((now, cue) => {
    const payload = text.slice(cue.payload, cue.to).replace(PROPOSED, "$1");
    return now.slice(0, cue.payload) + payload + now.slice(cue.to);
  }, text);
}

/** Whole words found and replaced in every caption, whatever their case. Times stay. */
export function replacedWords(
  opened: Opened,
  find: string,
  by: string,
): { readonly text: string; readonly times: number } {
  const now = wordsIn(by).join(" ");
  const pattern = wholeWords(find);
  let times = 0;
  const out: number[] = [];
  const made: NewCaption[] = [];
  opened.cues.forEach((cue, n) => {
    if (pattern === null || opened.kept.has(n) || soundIn(cue) !== null) return;
    const text = timedWords([cue])
      .map((word) => word.text)
      .join(" ");
    const replaced = text.replace(pattern, () => {
      times++;
      return now;
    });
    if (replaced === text) return;
    out.push(n);
    if (replaced.trim() !== "") made.push(captionOf(cue, withWords(cue, wordsIn(replaced), opened)));
  });
  return { text: out.length === 0 ? decodeVtt(opened.transcript.bytes).text : exchanged(opened, out, made), times };
}
