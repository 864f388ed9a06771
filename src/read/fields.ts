import { z } from "zod";
import { formatClock, parseClock } from "../model/clock.ts";
import { shortened } from "../model/excerpt.ts";
import { SLUG, slugFrom } from "../model/slugs.ts";
import { UNPRINTABLE } from "../model/unseen.ts";
import { isDay, readMoment, type WrittenMoment } from "./dates.ts";
import { findNearest, listed } from "./nearest.ts";

/** What is wrong with a value. `says` is a clause that follows the key's name: “is the number 27, not text”. */
export interface Fault {
  readonly rule: string;
  readonly says: string;
  readonly mend: string;
}

export type Judged<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly fault: Fault };
export type Judge<T> = (written: unknown) => Judged<T>;

/** What an editor is told about a key. */
export interface Told {
  readonly description: string;
  readonly examples?: readonly unknown[];
  readonly [keyword: string]: unknown;
}

const good = <T>(value: T): Judged<T> => ({ ok: true, value });
export const bad = (rule: string, says: string, mend: string): { ok: false; fault: Fault } => ({
  ok: false,
  fault: { rule, says, mend },
});

/** A leaf of a shape: judged by `judge` when content is read, described by `told` in the JSON Schema. */
export function field<T>(judge: Judge<T>, told: Told) {
  return z
    .unknown()
    .transform((written, context): T => {
      const judged = judge(written);
      if (judged.ok) return judged.value;
      context.addIssue({ code: "custom", params: { fault: judged.fault } });
      return z.NEVER;
    })
    .meta({ ...told });
}

const show = (text: string): string => shortened(text, 40);

/** Text of any kind, with nothing that can't be printed. A block's last line break is YAML's, not the writer's. */
function judgeText(written: unknown): Judged<string> {
  if (written === null)
    return bad("value-empty", "is empty", "Write its value, or take the line out if it may be missing.");
  if (typeof written !== "string") {
    const what =
      typeof written === "number"
        ? `the number ${written}`
        : typeof written === "boolean"
          ? `\`${written}\``
          : "a list or a map";
    const mend = typeof written === "object" ? "Write words." : `Put it in quotes: "${written}".`;
    return bad("text-wanted", `is ${what}, not text`, mend);
  }
  const text = written.replace(/\n$/, "");
  if (UNPRINTABLE.test(text))
    return bad(
      "text-control",
      "holds a character that can't be printed",
      "Take the escape (a backslash and what follows) out.",
    );
  return good(text);
}

/** One line of text, maybe empty. */
export const judgeAnyLine: Judge<string> = (written) => {
  const judged = judgeText(written);
  if (!judged.ok) return judged;
  if (/[\r\n\u2028\u2029]/.test(judged.value))
    return bad("text-one-line", "runs over more than one line", "Write it on one line, or after >- if it is long.");
  if (judged.value !== judged.value.trim())
    return bad("text-blanks", "begins or ends with a blank", "Take the blank out.");
  return judged;
};

/** One line of text with something in it. */
export const judgeLine: Judge<string> = (written) => {
  const judged = judgeAnyLine(written);
  return judged.ok && judged.value === ""
    ? bad("value-empty", "is empty", "Write its value, or take the line out if it may be missing.")
    : judged;
};

const LONGEST = 100 * 3_600_000;

/** A time as text, in whole milliseconds. */
export const judgeClock: Judge<number> = (written) => {
  if (typeof written === "number")
    return bad("time-unreadable", `is the number ${written}, not a time`, clockMend(written));
  const judged = judgeLine(written);
  if (!judged.ok) return judged;
  const ms = parseClock(judged.value);
  if (ms === null) return badClock(judged.value);
  return ms < LONGEST
    ? good(ms)
    : bad("time-unreadable", `is “${show(judged.value)}”, over a hundred hours`, "Check the minutes.");
};

function clockMend(written: number): string {
  const asClock = String(written).replace(".", ":");
  if (parseClock(asClock) !== null) return `Write minutes and seconds with a colon: ${asClock}.`;
  const whole = Number.isInteger(written) && written >= 0 && written * 1000 < LONGEST;
  return whole
    ? `Write minutes and seconds: ${written} seconds are ${formatClock(written * 1000)}.`
    : "Write minutes and seconds, as in 3:41.";
}

