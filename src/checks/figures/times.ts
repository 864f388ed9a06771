import { type Found, type Line, numberAt } from "./line.ts";

const TIME_BEFORE = /^(?:at|by|until|till|from|around|about|before|after|between|since)$/;
const TIME_AFTER = /^(?:am|pm|in|this|tomorrow|tonight|today|on|at|and|yesterday|last|every|o'clock)$/;

/** A time of day: `ten to seven`, `half past six`, `6.42 in the morning`, `six forty two`, `18:30`, `6pm`, `four o'clock`. */
export function readTime(line: Line, at: number): Found | null {
  return written(line, at) ?? past(line, at) ?? oClock(line, at) ?? twoNumbers(line, at);
}

/** Minutes past midnight; `pm` adds half a day to hours up to 11. */
function time(line: Line, from: number, to: number, hour: number, minute: number): Found | null {
  if (hour > 23 || minute > 59) return null;
  const says = line.folds.slice(to, to + 4).join(" ");
  const late = /^(?:pm|p\.m|in the (?:afternoon|evening)|at night|tonight)/.test(says) && hour < 12;
  const value = ((hour + (late ? 12 : 0)) * 60 + minute + 1440) % 1440;
  const end = /^[ap]\.?m\.?$/.test(line.folds[to] ?? "") ? to + 1 : to;
  return { kind: "time", value, unit: null, per: null, role: "plain", from, to: end };
}

function written(line: Line, at: number): Found | null {
  const own = line.folds[at] ?? "";
  const half = /^(\d{1,2})(?:[.:](\d\d))?(am|pm)$/.exec(own);
  if (half !== null) {
    const hour = (Number(half[1]) % 12) + (half[3] === "pm" ? 12 : 0);
    return time(line, at, at + 1, hour, Number(half[2] ?? 0));
  }
  const found = /^(\d{1,2})([.:])([0-5]\d)$/.exec(own);
  if (found === null) return null;
  const [before, after] = [line.folds[at - 1] ?? "", line.folds[at + 1] ?? ""];
  const told = found[2] === ":" || /^(?:am|pm|in|this|tomorrow|tonight)$/.test(after);
  const placed =
    /^(?:at|by|until|till|past|and)$/.test(before) && (TIME_AFTER.test(after) || line.words[at]?.after !== "");
  return told || placed ? time(line, at, at + 1, Number(found[1]), Number(found[3])) : null;
}

const FRACTIONS = new Map([
  ["half", 30],
  ["quarter", 15],
]);

/** `twenty past eleven`, `a quarter to six`, `half past six`. */
function past(line: Line, at: number): Found | null {
  const { folds } = line;
  const article = folds[at] === "a" ? at + 1 : at;
  const fraction = FRACTIONS.get(folds[article] ?? "");
  const number = fraction === undefined ? numberAt(line, at) : null;
  const minutes = fraction ?? number?.value ?? 0;
  const next = number === null ? article + 1 : folds[number.to] === "minutes" ? number.to + 1 : number.to;
  const way = folds[next] ?? "";
  if (minutes < 1 || minutes > 30 || !Number.isInteger(minutes) || !/^(?:past|to)$/.test(way)) return null;
  const hour = numberAt(line, next + 1);
  if (hour === null || hour.ordinal || hour.value < 1 || hour.value > 12) return null;
  if (way === "to" && fraction === undefined) {
    // `five to ten people`, `from two to six`: no time.
    const after = folds[hour.to] ?? "";
    const closed = line.words[hour.to - 1]?.after !== "" || hour.to === folds.length;
    if (folds[at - 1] === "from" || minutes % 5 !== 0 || !(closed || TIME_AFTER.test(after))) return null;
  }
  return way === "to"
    ? time(line, at, hour.to, (hour.value + 23) % 24, 60 - minutes)
    : time(line, at, hour.to, hour.value, minutes);
}

function oClock(line: Line, at: number): Found | null {
  const hour = numberAt(line, at);
  return hour !== null && line.folds[hour.to] === "o'clock" && hour.value <= 24
    ? time(line, at, hour.to + 1, hour.value % 24, 0)
    : null;
}

/** `seven twenty eight tomorrow morning`: an hour, then ten minutes or more, both in words. */
function twoNumbers(line: Line, at: number): Found | null {
  const hour = numberAt(line, at);
  if (hour === null || hour.value < 1 || hour.value > 12 || hour.to !== at + 1 || /\d/.test(line.folds[at] ?? ""))
    return null;
  if (line.words[at]?.after !== "") return null;
  const minute = numberAt(line, hour.to);
  if (minute === null || minute.ordinal || minute.value < 10 || minute.value > 59) return null;
  const told = TIME_BEFORE.test(line.folds[at - 1] ?? "") || TIME_AFTER.test(line.folds[minute.to] ?? "");
  return told ? time(line, at, minute.to, hour.value, minute.value) : null;
}
