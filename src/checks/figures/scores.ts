import { type Found, type Line, numberAt } from "./line.ts";

const POINTS = /^(?:goals?|points?|tries|runs?|sets?|games?|frames?|legs)$/;

/** A scoreline: `by three goals to one`, `2–0`, `two nil`, `Hallan Herons 1, Sollen Town 2`. */
export function readScore(line: Line, at: number): Found | null {
  return dashed(line, at) ?? spoken(line, at) ?? result(line, at);
}

const score = (from: number, to: number, value: number, against: number): Found => ({
  kind: "score",
  value,
  against,
  unit: null,
  per: null,
  role: "plain",
  from,
  to,
});

function dashed(line: Line, at: number): Found | null {
  const found = /^(\d{1,3})[–-](\d{1,3})$/.exec(line.folds[at] ?? "");
  if (found === null || !line.isContest) return null;
  return score(at, at + 1, Number(found[1]), Number(found[2]));
}

/** `three goals to one`, `three to one` in a contest, `two nil`. */
function spoken(line: Line, at: number): Found | null {
  const first = numberAt(line, at);
  if (first === null || first.ordinal || !Number.isInteger(first.value) || first.value > 200) return null;
  const pointed = POINTS.test(line.folds[first.to] ?? "");
  const next = pointed ? first.to + 1 : first.to;
  const second = line.folds[next] === "to" ? numberAt(line, next + 1) : null;
  if (second !== null && !second.ordinal && (pointed || (line.isContest && line.folds[at - 1] === "by"))) {
    return score(at, second.to, first.value, second.value);
  }
  if (/^(?:nil|love)$/.test(line.folds[first.to] ?? "")) return score(at, first.to + 1, first.value, 0);
  return null;
}

const NUMERAL = /^\d{1,3}$/;
/** A result is no longer than this. Words. */
const LONGEST = 12;

/** A whole sentence of two names, each with its number. */
function result(line: Line, at: number): Found | null {
  const { words, folds } = line;
  if (!NUMERAL.test(folds[at] ?? "") || words.length > LONGEST) return null;
  const numerals = folds.flatMap((fold, n) => (NUMERAL.test(fold) ? [n] : []));
  const [first, second] = numerals;
  if (first !== at || second === undefined || numerals.length !== 2 || second !== words.length - 1) return null;
  const named = words.every(({ text }, n) => numerals.includes(n) || /^\p{Lu}/u.test(text));
  return named && first > 0 && second > first + 1
    ? score(0, second + 1, Number(folds[first]), Number(folds[second]))
    : null;
}
