import { DateTime } from "luxon";
import { namesToFix } from "../../checks/names/fix.ts";
import { soundIn } from "../../derive/turns.ts";
import type { DeskEdit, DeskEdited } from "../../model/desk.ts";
import type { DeskOrderEdit } from "../../model/deskOrder.ts";
import { programmeEnd } from "../../model/timeMap.ts";
import { UsageError } from "../../model/usageError.ts";
import type { Source } from "../../read/index.ts";
import { layCorrections } from "../../record/lay.ts";
import { decodeVtt, parseVtt, spliceText } from "../../webvtt/index.ts";
import { withAcceptance, withInPoint } from "../../write/episodeText.ts";
import type { Files } from "../../write/record.ts";
import { UNDO_FILE } from "../../write/replaced.ts";
import { subjectAlone } from "../editorial.ts";
import { spliceOf } from "../fixNames.ts";
import { replaceTexts } from "../replaceTexts.ts";
import { accepted, joined, replacedWords, rewritten, split, voiced } from "./captionEdits.ts";
import {
  changeBetween,
  type DeskFile,
  type Journal,
  journalText,
  madeAgain,
  takenBack,
  withChange,
} from "./journal.ts";
import { isOrderEdit, orderEdited, unreadable } from "./segmentEdits.ts";
import { withText } from "./textEdit.ts";
import { afterWriting, changedWords, type Opened, openWords, versionOf, wordsOf } from "./words.ts";

export interface ToEdit {
  readonly content: string;
  readonly id: string;
  /** Of the words that somebody saw when they made the change. */
  readonly version: string;
  readonly edit: DeskEdit;
  readonly now: Date;
  readonly files?: Files;
}

/**
 * One change to the words of an episode that is not published: written at once, and kept so that it can be undone. Where
 * the file is another than was seen, nothing is changed.
 * @throws UsageError where the episode can't be read.
 */
export async function editWords({ content, id, version, edit, now, files }: ToEdit): Promise<DeskEdited> {
  const opened = await openWords(content, id, now);
  if (opened.published) return refused("This transcript is published: it is never edited. Correct it instead.");
  if (versionOf(opened.sources) !== version) return { is: "stale", words: wordsOf(opened) };
  const made = await madeBy(opened, edit, now);
  if (typeof made !== "string" && made.is === "refused") return refused(made.says);
  const own: Made = typeof made === "string" ? { is: "made", file: "transcript.vtt", text: made } : made;
  return keepChange(opened, own, now, files);
}

/** Writes a change, and keeps it so that it can be undone; where the files are others by now, nothing is changed. */
export async function keepChange(opened: Opened, made: Made, now: Date, files?: Files): Promise<DeskEdited> {
  const { content, id } = opened;
  const { file, text, journal = null, says = null } = made;
  const was = textOf(opened, file);
  if (text === was) return { is: "done", words: changedWords(opened, opened), says };
  // What is undone or done again was taken by the reader once.
  const stands = file === "episode.md" && journal === null ? unreadable(opened, text) : null;
  if (stands !== null) return refused(stands);
  const after = journal ?? withChange(opened.journal, changeBetween(file, was, text));
  const { sources } = opened;
  const bytes = Buffer.from(text);
  const changed =
    file === "episode.md"
      ? { ...sources, episode: withBytes(sources.episode, bytes) }
      : { ...sources, transcript: withBytes(sources.transcript, bytes) };
  try {
    const journalled = { path: UNDO_FILE, bytes: Buffer.from(journalText(after, versionOf(changed))) };
    await replaceTexts({ content, id, sources }, [journalled, { path: file, bytes }], files);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    return { is: "stale", words: wordsOf(await openWords(content, id, now)) };
  }
  return { is: "done", words: changedWords(opened, afterWriting(opened, changed, after, now)), says };
}

const refused = (says: string): DeskEdited => ({ is: "refused", says });

const withBytes = (source: Source | null, bytes: Uint8Array): Source | null =>
  source === null ? null : { ...source, bytes };

export function textOf({ transcript, sources }: Opened, file: DeskFile): string {
  const bytes = file === "episode.md" ? (sources.episode?.bytes ?? new Uint8Array()) : transcript.bytes;
  return new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);
}

export interface Made {
  readonly is: "made";
  readonly file: DeskFile;
  readonly text: string;
  /** Where the change is none of its own. */
  readonly journal?: Journal;
  /** What there is to say of it. */
  readonly says?: string;
}

/** A text after a change, that of the transcript where nothing else is said; or why it is not made. */
type Outcome = string | Made | { readonly is: "refused"; readonly says: string };

