import { z } from "zod";
import type { BeginAsked } from "../actions/desk/begin.ts";
import { CORRECTION_KINDS } from "../model/correctionKinds.ts";
import type { DeskDraft, DeskEdit } from "../model/desk.ts";
import { CAUTIONS, SEGMENT_KINDS, SHOWN } from "../model/episode.ts";

/** What the desk's page may send. A page of an older program, or another program, sends something else. */

const count = z.int().min(0);
const moment = z.number().finite();
const said = z.string().nullable();

const Edit = z.discriminatedUnion("op", [
  z.strictObject({ op: z.literal("words"), caption: count, text: z.string(), isWhole: z.boolean() }),
  z.strictObject({ op: z.literal("split"), caption: count, word: count }),
  z.strictObject({ op: z.literal("join"), caption: count }),
  z.strictObject({ op: z.literal("voice"), from: count, to: count, voice: said }),
  z.strictObject({ op: z.literal("accept"), from: count, to: count }),
  z.strictObject({ op: z.literal("point"), segment: z.string(), at: moment.nullable() }),
  z.strictObject({
    op: z.literal("let"),
    // The names of rules, and nothing that would mean something in the file they are written to.
    rule: z.string().regex(/^[a-z][a-z0-9-]*$/),
    at: moment.nullable(),
    why: z.string(),
    by: z.string(),
  }),
  z.strictObject({ op: z.literal("text"), text: z.string(), isSure: z.boolean() }),
  z.strictObject({ op: z.literal("replace"), find: z.string(), by: z.string() }),
  z.strictObject({ op: z.literal("names") }),
  z.strictObject({ op: z.literal("title"), segment: z.string(), title: z.string() }),
  z.strictObject({ op: z.literal("kind"), segment: z.string(), kind: z.enum(SEGMENT_KINDS) }),
  z.strictObject({ op: z.literal("withhold"), segment: z.string(), show: z.enum(SHOWN).nullable() }),
  z.strictObject({
    op: z.literal("rights"),
    segment: z.string(),
    field: z.enum(["until", "holder"]),
    value: z.string(),
  }),
  z.strictObject({ op: z.literal("caution"), segment: z.string(), caution: z.enum(CAUTIONS), isOn: z.boolean() }),
  z.strictObject({ op: z.literal("edges"), segment: z.string(), isHeard: z.boolean() }),
  z.strictObject({ op: z.literal("splitSegment"), segment: z.string(), at: moment }),
  z.strictObject({ op: z.literal("joinSegment"), segment: z.string() }),
  z.strictObject({ op: z.literal("cut"), cut: count }),
  z.strictObject({ op: z.literal("moveCut"), cut: count, from: moment, to: moment }),
  z.strictObject({ op: z.literal("addCut"), from: moment, to: moment, why: z.string() }),
  z.strictObject({ op: z.literal("dropCut"), cut: count }),
  z.strictObject({ op: z.literal("undo") }),
  z.strictObject({ op: z.literal("redo") }),
]) satisfies z.ZodType<DeskEdit>;

export const EditAsked = z.strictObject({ version: z.string(), edit: Edit });

const stretch = z.strictObject({ from: moment, to: moment, why: z.string().min(1) });
export const WebFileAsked = z.strictObject({ more: z.array(stretch) });
export const MakeAsked = WebFileAsked.extend({ version: z.string() });

export const DraftAsked = z.strictObject({
  begun: z.iso.datetime(),
  draft: z.strictObject({
    kind: z.enum(CORRECTION_KINDS).nullable(),
    segment: said,
    at: said,
    field: said,
    said,
    now: said,
    every: z.boolean(),
    signed: said,
    supersedes: said,
    note: said,
  }),
}) satisfies z.ZodType<DeskDraft>;

export const EnterAsked = DraftAsked.extend({ digest: z.string() });
export const PublishAsked = z.strictObject({ digest: said });
export const PassagesAsked = z.strictObject({ complaint: z.string() });

/** Files by the names that sending them gave. */
export const BeginShape = z.strictObject({
  id: z.string(),
  transcript: z.string(),
  runningOrder: said,
  media: z.array(z.string()),
  cut: z.array(z.string()),
  keepCues: z.boolean(),
}) satisfies z.ZodType<BeginAsked>;
