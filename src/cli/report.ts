import { dirname, isAbsolute, join, relative } from "node:path";
import { formatClock } from "../model/clock.ts";
import { blocks, type Finding, type Place } from "../model/finding.ts";
import { grouped } from "../model/grouped.ts";
import { visibleLine } from "../model/unseen.ts";

export const FORMATS = ["text", "json", "github"] as const;
export type Format = (typeof FORMATS)[number];

/** Findings in a stable order: by file, then line and column, then rule. */
export function sorted(findings: readonly Finding[]): readonly Finding[] {
  const text = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
  return [...findings].sort(
    (a, b) => text(a.at.file, b.at.file) || a.at.line - b.at.line || a.at.column - b.at.column || text(a.rule, b.rule),
  );
}

/** How a finding of a file below `content` is named to whoever called the command. */
const fileOf = ({ at: { file } }: Pick<Finding, "at">, content: string): string =>
  isAbsolute(file) ? relative(".", file) : join(content, file);

/** What a report for people shows besides the findings. */
export interface Reading {
  /** The line that a place names, as it is written; null where it can't be read. */
  lineOf(place: Place): string | null;
  /** What a rule is about, in a word; null: the files themselves. */
  groupOf(rule: string): string | null;
}

/** How much of a long line is shown on each side of the place. Characters. */
const AROUND = 60;

/** For people: by folder and group, each with its line and a caret under the place. A summary with counts stands last. */
export function asText(findings: readonly Finding[], content: string, reading?: Reading): string {
  const headingOf = ({ at, rule }: Finding): string =>
    reading === undefined ? "" : `${dirname(at.file)}: ${reading.groupOf(rule) ?? "files"}`;
  const groups = [...grouped(findings, headingOf)];
  const lines = groups.flatMap(([heading, own]) => [
    ...(heading === "" ? [] : [visibleLine(heading), ""]),
    ...own.flatMap((finding) => oneAsText(finding, content, reading)),
    ...(heading === "" ? [] : [""]),
  ]);
  return [...lines, summary(findings, reading)].join("\n");
}

function oneAsText(finding: Finding, content: string, reading: Reading | undefined): string[] {
  const { at, level, rule, seconds, says, mend, see = [] } = finding;
  const time = seconds === null || reading === undefined ? "" : `${formatClock(seconds * 1000)}  `;
  return [
    `${fileOf(finding, content)}:${at.line}:${at.column}  ${time}${level}  ${rule}`,
    ...lineWithCaret(reading?.lineOf(at) ?? null, at.column),
    `    ${says}`,
    `    ${mend}`,
    ...see.map((place) => `    See ${fileOf({ at: place }, content)}:${place.line}:${place.column}.`),
  ].map(visibleLine);
}

/** The line, cut to what stands around the column, and a caret under it. */
function lineWithCaret(line: string | null, column: number): string[] {
  if (line === null || line.trim() === "") return [];
  const from = Math.max(0, column - 1 - AROUND);
  const before = from === 0 ? "" : "…";
  const shown = before + line.slice(from, column - 1 + AROUND) + (line.length > column - 1 + AROUND ? "…" : "");
  // Tabs keep their width, so that the caret stands under its character.
  const lead = (before + line.slice(from, column - 1)).replace(/[^\t]/g, " ");
  return [`    | ${shown}`, `    | ${lead}^`];
}

function summary(findings: readonly Finding[], reading: Reading | undefined): string {
  const blocking = findings.filter(blocks).length;
  const counts = `${counted(blocking, "fault")}, ${counted(findings.length - blocking, "warning")}`;
  if (reading === undefined || findings.length === 0) return counts;
  const groups = grouped(findings, ({ rule }) => reading.groupOf(rule) ?? "files");
  return `${counts}: ${[...groups].map(([group, own]) => `${group} ${own.length}`).join(", ")}`;
}

/** `1 fault`, `2 faults`. */
export const counted = (n: number, one: string): string => `${n} ${one}${n === 1 ? "" : "s"}`;

/** One JSON object, `{"findings": [...]}`, in the documented shape. */
export function asJson(findings: readonly Finding[], content: string): string {
  return JSON.stringify({
    findings: findings.map((finding) => ({
      rule: finding.rule,
      level: finding.level,
      file: fileOf(finding, content),
      line: finding.at.line,
      column: finding.at.column,
      seconds: finding.seconds,
      says: finding.says,
      mend: finding.mend,
    })),
  });
}

/** Workflow commands, one a finding, which a code host shows beside the line. */
export function asGithub(findings: readonly Finding[], content: string): string {
  return findings
    .map((finding) => {
      const level = blocks(finding) ? "error" : "warning";
      const place = `file=${escaped(fileOf(finding, content))},line=${finding.at.line},col=${finding.at.column}`;
      return `::${level} ${place},title=${escaped(finding.rule)}::${line(`${finding.says} ${finding.mend}`)}`;
    })
    .join("\n");
}

const line = (text: string): string => text.replaceAll("%", "%25").replaceAll("\r", "%0D").replaceAll("\n", "%0A");
const escaped = (text: string): string => line(text).replaceAll(":", "%3A").replaceAll(",", "%2C");

/** `reading`: given, the text shows lines and groups. */
export function formatted(findings: readonly Finding[], format: Format, content: string, reading?: Reading): string {
  switch (format) {
    case "text":
      return asText(findings, content, reading);
    case "json":
      return asJson(findings, content);
    case "github":
      return asGithub(findings, content);
  }
}