async function madeBy(opened: Opened, edit: DeskEdit, now: Date): Promise<Outcome> {
  const { journal } = opened;
  switch (edit.op) {
    case "undo": {
      const last = journal.done.at(-1);
      if (last === undefined) return { is: "refused", says: "There is nothing to undo." };
      const left = { done: journal.done.slice(0, -1), undone: [...journal.undone, last] };
      return { is: "made", file: last.file, text: takenBack(textOf(opened, last.file), last), journal: left };
    }
    case "redo": {
      const last = journal.undone.at(-1);
      if (last === undefined) return { is: "refused", says: "There is nothing to do again." };
      const left = { done: [...journal.done, last], undone: journal.undone.slice(0, -1) };
      return { is: "made", file: last.file, text: madeAgain(textOf(opened, last.file), last), journal: left };
    }
    case "names":
      return withNames(opened, now);
    case "replace": {
      const { text, times } = replacedWords(opened, edit.find, edit.by);
      return {
        is: "made",
        file: "transcript.vtt",
        text,
        says: times === 1 ? "1 place changed." : `${times} places changed.`,
      };
    }
    case "text": {
      const made = await withText(opened, edit.text, edit.isSure);
      return "is" in made ? made : { is: "made", file: "transcript.vtt", ...made };
    }
    case "let":
      return letStand(opened, edit, now);
    case "point":
      return pointed(opened, edit.segment, edit.at);
    default:
      return isOrderEdit(edit) ? orderEdited(opened, textOf(opened, "episode.md"), edit) : captionEdit(opened, edit);
  }
}

/** A finding that was looked at and stands: with a reason, and somebody who answers for it. */
function letStand(
  opened: Opened,
  { rule, at, why, by }: Extract<DeskEdit, { readonly op: "let" }>,
  now: Date,
): Outcome {
  const [reason, name] = [why, by].map((text) => text.replace(/\s+/g, " ").trim());
  if (!reason || !name) return { is: "refused", says: "Say why it stands, and who answers for it." };
  const dated = DateTime.fromJSDate(now, { zone: opened.programme.timezone }).toFormat("yyyy-LL-dd");
  const text = withAcceptance(textOf(opened, "episode.md"), { rule, at, dated, why: reason, by: name });
  if (text === null)
    return { is: "refused", says: "`accepted` in episode.md is no list that this can be added to: add it by hand." };
  return { is: "made", file: "episode.md", text, says: "It is off the list." };
}

/** A segment that begins where somebody heard it, between those beside it. */
function pointed(opened: Opened, slug: string, at: number | null): Outcome {
  const { segments } = opened.episode;
  const k = segments.findIndex((segment) => segment.slug === slug);
  const [before, own, after] = [segments[k - 1], segments[k], segments[k + 1]];
  if (own === undefined) return { is: "refused", says: `There is no segment ${slug}.` };
  if (at !== null && ((before !== undefined && at <= before.in) || at < 0))
    return { is: "refused", says: `It would begin before “${before?.title ?? "the programme"}” does.` };
  const latest = after?.in ?? programmeEnd(opened.episode);
  if (at !== null && at >= latest)
    return {
      is: "refused",
      says: `It would begin after “${after?.title ?? "the programme"}” ${after === undefined ? "ends" : "does"}.`,
    };
  return { is: "made", file: "episode.md", text: withInPoint(textOf(opened, "episode.md"), slug, at) };
}

async function captionEdit(
  opened: Opened,
  edit: Exclude<
    DeskEdit,
    DeskOrderEdit | { readonly op: "undo" | "redo" | "names" | "replace" | "point" | "let" | "text" }
  >,
): Promise<Outcome> {
  const first = "caption" in edit ? edit.caption : edit.from;
  const cue = opened.cues[first];
  if (cue === undefined) return { is: "refused", says: "There is no such caption." };
  switch (edit.op) {
    case "words":
      return rewritten(opened, first, edit.text, edit.isWhole);
    case "split":
      return soundIn(cue) === null
        ? split(opened, first, edit.word)
        : { is: "refused", says: "A sound is not split: change its words." };
    case "join":
      return joined(opened, first);
    case "voice":
      return voiced(opened, edit.from, edit.to, edit.voice);
    case "accept":
      return accepted(opened, edit.from, edit.to);
  }
}

/** Names as the register spells them, where that is beyond doubt. */
async function withNames(opened: Opened, now: Date): Promise<Outcome> {
  const { content, programme, episode } = opened;
  const laid = layCorrections({ ...episode, corrections: [] }, now.toISOString());
  const subject = await subjectAlone(laid, { programme, day: now.toISOString().slice(0, 10), content });
  const vtt = parseVtt(decodeVtt(opened.transcript.bytes).text);
  const splices = namesToFix(subject).flatMap((fix) => {
    const splice = spliceOf(fix, vtt);
    return splice === null ? [] : [splice];
  });
  const says = splices.length === 1 ? "1 name changed." : `${splices.length} names changed.`;
  return { is: "made", file: "transcript.vtt", text: spliceText(vtt.text, splices), says };
}
