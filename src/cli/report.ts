import { join } from "node:path";
import { blocks, type Finding } from "../model/finding.ts";

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
const fileOf = ({ at }: Finding, content: string): string => join(content, at.file);

/** For people: place, level, what is wrong, the mend. A summary stands last. */
export function asText(findings: readonly Finding[], content: string): string {
  const lines = findings.flatMap((finding) => [
    `${fileOf(finding, content)}:${finding.at.line}:${finding.at.column}  ${finding.level}  ${finding.rule}`,
    `    ${finding.says}`,
    `    ${finding.mend}`,
    ...(finding.see ?? []).map((place) => `    See ${join(content, place.file)}:${place.line}:${place.column}.`),
  ]);
  const blocking = findings.filter(blocks).length;
  return [
    ...lines,
    `${count(blocking, "fault", "faults")}, ${count(findings.length - blocking, "warning", "warnings")}`,
  ].join("\n");
}

const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

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

export function formatted(findings: readonly Finding[], format: Format, content: string): string {
  switch (format) {
    case "text":
      return asText(findings, content);
    case "json":
      return asJson(findings, content);
    case "github":
      return asGithub(findings, content);
  }
}
