import type { CuePiece } from "../model/episode.ts";
import { ARROW } from "./characters.ts";
import { isConformingSetting } from "./check-settings.ts";
import { PROPOSED_CLASS } from "./cuetext.ts";
import { escapeAnnotation, escapeWords, sound, toLineOfText } from "./escape.ts";
import { splitSettings } from "./settings.ts";
import { formatTimestamp } from "./timestamp.ts";

/** A cue to write: times in whole milliseconds, 0 or more, the end after the start. */
interface TimedCue {
  readonly id?: string;
  readonly start: number;
  readonly end: number;
}

/** A cue with its payload ready to stand in a file: what `cueText` or `titleText` gives. */
export interface ComposedCue extends TimedCue {
  readonly settings?: string;
  readonly payload: string;
}

export interface CaptionCue extends TimedCue {
  /** As written after an end time: `align:start line:0`. */
  readonly settings?: string;
  readonly pieces: readonly CuePiece[];
}

export interface ChapterCue extends TimedCue {
  readonly title: string;
}

/** What leads the cues of a new file. */
export interface VttFront {
  /** Follows `WEBVTT` on line 1. */
  readonly header?: string;
  /** One NOTE block each. */
  readonly notes?: readonly string[];
}

/**
 * A new WebVTT file with LF line ends (WebVTT §4.1). It conforms when the start times rise and the ids differ, which
 * is the caller's to see to. Settings that may not be written, and `region`, whose REGION block the new file
 * lacks, are left out. `-->` in the title, notes and ids is written `-- >`.
 */
export function composeVtt({
  header = "",
  notes = [],
  cues,
}: VttFront & { readonly cues: readonly ComposedCue[] }): string {
  const title = toLineOfText(header).replaceAll(ARROW, "-- >");
  const first = title === "" ? "WEBVTT" : `WEBVTT ${title}`;
  const blocks = [...notes.map(composeNote), ...cues.map(composeCue)];
  return `${first}\n\n${blocks.map((block) => `${block}\n`).join("\n")}`;
}

function composeNote(note: string): string {
  const lines = sound(note)
    .split("\n")
    .filter((line) => line !== "");
  return ["NOTE", ...lines].join("\n").replaceAll(ARROW, "-- >");
}

function composeCue({ id = "", start, end, settings = "", payload }: ComposedCue): string {
  const timings = `${formatTimestamp(start)} ${ARROW} ${formatTimestamp(end)}${settings === "" ? "" : kept(settings)}`;
  const name = id === "" ? "" : toLineOfText(id).replaceAll(ARROW, "-- >");
  return `${name === "" ? "" : `${name}\n`}${timings}\n${payload}`;
}

/** The settings that may be written, each with a space before it; of two of one name, the later. */
const kept = (settings: string): string =>
  splitSettings(settings, 0, settings.length)
    .filter((setting) => setting.name !== "region" && isConformingSetting(setting))
    .filter(({ name }, n, all) => all.findLastIndex((other) => other.name === name) === n)
    .map(({ name, value }) => ` ${name}:${value}`)
    .join("");

/** A file of captions (WebVTT §4.6.3): voices as `<v Name>`, languages as `<lang xx>`. See `composeVtt`. */
export function composeCaptions(captions: VttFront & { readonly cues: readonly CaptionCue[] }): string {
  const { cues, ...front } = captions;
  return composeVtt({ ...front, cues: cues.map(({ pieces, ...cue }) => ({ ...cue, payload: cueText(pieces) })) });
}

/** A file of chapters (WebVTT §4.6.2): titles without tags. See `composeVtt`. */
export function composeChapters(chapters: VttFront & { readonly cues: readonly ChapterCue[] }): string {
  const { cues, ...front } = chapters;
  return composeVtt({ ...front, cues: cues.map(({ title, ...cue }) => ({ ...cue, payload: titleText(title) })) });
}

/** A chapter title as it is written: escaped, without tags (WebVTT §4.2.3). */
export const titleText = (title: string): string => escapeWords(title);

/**
 * Pieces as cue text (WebVTT §4.2.2). `voicePieces` of it gives the same pieces back, when each has words and differs
 * from the one before. A voice or a language without a visible character counts as none.
 */
export function cueText(pieces: readonly CuePiece[]): string {
  const groups: { voice: string; proposed: boolean; text: string }[] = [];
  const tagged = pieces
    .filter(({ words }) => words !== "")
    .map(({ voice, proposed, language, words }) => ({
      voice: escapeAnnotation(voice ?? ""),
      proposed: proposed === true,
      language: escapeAnnotation(language ?? ""),
      words,
    }));
  tagged.forEach((piece, n) => {
    const text = partText(piece, tagged[n + 1]);
    const last = groups.at(-1);
    if (last !== undefined && isSameVoice(last, piece)) last.text += text;
    else groups.push({ voice: piece.voice, proposed: piece.proposed, text });
  });
  return groups.map((group) => (group.voice === "" ? group.text : voiceSpan(group))).join("");
}

/** A piece whose voice and language are ready to stand in a tag; "" for none. */
interface TaggedPart {
  readonly voice: string;
  readonly proposed: boolean;
  readonly language: string;
  readonly words: string;
}

const isSameVoice = (one: Pick<TaggedPart, "voice" | "proposed">, other: Pick<TaggedPart, "voice" | "proposed">) =>
  one.voice === other.voice && one.proposed === other.proposed;

/** A line end before a tag is written bare, after the tags of its own piece. */
function partText(piece: TaggedPart, next: TaggedPart | undefined): string {
  const { language, words } = piece;
  const beforeTag = next !== undefined && (next.language !== "" || (next.voice !== "" && !isSameVoice(piece, next)));
  const parted = beforeTag && words.length > 1 && words.endsWith("\n");
  const text = escapeWords(parted ? words.slice(0, -1) : words);
  return (language === "" ? text : `<lang ${language}>${text}</lang>`) + (parted ? "\n" : "");
}

function voiceSpan({ voice, proposed, text }: { voice: string; proposed: boolean; text: string }): string {
  const parted = text.endsWith("\n");
  return `<v${proposed ? `.${PROPOSED_CLASS}` : ""} ${voice}>${parted ? text.slice(0, -1) : text}</v>${parted ? "\n" : ""}`;
}

/**
 * The words alone, a paragraph for each turn: `Ilse Marrane: Good evening.`, and no name where the voice is not known.
 * Turns of one voice in consecutive cues are joined; line ends within a turn become spaces.
 */
export function plainText(cues: readonly Pick<CaptionCue, "pieces">[]): string {
  const turns: { voice: string | null; words: string[] }[] = [];
  for (const { pieces } of cues) {
    for (const { voice, words } of pieces) {
      const last = turns.at(-1);
      if (last !== undefined && last.voice === voice) last.words.push(words);
      else turns.push({ voice, words: [words] });
    }
  }
  const paragraphs = turns
    .map(({ voice, words }) => ({ voice, line: toLineOfText(words.join(" ")) }))
    .filter(({ line }) => line !== "")
    .map(({ voice, line }) => (voice === null ? line : `${voice}: ${line}`));
  return paragraphs.map((paragraph) => `${paragraph}\n`).join("\n");
}
