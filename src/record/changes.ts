import { diffLines, diffWordsWithSpace } from "diff";
import { shortened } from "../model/excerpt.ts";

/** A change of a text, in words. */
export interface WordChange {
  /** In the text as it is now, from 1. */
  readonly line: number;
  readonly was: string;
  readonly is: string;
}

/** Long texts with little in common are not compared beyond this many edits. */
const MOST_EDITS = 2000;

/** Which words changed between two texts, in order, with the lines where they stand now. */
export function wordChanges(before: string, after: string): readonly WordChange[] {
  const hunks = diffLines(before, after, { maxEditLength: MOST_EDITS });
  if (hunks === undefined) return [{ line: 1, was: "(all of it)", is: "(another text)" }];
  const changes: WordChange[] = [];
  let line = 1;
  for (const [index, hunk] of hunks.entries()) {
    const next = hunks[index + 1];
    if (hunk.removed) {
      const added = next?.added === true ? next.value : "";
      changes.push(...inWords(hunk.value, added, line));
    } else {
      if (hunk.added && hunks[index - 1]?.removed !== true) changes.push(...inWords("", hunk.value, line));
      line += hunk.count;
    }
  }
  return changes;
}

function inWords(before: string, after: string, from: number): readonly WordChange[] {
  const runs = diffWordsWithSpace(before, after, { maxEditLength: MOST_EDITS });
  if (runs === undefined) return [{ line: from, was: before, is: after }];
  const changes: WordChange[] = [];
  let line = from;
  let open: { line: number; was: string; is: string } | null = null;
  for (const run of runs) {
    if (run.added || run.removed) {
      open ??= { line, was: "", is: "" };
      if (run.removed) open.was += run.value;
      else open.is += run.value;
    } else if (open !== null) {
      changes.push(open);
      open = null;
    }
    if (!run.removed) line += run.value.split("\n").length - 1;
  }
  if (open !== null) changes.push(open);
  return changes;
}

/** Which members changed between two JSON values, by path: `segments.2.title`. */
export function memberChanges(
  before: unknown,
  after: unknown,
  path = "",
): readonly { readonly path: string; readonly was: unknown; readonly is: unknown }[] {
  if (isObject(before) && isObject(after)) {
    const names = [...new Set([...Object.keys(before), ...Object.keys(after)])];
    return names.flatMap((name) => memberChanges(before[name], after[name], path === "" ? name : `${path}.${name}`));
  }
  return JSON.stringify(before) === JSON.stringify(after) ? [] : [{ path, was: before, is: after }];
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null;

const MOST_NAMED = 5;

/** The changes as people read them: `"eleven" became "nine" (line 12)`. */
export function wordsSaid(changes: readonly WordChange[]): string {
  return listed(changes.map(({ line, was, is }) => `${said(was, is)} (line ${line})`));
}

export function membersSaid(changes: ReturnType<typeof memberChanges>): string {
  return listed(changes.map(({ path, was, is }) => `${path}: ${said(text(was), text(is))}`));
}

const text = (value: unknown): string =>
  value === undefined ? "" : typeof value === "string" ? value : JSON.stringify(value);

function said(was: string, is: string): string {
  if (was === "") return `"${short(is)}" was put in`;
  return is === "" ? `"${short(was)}" was taken out` : `"${short(was)}" became "${short(is)}"`;
}

function listed(parts: readonly string[]): string {
  const rest = parts.length - MOST_NAMED;
  return parts.slice(0, MOST_NAMED).join("; ") + (rest > 0 ? `; and ${rest} more` : "");
}

const short = (words: string): string => shortened(words.replace(/\s+/g, " ").trim(), 80);
