import { DateTime, IANAZone } from "luxon";
import { shortened } from "../model/excerpt.ts";

const DATE = /^(\d{4})-(\d\d)-(\d\d)$/;
const DATE_TIME = /^\d{4}-\d\d-\d\dT(\d\d):(\d\d)(?::(\d\d)(?:\.\d{1,3})?)?(Z|[+-](\d\d):(\d\d))?$/;

/** A date and time whose form is right, not yet set in a zone. */
export interface WrittenMoment {
  readonly text: string;
  readonly hasOffset: boolean;
}

/** What is wrong with a date or a time, and the mend. */
export interface Wrong {
  readonly rule: string;
  readonly says: string;
  readonly mend: string;
}

export type Told<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly wrong: Wrong };

const wrong = (rule: string, says: string, mend: string): { ok: false; wrong: Wrong } => ({
  ok: false,
  wrong: { rule, says, mend },
});

/** True when the calendar has the day: `2026-02-29` is none. */
export function isDay(text: string): boolean {
  return DATE.test(text) && DateTime.fromISO(text, { zone: "UTC" }).isValid;
}

/** True for an IANA zone that is a place or UTC: not `EST`, not `+01:00`. */
export function isPlaceZone(text: string): boolean {
  const form = text === "UTC" || /^[A-Za-z][A-Za-z0-9_+-]*(\/[A-Za-z0-9_+-]+)+$/.test(text);
  return form && IANAZone.isValidZone(text);
}

/** Reads the form of an ISO 8601 date and time, offset or none. The grammar comes first: libraries accept far more. */
export function readMoment(text: string): Told<WrittenMoment> {
  const found = DATE_TIME.exec(text);
  if (found === null) {
    const spaced = text.replace(/^(\S+)[ t](\S+)$/, "$1T$2").replace(/z$/, "Z");
    const mend = DATE_TIME.test(spaced)
      ? `Write it as ${spaced}.`
      : "Write it like 2026-10-05T18:30:00, with an offset (+01:00) if need be.";
    return wrong("date-unreadable", `“${shorten(text)}” is not a date and time.`, mend);
  }
  const [, hour, minute, second, offset, offsetHour, offsetMinute] = found;
  if (Number(hour) > 23 || Number(minute) > 59 || Number(second ?? 0) > 59) {
    return wrong(
      "date-unreadable",
      `“${text}” has a time of day that no clock shows.`,
      "Hours run to 23, minutes and seconds to 59.",
    );
  }
  if (Number(offsetHour ?? 0) > 14 || Number(offsetMinute ?? 0) > 59) {
    return wrong(
      "date-unreadable",
      `The offset in “${text}” is none that a place has.`,
      "Offsets run from -12:00 to +14:00.",
    );
  }
  const day = text.slice(0, 10);
  if (!isDay(day)) return wrong("date-not-in-calendar", `There is no day ${day}.`, "Check the month and the day.");
  return { ok: true, value: { text, hasOffset: offset !== undefined } };
}

/**
 * Sets a moment in the programme's zone.
 * @returns ISO 8601 with the zone's offset; or what is wrong when the local time falls into a change of the clocks.
 */
export function setInZone({ text, hasOffset }: WrittenMoment, zone: string): Told<string> {
  if (hasOffset) return { ok: true, value: iso(DateTime.fromISO(text, { zone })) };
  const local = DateTime.fromISO(text, { zone });
  const plain = DateTime.fromISO(text, { zone: "UTC" });
  const moved = local.hour !== plain.hour || local.minute !== plain.minute || local.day !== plain.day;
  const possible = local.getPossibleOffsets();
  if (moved) {
    const says = `In ${zone} the clocks went forward over ${text}: that time never came.`;
    return wrong(
      "date-skipped",
      says,
      `Write the time that was meant with its offset; an hour later it was ${iso(local)}.`,
    );
  }
  if (possible.length > 1) {
    const choices = possible.map(iso).join(" or ");
    return wrong(
      "date-twice",
      `In ${zone} the clocks went back over ${text}: that time came twice.`,
      `Write which one, with its offset: ${choices}.`,
    );
  }
  return { ok: true, value: iso(local) };
}

/** The offset that the zone had at a moment, when the moment was written with another one; null when they agree. */
export function strangeOffset({ text, hasOffset }: WrittenMoment, zone: string): string | null {
  if (!hasOffset) return null;
  const there = DateTime.fromISO(text, { zone });
  return there.offset === DateTime.fromISO(text, { setZone: true }).offset ? null : iso(there);
}

function iso(moment: DateTime): string {
  const text = moment.toISO({ suppressMilliseconds: true });
  if (text === null) throw new Error("a moment that was tested can be written");
  return text;
}

const shorten = (text: string): string => shortened(text, 40);
