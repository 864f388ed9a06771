import {
  type Cue,
  type CueNode,
  type CueSettings,
  DEFAULT_SETTINGS,
  parseVtt,
  type VttKind,
  validateVtt,
} from "../../src/webvtt/index.ts";

/** The notation of the tests: H, a header; C, timings from 1 to 2 s; D, from 2 to 3 s. */
export const H = "WEBVTT\n\n";
export const C = "00:01.000 --> 00:02.000";
export const D = "00:02.000 --> 00:03.000";

/** A tree on one line: `b(i("x" "y") "z")`, `v.loud "Ilse"("Hi")`, `<1.5>`. */
export function showTree(nodes: readonly CueNode[]): string {
  return nodes
    .map((node) => {
      if (node.kind === "text") return JSON.stringify(node.words);
      if (node.kind === "stamp") return `<${node.seconds}>`;
      const value = node.value === null ? "" : ` ${JSON.stringify(node.value)}`;
      return `${[node.tag, ...node.classes].join(".")}${value}(${showTree(node.children)})`;
    })
    .join(" ");
}

/** The faults of a file as `line:column rule`. */
export function faults(text: string, kind: VttKind = "captions"): readonly string[] {
  return validateVtt(parseVtt(text), kind, "a.vtt").map(({ rule, at }) => `${at.line}:${at.column} ${rule}`);
}

/** The faults of a cue text, its lines and columns counted from its beginning. */
export function textFaults(text: string, kind: VttKind = "captions"): readonly string[] {
  const found = validateVtt(parseVtt(`${H}${C}\n${text}\n`), kind, "a.vtt");
  return found.map(({ rule, at }) => `${at.line - 3}:${at.column} ${rule}`);
}

/** What the settings of a cue differ in from the defaults. */
export function settingsOf(written: string): Partial<CueSettings> {
  const [cue] = parseVtt(`${H}REGION\nid:r\n\n${C} ${written}\nx\n`).cues;
  if (cue === undefined) throw new Error("no cue");
  const changed = Object.entries(cue.settings).filter(([name, value]) => value !== Reflect.get(DEFAULT_SETTINGS, name));
  return Object.fromEntries(changed);
}

/** Cues as browsers list them: by start time, of equal ones the longer first, else in file order (HTML §4.8.11.11.1). */
export const inPlayOrder = (cues: readonly Cue[]): readonly Cue[] =>
  cues.toSorted((a, b) => a.startTime - b.startTime || b.endTime - a.endTime);
