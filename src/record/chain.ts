import type { Finding, Level } from "../model/finding.ts";
import { canonicalJson } from "./canonical.ts";
import { type Entry, entriesOf, type ReadRecord, type RecordLine, timesOf } from "./entry.ts";
import { instant } from "./order.ts";
import { recordFile } from "./recordFile.ts";

/** What a record is judged against. */
export interface ChainContext {
  /** The episode's folder, for places. */
  readonly folder: string;
  readonly episode: string;
  /** When the programme went to air; null where that can't be read. */
  readonly aired: string | null;
  /** ISO 8601. */
  readonly now: string;
}

/** A line of the record with the one before it. */
interface Step {
  readonly line: RecordLine & { readonly entry: Entry };
  readonly before: (RecordLine & { readonly entry: Entry }) | null;
  /** When the entries count from that were made by a clock that ran ahead. */
  readonly right: ReadonlyMap<Entry, string>;
}

type Judged = Pick<Finding, "rule" | "says" | "mend"> & { readonly level?: Level };

/** What is wrong with a record in itself, line by line. An empty result proves that nothing inside was changed. */
export function judgeChain(record: ReadRecord, context: ChainContext): readonly Finding[] {
  const whole = asWhole(record, context);
  if (whole !== null) return [whole];
  const findings: Finding[] = [];
  const report = (line: number, { level = "blocks", ...judged }: Judged): void => {
    const at = { file: recordFile(context.folder), line, column: 1 };
    findings.push({ ...judged, level, at, seconds: null });
  };
  const right = timesSetRight(record);
  let before: Step["before"] = null;
  for (const line of record.lines) {
    if (line.entry === null) {
      report(line.line, unreadable(line.why));
      before = null;
      continue;
    }
    const known: Step["line"] = line;
    for (const judge of [inOrder, linked, ofThisEpisode, inTime, ofItsKind, unchanged]) {
      const judged = judge({ line: known, before, right }, context);
      if (judged !== null) report(line.line, judged);
    }
    before = known;
  }
  if (record.torn !== null) report(record.lines.length + 1, torn(record.torn));
  return findings;
}

const MARK = /^(?:<{7}|={7}|>{7}|\|{7})/;

/** What version control did to a record as a whole, so that no line of it says more; null: nothing. */
function asWhole({ lines, torn }: ReadRecord, { folder, episode }: ChainContext): Finding | null {
  const at = (line: number) => ({ file: recordFile(folder), line, column: 1 });
  const marked = [...lines.map(({ text }) => text), torn ?? ""].findIndex((text) => MARK.test(text));
  if (marked !== -1)
    return {
      rule: "record-forked",
      level: "blocks",
      at: at(marked + 1),
      seconds: null,
      says: "Version control could not bring two versions of this record together.",
      mend: `Run \`afterair publish ${episode} --merge\`: it makes one record of both, and loses nothing of either.`,
    };
  const ended = lines.findIndex(({ text }) => text.endsWith("\r"));
  return ended === -1 ? null : lineEnds(at(ended + 1));
}

/** Whether a finding of a chain is one of the whole record: then nothing else of it says more. */
export const isOfWhole = ({ rule }: Finding): boolean => rule === "record-forked" || rule === "line-ends-changed";

/** A file whose line ends are others than those that were published, and nothing else of it. */
export const lineEnds = (at: Finding["at"]): Finding => ({
  rule: "line-ends-changed",
  level: "blocks",
  at,
  seconds: null,
  says: "The line ends of this file are not those that were published. Nothing else of it was changed.",
  mend: "Version control turned them. Keep `* -text` in the .gitattributes of the content folder, and check the file out again.",
});

const BRING_BACK = "Bring the record back from an earlier copy, and find out who wrote to it.";

const unreadable = (why: string): Judged => ({
  rule: "record-line-edited",
  says: `This line ${why}: it was not written by the tool, or was changed since.`,
  mend: BRING_BACK,
});

const torn = (text: string): Judged => ({
  rule: "record-line-torn",
  says: `The last line has no end (${text.length} characters): a write was cut short.`,
  mend: "Run `afterair publish --repair` for this episode: it shows what it takes off, and asks nothing else of the record.",
});

function inOrder({ line, before }: Step): Judged | null {
  const { seq } = line.entry;
  const due = before === null ? line.line : before.entry.seq + 1;
  if (seq === due) return null;
  const says =
    seq > due
      ? `Entries ${due} to ${seq - 1} are missing before this one.`
      : `Entry ${seq} stands where entry ${due} should: lines were put in, doubled or moved.`;
  return { rule: "record-order", says, mend: BRING_BACK };
}

function linked({ line, before }: Step): Judged | null {
  const { prev } = line.entry;
  if (before === null && line.line > 1) return null;
  if (prev === (before?.digest ?? null)) return null;
  const says =
    before === null
      ? "The first entry names one before it."
      : `This entry was made after another line ${before.line} than the one that stands there: that line was changed, or this one.`;
  return { rule: "record-chain-broken", says, mend: BRING_BACK };
}