function badClock(text: string): { ok: false; fault: Fault } {
  const no = (why: string, mend: string) => bad("time-unreadable", `is “${show(text)}”: ${why}`, mend);
  const pieces = /^(?:(\d+):)?(\d+):(\d+)([.,]\d+)?$/.exec(text);
  if (pieces === null) {
    const timecode = /^(\d\d:\d\d:\d\d)[:;]\d\d$/.exec(text);
    if (timecode !== null) return no("a timecode with frames", `Write the time without frames: ${timecode[1]}.`);
    return no("that is no time", "Write m:ss or h:mm:ss, as in 3:41 or 1:03:41.5.");
  }
  const [, hours, minutes = "", seconds = "", decimals = ""] = pieces;
  if (Number(seconds) > 59) {
    const over = `${Number(minutes) + Math.floor(Number(seconds) / 60)}:${String(Number(seconds) % 60).padStart(2, "0")}`;
    const meant = hours === undefined && Number(seconds) < 600 ? `, or ${over} if that is meant` : "";
    return no("seconds run to 59", `Write the seconds as 00 to 59${meant}.`);
  }
  if (hours !== undefined && Number(minutes) > 59)
    return no("minutes run to 59 where hours stand before them", "Write the minutes as 00 to 59.");
  if (seconds.length !== 2 || (hours !== undefined && minutes.length !== 2)) {
    const full = [hours, hours === undefined ? minutes : minutes.padStart(2, "0"), seconds.padStart(2, "0")].filter(
      (piece) => piece !== undefined,
    );
    return no(
      "two digits are wanted after a colon",
      seconds.length > 2 ? "Write the seconds as 00 to 59." : `Write ${full.join(":")}.`,
    );
  }
  if (decimals.startsWith(",")) return no("a decimal comma", `Write a full stop: ${text.replace(",", ".")}.`);
  return no(
    "a time is kept to the thousandth of a second",
    `Write ${text.slice(0, text.length - decimals.length + 4)}.`,
  );
}

/** A date and time of the right form, to be set in the programme's zone. */
export const judgeMoment: Judge<WrittenMoment> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok) return judged;
  const told = readMoment(judged.value);
  return told.ok
    ? good(told.value)
    : bad(told.wrong.rule, `is no moment: ${told.wrong.says.replace(/\.$/, "")}`, told.wrong.mend);
};

/** A day of the calendar. */
export const judgeDay: Judge<string> = (written) => {
  const judged = judgeLine(written);
  if (!judged.ok || isDay(judged.value)) return judged;
  return bad(
    "date-unreadable",
    `is “${show(judged.value)}”, which is no day`,
    "Write a day that the calendar has, like 2027-01-01.",
  );
};

/** One of a few words. */
export function judgeOneOf<const W extends string>(words: readonly W[]): Judge<W> {
  return (written) => {
    const word = words.find((known) => known === written);
    if (word !== undefined) return good(word);
    const judged = judgeLine(written);
    if (!judged.ok) return judged;
    const near = findNearest(judged.value, words);
    const meant = near === undefined ? "" : `Did you mean \`${near}\`? `;
    return bad("value-unknown", `can't be “${show(judged.value)}”`, `${meant}It is ${listed(words)}.`);
  };
}

export const judgeBoolean: Judge<boolean> = (written) =>
  typeof written === "boolean"
    ? good(written)
    : bad("true-or-false", "is neither true nor false", "Write true or false, without quotes.");

/** A whole number from `least`. */
export const judgeWhole =
  (least: number): Judge<number> =>
  (written) =>
    typeof written === "number" && Number.isSafeInteger(written) && written >= least
      ? good(written)
      : bad(
          "number-wanted",
          `is not a whole number from ${least}`,
          "Write digits alone, without quotes, commas or units.",
        );

/** A slug, which becomes an address; `reserved` ones are taken. */
export function judgeSlug(reserved: readonly string[] = []): Judge<string> {
  return (written) => {
    const judged = judgeLine(written);
    if (!judged.ok) return judged;
    const slug = judged.value;
    if (/[/\\]|\.\./.test(slug))
      return bad(
        "slug-leaves-folder",
        `is “${show(slug)}”, which would climb out of the episode's folder`,
        "Leave out slashes and full stops.",
      );
    if (!SLUG.test(slug) || slug.length > 100) {
      const near = slugFrom(slug);
      const like = near === "" ? "" : `: ${show(near)}`;
      return bad(
        "slug-unreadable",
        `is “${show(slug)}”, which is no slug`,
        `Use small letters a to z, digits and single hyphens${like}.`,
      );
    }
    return reserved.includes(slug)
      ? bad("slug-reserved", `is “${slug}”, an address that the site keeps for itself`, "Choose another slug.")
      : good(slug);
  };
}
