import { describe, expect, test } from "vitest";
import webvtt, { type OracleCue, type OracleNode } from "webvtt-parser";
import { type Cue, parseCueText, parseVtt } from "../../src/webvtt/index.ts";
import { drawFile, drawsFrom, mutate } from "./generate.ts";
import { inPlayOrder, showTree } from "./show.ts";

/**
 * `webvtt-parser` is written by editors of the standard, and departs from it. A departure is where it may differ from
 * us: what it does, the standard's own words, and how to see from the text alone that it may be concerned.
 */
interface Departure {
  readonly does: string;
  readonly standard: string;
  readonly concerns: (text: string) => boolean;
}

const paragraphs = (text: string): readonly string[] => text.split(/\n\n+/);

/** Of a whole file, with `\n` for every line end. */
const FILE_DEPARTURES: readonly Departure[] = [
  {
    does: "goes on after a bad signature",
    standard:
      "§6.1: If input is more than six characters long but the first six characters do not exactly equal WEBVTT […], then abort these steps.",
    concerns: (text) => !/^\uFEFF?WEBVTT(?:[ \t\n]|$)/.test(text),
  },
  {
    does: "hides NOTE blocks that hold timings",
    standard:
      "§6.1: If line contains the three-character substring --> […] line count is 2 and seen arrow is false […] cue creation",
    concerns: (text) => paragraphs(text).some((p) => /^NOTE(?:[ \t]|$)/m.test(p) && p.includes("-->")),
  },
  {
    does: "takes STYLE and more for a style block, drops one whole for an arrow, and gives one for a heading alone",
    standard:
      "§6.1: buffer starts with the substring STYLE and the remaining characters in buffer (if any) are all ASCII whitespace",
    concerns: (text) =>
      paragraphs(text).some((p) => /^STYLE(?:[ \t]|$)/m.test(p) && (p.includes("-->") || !/^STYLE[ \t]*\n./.test(p))),
  },
  {
    does: "keeps the second of two lines above timings as the id",
    standard:
      "§6.1: Otherwise [neither line 1, nor line 2 without an arrow before], let position be previous position and break out of loop.",
    concerns: (text) => paragraphs(text).some((p) => /^(?!.*-->).+\n(?!.*-->).+\n(?:.*\n)*?.*-->/.test(p)),
  },
];

const STRICT_SETTING = [
  /^(?:vertical|align|region):[^:]+$/,
  /^line:(?:-?\d+(?:\.\d+)?|(?:\d\d?(?:\.\d+)?|100)%)(?:,(?:start|center|end))?$/,
  /^position:(?:\d\d?(?:\.\d+)?|100)%(?:,(?:line-left|center|line-right))?$/,
  /^size:(?:\d\d?(?:\.\d+)?|100)%$/,
  /^[^:]*$/,
];

/** Of the settings of a cue. */
const SETTING_DEPARTURES: readonly Departure[] = [
  {
    does: "drops all later settings after an empty value, and takes numbers and alignments of many other shapes",
    standard:
      "§6.3: if the first COLON character in setting is either the first or last character of setting, then jump to the step labeled next setting; §6.2: If input does not match the syntax for a WebVTT percentage, then fail.",
    concerns: (settings) =>
      settings.split(/[ \t\f]+/).some((word) => !STRICT_SETTING.some((shape) => shape.test(word))),
  },
];

/** Of the text of a cue. */
const TEXT_DEPARTURES: readonly Departure[] = [
  {
    does: "knows few character references, only with a semicolon, and none in annotations",
    standard:
      "§6.4: it means to attempt to consume a character reference as defined in HTML […] this context is not as part of an attribute (when it comes to handling a missing semicolon)",
    concerns: (text) => /&(?!(?:amp|lt|gt|nbsp|lrm|rlm);)|<[^>]*&/.test(text),
  },
];

