import { DateTime } from "luxon";
import { stringify } from "yaml";
import type { Draft } from "../model/correctionDraft.ts";
import { correctionId } from "../model/correctionId.ts";
import { digestOf } from "../record/digest.ts";

/** The text of a correction's file. `dated`: ISO 8601 with offset. */
export function correctionText({ note, every, ...draft }: Draft, dated: string): string {
  const { kind, segment, at, field, said, now, signed, supersedes } = draft;
  const given = { dated, kind, segment, at, field, said, now, every: every ? true : null, signed, supersedes };
  const front = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== null));
  return `---\n${stringify(front, { lineWidth: 0 })}---\n${(note ?? "").trim()}\n`;
}

/** The moment in the programme's zone, to the second: `2026-10-06T09:40:00+01:00`. */
export function datedNow(now: Date, zone: string): string {
  const text = DateTime.fromJSDate(now, { zone }).startOf("second").toISO({ suppressMilliseconds: true });
  if (text === null) throw new Error("no moment");
  return text;
}

/**
 * The name of a correction that is to be written: the same each time that one command asks.
 * @param day `2026-10-06`. @param episode its id. @param begun when the command was called.
 */
export function newId(
  day: string,
  episode: string,
  draft: Draft,
  begun: Date,
  isTaken: (id: string) => boolean,
): string {
  return correctionId(day, digestOf(`${episode}\n${correctionText(draft, begun.toISOString())}`), isTaken);
}
