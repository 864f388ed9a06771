import { readFileSync } from "node:fs";
import { join } from "node:path";
import { groupOf } from "../checks/index.ts";
import type { Reading } from "./report.ts";

/** The lines of the files below `content`; a file is read when the first of its lines is asked for. */
export function readingOf(content: string): Reading {
  const files = new Map<string, readonly string[]>();
  const linesOf = (file: string): readonly string[] => {
    const known = files.get(file);
    if (known !== undefined) return known;
    const lines = textOf(join(content, file)).split(/\r\n|\r|\n/);
    files.set(file, lines);
    return lines;
  };
  return { lineOf: ({ file, line }) => linesOf(file)[line - 1] ?? null, groupOf };
}

/** A file that can't be read has no lines to show: why it can't is a finding of its own. */
function textOf(path: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch {
    return "";
  }
}
