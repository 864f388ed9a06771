import { SaxesParser, type SaxesTagNS } from "saxes";
import type { Finding, Place } from "../../model/finding.ts";
import type { RawBlock } from "../../model/spoken.ts";
import { findingAt } from "../findings.ts";
import type { Text } from "../text.ts";
import { type Reading, tidyLines } from "./reading.ts";
import { clockOf, readTtmlTime, type TtmlClock } from "./ttmlTime.ts";

export const looksXml = (text: string): boolean => /^\s*<(?:\?xml[\s?]|(?:[\w-]+:)?tt[\s>])/.test(text);

/** A stretch of time that an element gives to what stands in it. Milliseconds; null: not said. */
interface Interval {
  readonly start: number | null;
  readonly end: number | null;
}

/** An element that is open. */
interface Open extends Interval {
  readonly name: string;
  /** The children follow one another in time, each after the last one's end (`timeContainer="seq"`). */
  readonly isSequence: boolean;
  /** Where the next child of a sequence begins. */
  next: number;
  readonly agent: string | null;
  readonly keepsLines: boolean;
}

/** Text of a paragraph that has one time and one speaker. */
interface Run extends Interval {
  /** Which paragraph of the document it stands in. */
  readonly paragraph: number;
  readonly agent: string | null;
  text: string;
  readonly at: Place;
}

/**
 * TTML, and with it IMSC, EBU-TT and DFXP: paragraphs with the times that TTML2 §12 gives them, nested intervals and
 * sequences included; who speaks by `ttm:agent` (TTML2 §14.1.1). Elements are known by their local names, because the
 * namespace has changed between drafts.
 */
export function parseTimedTextXml({ file, text }: Text): Reading {
  const [runs, findings]: [Run[], Finding[]] = [[], []];
  const agents = new Map<string, string>();
  const parser = new SaxesParser({ xmlns: true });
  const open: Open[] = [];
  let [root, clock, fault, naming]: [string | null, TtmlClock, Finding | null, string | null] = [
    null,
    clockOf({}),
    null,
    null,
  ];
  let paragraph = 0;
  const here = (): Place => ({ file, line: parser.line, column: 1 });
  const isIn = (name: string) => open.some((one) => one.name === name);
  const add = (written: string) => {
    const inner = open.at(-1);
    if (inner === undefined || !isIn("p") || isIn("metadata")) return;
    const { start, end, agent } = inner;
    const last = runs.at(-1);
    if (
      last !== undefined &&
      last.start === start &&
      last.end === end &&
      last.agent === agent &&
      last.paragraph === paragraph
    )
      last.text += written;
    else runs.push({ paragraph, start, end, agent, text: written, at: here() });
  };
  const opened = (tag: SaxesTagNS): void => {
    const name = tag.local;
    const attribute = (local: string) => Object.values(tag.attributes).find((one) => one.local === local)?.value;
    if (root === null) {
      root = name;
      clock = clockOf({
        frameRate: attribute("frameRate"),
        multiplier: attribute("frameRateMultiplier"),
        subFrameRate: attribute("subFrameRate"),
        tickRate: attribute("tickRate"),
        timeBase: attribute("timeBase"),
        dropMode: attribute("dropMode"),
      });
    }
    if (name === "agent") naming = attribute("id") ?? null;
    if (name === "p") paragraph++;
    const time = (local: string): number | null => {
      const written = attribute(local);
      if (written === undefined) return null;
      const ms = readTtmlTime(written, clock);
      if (ms === null) findings.push(unreadable(here(), written));
      return ms;
    };
    const [begin, end, dur] = ["body", "div", "p", "span"].includes(name)
      ? [time("begin"), time("end"), time("dur")]
      : [null, null, null];
    const parent = open.at(-1) ?? null;
    open.push({
      name,
      ...within(parent, begin, end, dur),
      isSequence: attribute("timeContainer") === "seq",
      next: 0,
      agent: attribute("agent")?.trim().split(/\s+/)[0] ?? parent?.agent ?? null,
      keepsLines: attribute("space") === undefined ? (parent?.keepsLines ?? false) : attribute("space") === "preserve",
    });
    const own = open.at(-1);
    if (own !== undefined) own.next = own.start ?? 0;
    if (name === "br") add("\n");
  };
  parser.on("opentag", opened);
  parser.on("closetag", (tag) => {
    const closed = open.pop();
    const parent = open.at(-1);
    if (closed !== undefined && parent?.isSequence === true) parent.next = closed.end ?? closed.start ?? parent.next;
    if (tag.local === "agent") naming = null;
  });
  const words = (written: string) => {
    if (naming !== null && isIn("name") && !agents.has(naming) && written.trim() !== "")
      agents.set(naming, written.trim());
    add(open.at(-1)?.keepsLines === true ? written : written.replace(/\s+/g, " "));
  };
  parser.on("text", words);
  parser.on("cdata", words);
  parser.on("error", (error) => {
    const says = `This is not well-formed XML: ${error.message.replace(/^\d+:\d+: /, "").replace(/\.$/, "")}.`;
    const at = { file, line: parser.line, column: parser.column + 1 };
    fault ??= findingAt(at, "blocks", "raw-not-xml", says, "Save the file again from the program that made it.");
  });
  parser.write(text).close();
  if (fault === null && root !== "tt") fault = notTtml(file, root);
  if (fault !== null) return { rawBlocks: [], unplaced: [], findings: [fault] };
  return {
    rawBlocks: runs.flatMap((run, n) => blockOf(run, runs[n - 1], runs[n + 1], agents)),
    unplaced: [],
    findings,
  };
}

