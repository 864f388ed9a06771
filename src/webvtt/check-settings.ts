import type { Place } from "../model/finding.ts";
import { FF } from "./characters.ts";
import type { Cue, Region } from "./file.ts";
import { afterLineEnd, lineEnd } from "./lines.ts";
import { readRegionSetting } from "./region.ts";
import { type Mark, placeIn, quote, type Report, tell } from "./report.ts";
import {
  ALIGNS,
  type CueSetting,
  cutAtComma,
  LINE_ALIGNS,
  oneOf,
  POSITION_ALIGNS,
  parsePercentage,
  splitSettings,
  VERTICALS,
} from "./settings.ts";
import { pass, spotReader } from "./spots.ts";

interface SettingRule {
  /** Whether the value may be written (WebVTT §4.3, §4.4); a parser takes more. */
  readonly accepts: (value: string) => boolean;
  readonly mend: string;
}

const isPercentage = (value: string): boolean => parsePercentage(value) !== null;

/** `offset` alone, or a comma and one of `words` after it. */
function isAligned(value: string, words: readonly string[], offset: (value: string) => boolean): boolean {
  const [first, alignment] = cutAtComma(value);
  return offset(first) && (alignment === null || words.includes(alignment));
}

/** The settings of a cue (WebVTT §4.4). */
const CUE_SETTINGS: ReadonlyMap<string, SettingRule> = new Map([
  ["vertical", { accepts: (v) => oneOf(VERTICALS, v) !== null, mend: "Write vertical:rl or vertical:lr." }],
  [
    "line",
    {
      accepts: (v) => isAligned(v, LINE_ALIGNS, (offset) => /^-?\d+$/.test(offset) || isPercentage(offset)),
      mend: "Write a whole number or a percentage, and if wanted ,start ,center or ,end: line:-1 or line:80%,end.",
    },
  ],
  [
    "position",
    {
      accepts: (v) => isAligned(v, POSITION_ALIGNS, isPercentage),
      mend: "Write a percentage, and if wanted ,line-left ,center or ,line-right: position:10%,line-left.",
    },
  ],
  ["size", { accepts: isPercentage, mend: "Write a percentage from 0% to 100%: size:50%." }],
  ["align", { accepts: (v) => oneOf(ALIGNS, v) !== null, mend: "Write align: and start, center, end, left or right." }],
  ["region", { accepts: () => true, mend: "" }],
]);

const taken = (name: string) => (value: string) => readRegionSetting({ name, value, from: 0, to: 0 }) !== null;

/** The settings of a region (WebVTT §4.3). */
const REGION_SETTINGS: ReadonlyMap<string, SettingRule> = new Map([
  ["id", { accepts: () => true, mend: "" }],
  ["width", { accepts: taken("width"), mend: "Write a percentage from 0% to 100%: width:40%." }],
  ["lines", { accepts: taken("lines"), mend: "Write a whole number: lines:3." }],
  ["regionanchor", { accepts: taken("regionanchor"), mend: "Write two percentages: regionanchor:0%,100%." }],
  ["viewportanchor", { accepts: taken("viewportanchor"), mend: "Write two percentages: viewportanchor:10%,90%." }],
  ["scroll", { accepts: taken("scroll"), mend: "Write scroll:up, or leave it out." }],
]);

/** Whether a cue setting may be written as it is (WebVTT §4.4). */
export const isConformingSetting = ({ name, value }: CueSetting): boolean =>
  CUE_SETTINGS.get(name)?.accepts(value) ?? false;

/** The settings of a cue, which stand from `from` on its timing line. */
export function checkSettings(report: Report, cue: Cue, from: number): void {
  const { text } = report.file;
  const to = lineEnd(text, from);
  const mark = (at: number): Mark => ({ line: cue.line, column: at - cue.timings + 1, seconds: cue.startTime });
  if (from < to && !/[ \t]/.test(text.charAt(from))) {
    const says = "No space or tab stands between the end time and the settings.";
    tell(report, "setting-spacing", mark(from), says, "Put a space after the end time.");
  }
  const settings = splitSettings(text, from, to);
  const between = settings.find((setting) => text.charCodeAt(setting.from - 1) === FF && setting.from > from);
  if (between !== undefined) {
    tell(report, "setting-spacing", mark(between.from - 1), "Only spaces and tabs part settings.", "Write a space.");
  }
  checkEach(report, settings, CUE_SETTINGS, (setting) => mark(setting.from));
  for (const { name, value, from } of settings) {
    if (name !== "region" || report.regionIds.has(value)) continue;
    const says = `No region ${quote(value)} is defined above: the cue is in none.`;
    tell(
      report,
      "setting-region",
      mark(from),
      says,
      "Define the region above the first cue, or leave the setting out.",
    );
  }
  const { size, align, position } = cue.settings;
  if (size === 100 || position !== "auto" || (align !== "start" && align !== "end")) return;
  const says = `With a size below 100% and align:${align}, the position must be written.`;
  tell(report, "setting-position", mark(from), says, "Write a position, or align:left or align:right.");
}

/** A region: its settings, and its id, which cues name it by (WebVTT §4.3). */
export function checkRegion(report: Report, region: Region): void {
  const { text } = report.file;
  const head = { line: region.line, column: 1 };
  const body = afterLineEnd(text, lineEnd(text, region.from));
  const reader = spotReader(text, body, region.to, region.line + 1);
  const marks = new Map<CueSetting, Mark>();
  const settings = splitSettings(text, body, region.to);
  for (const setting of settings) {
    pass(reader, setting.from - body);
    marks.set(setting, pass(reader, setting.to - body));
  }
  checkEach(report, settings, REGION_SETTINGS, (setting) => marks.get(setting) ?? head);
  const first = report.regionIds.get(region.id);
  if (region.id === "") {
    tell(report, "region-id", head, "This region has no id: no cue can be in it.", "Write id: and a name.");
  } else if (first !== undefined) {
    const says = `Two regions are called ${quote(region.id)}: only the last of them is used.`;
    tell(report, "region-twice", head, says, "Give each region its own id.", first);
  } else report.regionIds.set(region.id, placeIn(report, head));
}

function checkEach(
  report: Report,
  settings: readonly CueSetting[],
  rules: ReadonlyMap<string, SettingRule>,
  markOf: (setting: CueSetting) => Mark,
): void {
  const seen = new Map<string, Place>();
  for (const setting of settings) {
    const { name, value, from, to } = setting;
    const mark = markOf(setting);
    const rule = rules.get(name);
    const written = quote(report.file.text.slice(from, to));
    if (rule === undefined) {
      const names = [...rules.keys()].join(", ");
      tell(
        report,
        "setting-unknown",
        mark,
        `${written} is no setting, and has no effect.`,
        `Settings are ${names}, then a colon and a value.`,
      );
      continue;
    }
    const first = seen.get(name);
    if (first === undefined) seen.set(name, placeIn(report, mark));
    else tell(report, "setting-twice", mark, `${quote(name)} is set twice.`, "Leave one of them out.", first);
    if (!rule.accepts(value)) tell(report, "setting-value", mark, `${written} may not be written so.`, rule.mend);
  }
}
