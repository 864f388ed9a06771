import type { Finding } from "../../model/finding.ts";
import type { RawBlock, Unplaced } from "../../model/spoken.ts";
import type { Text } from "../text.ts";
import { asWords, lostWords, type Reading, tidyLines } from "./reading.ts";
import { readClock } from "./writtenTime.ts";

/** The fields of an event where no `Format:` line gives them. */
const FIELDS = "layer,start,end,style,name,marginl,marginr,marginv,effect,text".split(",");

export const looksSubStation = (text: string): boolean =>
  /^\s*(?:;[^\n]*\n\s*)*\[(?:script info|v4\+? styles|events)\]/i.test(text) ||
  /^Dialogue:\s*[^,\n]*,\d+:\d\d:\d\d/m.test(text);

/**
 * Advanced SubStation Alpha and the older SubStation Alpha: no standard; events as lines of comma-separated fields, the
 * last of which is the text. Who speaks stands in `Name` (once `Actor`). Common practice, no source. Drawings are not
 * words; comments of the file's writer are kept as notes.
 */
export function parseSubStation(source: Text): Reading {
  const [rawBlocks, unplaced, findings]: [RawBlock[], Unplaced[], Finding[]] = [[], [], []];
  let fields: readonly string[] = FIELDS;
  let section = "events";
  source.text.split("\n").forEach((written, n) => {
    const line = written.trim();
    const at = { file: source.file, line: n + 1, column: 1 };
    section = /^\[(.+)\]$/.exec(line)?.[1]?.toLowerCase() ?? section;
    const [, kind = "", rest = ""] = /^(Format|Dialogue|Comment):\s*(.*)$/i.exec(line) ?? [];
    if (section !== "events" || kind === "") return;
    if (kind.toLowerCase() === "format") {
      fields = rest
        .toLowerCase()
        .split(",")
        .map((field) => field.trim());
      return;
    }
    const cells = rest.split(",");
    const cell = (...names: readonly string[]) =>
      cells[fields.findIndex((field) => names.includes(field))]?.trim() ?? "";
    const text = wordsOf(cells.slice(fields.length - 1).join(","));
    const [start, end] = [readClock(cell("start")), readClock(cell("end"))];
    if (text === "") return;
    if (kind.toLowerCase() === "comment") unplaced.push({ text: asWords(text), at });
    else if (start === null || end === null) {
      unplaced.push({ text: asWords(text), at });
      findings.push(lostWords(at));
    } else rawBlocks.push({ start, end, voice: cell("name", "actor") || null, text, at });
  });
  return { rawBlocks, unplaced, findings };
}

/** What is read of an event's text: without overrides in braces and drawings, `\N` and `\n` as line ends, `\h` a blank. */
function wordsOf(text: string): string {
  let drawing = false;
  const runs = text.split(/(\{[^{}]*\})/).map((run) => {
    const scale = /^\{.*\\p(\d+)/.exec(run)?.[1];
    if (scale !== undefined) drawing = scale !== "0";
    return run.startsWith("{") && run.endsWith("}") ? (run.includes("\\") ? "" : run) : drawing ? "" : run;
  });
  return tidyLines(
    runs
      .join("")
      .replaceAll("\\h", " ")
      .split(/\\[Nn]/),
  );
}