/** The interval of an element in its parent's, counted from where that one begins, or a sequence has got to. */
function within(parent: Open | null, begin: number | null, end: number | null, dur: number | null): Interval {
  if (parent === null) return { start: null, end: null };
  if (begin === null && end === null && dur === null && !parent.isSequence)
    return { start: parent.start, end: parent.end };
  const from = parent.isSequence ? parent.next : (parent.start ?? 0);
  const start = from + (begin ?? 0);
  const ends = [
    ...(end === null ? [] : [from + end]),
    ...(dur === null ? [] : [start + dur]),
    ...(parent.end === null ? [] : [parent.end]),
  ];
  return { start, end: ends.length === 0 ? null : Math.min(...ends) };
}

/** A run as a block: of runs that share an interval the first has its beginning and the last its end. */
function blockOf(
  run: Run,
  before: Run | undefined,
  after: Run | undefined,
  agents: ReadonlyMap<string, string>,
): readonly RawBlock[] {
  const text = tidyLines(run.text.split("\n"));
  if (text === "") return [];
  const shares = (other: Run | undefined) =>
    other !== undefined &&
    other.agent !== run.agent &&
    other.start === run.start &&
    other.end === run.end &&
    other.text.trim() !== "";
  // Words of the same paragraph that come later take the place of those before them, though both are seen.
  const isOver = after !== undefined && (after.start ?? 0) > (run.start ?? 0);
  const end =
    isOver && run.paragraph === after.paragraph && run.end !== null
      ? Math.min(run.end, after.start ?? run.end)
      : run.end;
  const voice = run.agent === null ? null : (agents.get(run.agent) ?? run.agent);
  return [{ start: shares(before) ? null : run.start, end: shares(after) ? null : end, voice, text, at: run.at }];
}

const unreadable = (at: Place, written: string): Finding =>
  findingAt(
    at,
    "warns",
    "raw-times-unreadable",
    `“${written.slice(0, 40)}” is no time of TTML: the words were placed without it.`,
    "Write 00:01:05.500, or 65.5s.",
  );

const notTtml = (file: string, root: string | null): Finding =>
  findingAt(
    { file, line: 1, column: 1 },
    "blocks",
    "raw-xml-unknown",
    `This is XML, but no TTML: its root is <${(root ?? "").slice(0, 40)}>.`,
    "Save the captions as TTML, WebVTT or SubRip.",
  );