const REFERENCES = { "&amp;": "&", "&lt;": "<", "&gt;": ">", "&nbsp;": "\u00A0", "&lrm;": "\u200E", "&rlm;": "\u200F" };

function showOracle(nodes: readonly OracleNode[]): string {
  return nodes
    .map(({ type, name = "", classes = [], value, children = [] }) => {
      if (type === "text") return JSON.stringify(value);
      if (type === "timestamp") return `<${value}>`;
      const shown = name === "v" || name === "lang" ? ` ${JSON.stringify(value)}` : "";
      return `${[name, ...classes].join(".")}${shown}(${showOracle(children)})`;
    })
    .join(" ");
}

/** Times in milliseconds: the oracle adds fractions, and is off by the last digit of a double. */
const coreOf = ({ id, startTime, endTime, text }: Cue | OracleCue): unknown => [
  id,
  Math.round(startTime * 1000),
  Math.round(endTime * 1000),
  text,
];

/** The oracle keeps -0. HTML §2.3.4.3: "the set of finite IEEE 754 double-precision floating-point values except −0". */
const oracleSettings = (cue: OracleCue): unknown => [
  cue.direction === "horizontal" ? "" : cue.direction,
  cue.snapToLines,
  cue.linePosition === 0 ? 0 : cue.linePosition,
  cue.lineAlign,
  cue.textPosition,
  cue.positionAlign,
  cue.size,
  cue.alignment,
];

const ourSettings = ({ settings: s }: Cue): unknown => [
  s.vertical,
  s.snapToLines,
  s.line,
  s.lineAlign,
  s.position,
  s.positionAlign,
  s.size,
  s.align,
];

const isDeparture = (text: string) => (departure: Departure) => departure.concerns(text);

/** Compares one file and says how much of it could be compared. */
function compare(text: string): { readonly file: number; readonly settings: number; readonly trees: number } {
  const none = { file: 0, settings: 0, trees: 0 };
  const plain = text.replace(/\r\n?/g, "\n");
  if (FILE_DEPARTURES.some(isDeparture(plain))) return none;
  const theirs = new webvtt.WebVTTParser(REFERENCES).parse(text, "subtitles");
  const ours = parseVtt(text);
  const cues = inPlayOrder(ours.cues);
  expect(cues.map(coreOf)).toEqual(theirs.cues.map(coreOf));
  expect(ours.styles.map((style) => style.css)).toEqual(theirs.styles);
  const counts = { ...none, file: 1 };
  cues.forEach((cue, n) => {
    const oracle = theirs.cues[n];
    if (oracle === undefined) throw new Error("fewer cues");
    const line = /-->[ \t\f]*[\d:.]+([^\r\n]*)/.exec(text.slice(cue.timings))?.[1] ?? "";
    if (!SETTING_DEPARTURES.some(isDeparture(line))) {
      expect(ourSettings(cue)).toEqual(oracleSettings(oracle));
      counts.settings++;
    }
    if (!TEXT_DEPARTURES.some(isDeparture(cue.text))) {
      expect(showTree(parseCueText(cue.text))).toBe(showOracle(oracle.tree.children));
      counts.trees++;
    }
  });
  return counts;
}

describe("the same as webvtt-parser, departures aside", () => {
  test.each([
    ["generated", 400, (seed: number) => drawFile(drawsFrom(seed))],
    ["mutated", 800, (seed: number) => mutate(drawFile(drawsFrom(seed + 10_000)), drawsFrom(seed + 20_000))],
  ])("%s files", (_kind, count, draw) => {
    const total = { file: 0, settings: 0, trees: 0 };
    for (let seed = 1; seed <= count; seed++) {
      const { file, settings, trees } = compare(draw(seed));
      total.file += file;
      total.settings += settings;
      total.trees += trees;
    }
    expect(total.file).toBeGreaterThan(200);
    expect(total.settings).toBeGreaterThan(300);
    expect(total.trees).toBeGreaterThan(300);
  });
});