function ofThisEpisode({ line }: Step, { episode }: ChainContext): Judged | null {
  if (line.entry.episode === episode) return null;
  const says = `This entry belongs to the episode ${line.entry.episode}.`;
  return { rule: "record-of-another-episode", says, mend: BRING_BACK };
}

/** The entries that a later one says were made by a clock that ran ahead, and when they count from. */
function timesSetRight(record: ReadRecord): ReadonlyMap<Entry, string> {
  const entries = entriesOf(record);
  const times = timesOf(entries);
  return new Map(
    entries.flatMap((entry, index): [Entry, string][] => {
      const time = times[index] ?? entry.time;
      return time === entry.time ? [] : [[entry, time]];
    }),
  );
}

function inTime({ line, before, right }: Step, { aired, now }: ChainContext): Judged | null {
  const { time } = line.entry;
  const isRight = right.has(line.entry);
  if (isRight && instant(time) <= instant(right.get(line.entry) ?? time))
    return {
      rule: "record-clock-unfounded",
      says: `A later entry says that this one was made by a clock that ran ahead, and it is dated ${time}, before that.`,
      mend: BRING_BACK,
    };
  if (isRight) return null;
  if (line.entry.what !== "clock" && before !== null && instant(time) < instant(before.entry.time))
    return {
      rule: "record-clock-back",
      says: `This entry is dated ${time}, before line ${before.line} (${before.entry.time}).`,
      mend: BRING_BACK,
    };
  if (instant(time) > instant(now))
    return {
      rule: "record-in-future",
      says: `This entry is dated ${time}, which is still to come.`,
      mend: "Check this machine's clock. If it is right, the one that wrote the entry ran ahead: `afterair publish --clock` for this episode says so in the record.",
    };
  if (aired !== null && instant(time) < instant(aired))
    return {
      rule: "record-before-air",
      says: `This entry is dated ${time}, before the programme went to air (${aired}).`,
      mend: "Check `aired` in episode.md.",
      level: "warns",
    };
  return null;
}

function ofItsKind({ line }: Step): Judged | null {
  const { what, correction, reason, cuts, ahead, other, renames } = line.entry;
  const first = line.line === 1;
  const fits =
    first === (what === "published") &&
    (correction !== null) === (what === "corrected" || what === "withdrawn") &&
    (reason !== null) === (what === "reissued") &&
    (cuts !== undefined) === (what === "cut") &&
    (ahead !== undefined) === (what === "clock") &&
    (other !== undefined) === (what === "merged") &&
    (renames !== undefined) === (what === "renamed") &&
    (ahead === undefined || ahead < line.entry.seq);
  if (fits) return null;
  const says = first
    ? "The first entry does not publish the episode."
    : `This entry says "${what}", and its other members disagree.`;
  return { rule: "record-line-edited", says, mend: BRING_BACK };
}

/** Frozen content may only change by a reissue, or by a cut after a withdrawal. */
function unchanged({ line, before }: Step): Judged | null {
  if (before === null) return null;
  const [was, is] = [before.entry, line.entry];
  if (!withdrawnAgrees(was, is)) {
    const says = "What this entry says of withdrawn segments disagrees with the line before.";
    return { rule: "record-changed-in-silence", says, mend: BRING_BACK };
  }
  const names = changedParts(was, is);
  const mayChange = is.what === "reissued" || (is.what === "cut" && was.withdrawn.length > 0);
  if (mayChange || names.length === 0) return null;
  if (was.withdrawn.length > 0) return unsaid(before.line, names);
  const says = `Between line ${before.line} and this one the published ${names.join(" and ")} changed, and no entry says why.`;
  return { rule: "record-changed-in-silence", says, mend: BRING_BACK };
}

/** Earlier versions of the tool let words be cut after a withdrawal without an entry for it: what stays is proved all the same. */
const unsaid = (line: number, names: readonly string[]): Judged => ({
  rule: "record-cut-unsaid",
  level: "warns",
  says: `Between line ${line} and this one words of the ${names.join(" and ")} went, and no entry says so. All that is not withdrawn is the same.`,
  mend: "Nothing is to do if withdrawn words were cut out then.",
});

const changedParts = (was: Entry, is: Entry): readonly string[] => [
  ...(was.transcript === is.transcript ? [] : ["transcript"]),
  ...(was.fields === is.fields ? [] : ["fields"]),
  ...(canonicalJson(was.translations) === canonicalJson(is.translations) ? [] : ["translations"]),
];

/** What was withdrawn stays so; what is to remain stays the same, unless more is withdrawn or all is reissued. */
function withdrawnAgrees(was: Entry, is: Entry): boolean {
  const kept = was.withdrawn.every((own, index) => canonicalJson(own) === canonicalJson(is.withdrawn[index] ?? null));
  const more = is.withdrawn.length > was.withdrawn.length;
  return kept && more === (is.what === "withdrawn") && (more || is.what === "reissued" || is.remains === was.remains);
}
