import { checkReferences } from "./check-references.ts";
import { checkAnnotation, checkClasses } from "./check-tags.ts";
import { readerOf, type SpanTag, spanTag, stampSeconds } from "./cuetext.ts";
import type { Cue } from "./file.ts";
import { type Mark, placeIn, quote, type Report, tell } from "./report.ts";
import type { Spot } from "./spots.ts";
import { CONFORMING_TIMESTAMP } from "./timestamp.ts";
import { type EndToken, readToken, type StampToken, type StartToken } from "./tokens.ts";

/** A span that is open. */
interface Frame {
  readonly tag: SpanTag;
  readonly token: StartToken;
  /** Whether nothing stands before it in the cue. */
  readonly leads: boolean;
  /** Of a `ruby`: whether it has an `rt`, and what stands after the last one. */
  hasRt: boolean;
  afterRt: Spot | null;
}

/** The cue text under check. */
interface Walk {
  readonly report: Report;
  readonly cue: Cue;
  readonly open: Frame[];
  /** How many spans of each tag are open: a cue may open thousands, and close none. */
  readonly tags: Map<string, number>;
  lastStamp: number;
}

/** What captions may hold (WebVTT §4.2.2), or a chapter title (§4.2.3: words and references only). */
export function checkCueText(report: Report, cue: Cue): void {
  const walk: Walk = { report, cue, open: [], tags: new Map(), lastStamp: cue.startTime };
  const reader = readerOf(report.file, cue);
  for (let token = readToken(reader); token !== null; token = readToken(reader)) {
    if (token.kind === "text") checkWords(walk, token);
    else if (!token.closed) {
      const says = `This < opens a tag that never ends: ${quote(written(walk, token))} is lost.`;
      tell(report, "tag-open", markOf(walk, token), says, "Write &lt; for <, or close the tag with >.");
    } else if (report.kind === "chapters") {
      const says = `A chapter title holds no tags: ${quote(written(walk, token))}.`;
      tell(report, "chapter-tag", markOf(walk, token), says, "Leave the tag out.");
    } else if (token.kind === "start") checkStart(walk, token);
    else if (token.kind === "end") checkEnd(walk, token);
    else checkStamp(walk, token);
  }
  for (const frame of walk.open) checkUnclosed(walk, frame);
}

const markOf = ({ cue }: Walk, { line, column }: Spot): Mark => ({ line, column, seconds: cue.startTime });

const written = ({ report }: Walk, { from, to }: Spot): string => report.file.text.slice(from, to);

function checkWords(walk: Walk, token: Spot): void {
  checkReferences(walk.report, token.from, token.to, token, walk.cue.startTime);
  if (/[^ \t\r\n]/.test(written(walk, token))) noteInRuby(walk, token);
}

/** Remembers what comes after an `rt`: nothing but space may, unless another `rt` follows. */
function noteInRuby({ open }: Walk, token: Spot): void {
  const ruby = open.at(-1);
  if (ruby?.tag === "ruby" && ruby.hasRt) ruby.afterRt ??= token;
}

function checkStart(walk: Walk, token: StartToken): void {
  const { report, open, cue } = walk;
  const parent = open.at(-1);
  const tag = spanTag(token, parent?.tag ?? null);
  if (tag === null) {
    tellIgnored(walk, token);
    return;
  }
  checkClasses(report, token, cue.startTime);
  checkAnnotation(report, token, cue.startTime);
  if (tag === "rt" && parent !== undefined) Object.assign(parent, { hasRt: true, afterRt: null });
  else noteInRuby(walk, token);
  walk.tags.set(tag, (walk.tags.get(tag) ?? 0) + 1);
  open.push({ tag, token, leads: token.from === cue.payload, hasRt: false, afterRt: null });
}

function tellIgnored(walk: Walk, token: StartToken): void {
  const mark = markOf(walk, token);
  const lower = token.name.toLowerCase();
  if (token.name === "rt") {
    const says = "An rt counts only directly inside a ruby: this one is read as plain words.";
    tell(walk.report, "rt-outside-ruby", mark, says, "Put it inside <ruby>, and close the rt before it.");
    return;
  }
  const isCase = lower !== token.name && spanTag({ ...token, name: lower }, "ruby") !== null;
  const mend = isCase
    ? `Write it in lower case: <${lower}>.`
    : "Write &lt; for a < that opens no tag, or leave the tag out.";
  tell(walk.report, "tag-unknown", mark, `${quote(written(walk, token))} is no tag of WebVTT: it is lost.`, mend);
}

function checkEnd(walk: Walk, token: EndToken): void {
  const { report, open } = walk;
  const current = open.at(-1);
  const endsText = token.name === "ruby" && current?.tag === "rt";
  if (current === undefined || (current.tag !== token.name && !endsText)) {
    const isOpen = current !== undefined && (walk.tags.get(token.name) ?? 0) > 0;
    const says = isOpen
      ? `${quote(written(walk, token))} is ignored, because <${current.tag}> is still open.`
      : `${quote(written(walk, token))} ends nothing that is open: it is ignored.`;
    const mend = isOpen ? `Write </${current.tag}> before it.` : "Leave it out, or write the start tag.";
    const see = isOpen ? placeIn(report, current.token) : undefined;
    tell(report, "tag-crossed", markOf(walk, token), says, mend, see);
    return;
  }
  const close = (): Frame | undefined => {
    const frame = open.pop();
    if (frame !== undefined) walk.tags.set(frame.tag, (walk.tags.get(frame.tag) ?? 0) - 1);
    return frame;
  };
  close();
  const ruby = endsText ? close() : current;
  if (ruby?.tag === "ruby") checkRuby(walk, ruby);
}

function checkRuby(walk: Walk, ruby: Frame): void {
  if (!ruby.hasRt) {
    const says = "This ruby has no rt.";
    tell(walk.report, "ruby-shape", markOf(walk, ruby.token), says, "Write <rt> and the reading, or leave <ruby> out.");
  } else if (ruby.afterRt !== null) {
    const says = "Words stand after the last rt of a ruby.";
    tell(
      walk.report,
      "ruby-shape",
      markOf(walk, ruby.afterRt),
      says,
      "Put them after </ruby>, or write an <rt> for them.",
    );
  }
}

/** A span left open at the end: only a `v` that is the whole cue may be, and an `rt`, which its `ruby` ends. */
function checkUnclosed(walk: Walk, { tag, token, leads }: Frame): void {
  if (tag === "rt" || (tag === "v" && leads)) return;
  const says = `<${tag}> is not closed: it runs to the end of the cue.`;
  tell(walk.report, "tag-unclosed", markOf(walk, token), says, `Write </${tag}> where it ends.`);
}

function checkStamp(walk: Walk, token: StampToken): void {
  const { report, cue } = walk;
  const mark = markOf(walk, token);
  const { stamp } = token;
  const seconds = stampSeconds(token);
  noteInRuby(walk, token);
  if (seconds === null) {
    const says = `${quote(`<${stamp}>`)} is no time: it is lost.`;
    tell(report, "timestamp-unreadable", mark, says, "Write <00:00:01.500>, or &lt; for <.");
    return;
  }
  if (!CONFORMING_TIMESTAMP.test(stamp)) {
    tell(report, "timestamp-shape", mark, `The hours of ${stamp} have one digit.`, `Write <0${stamp}>.`);
  }
  if (seconds <= walk.lastStamp || seconds >= cue.endTime) {
    const says = "A time inside a cue must lie between its start and its end, and after the one before it.";
    tell(report, "timestamp-order", mark, says, "Correct the time, or leave it out.");
  }
  walk.lastStamp = Math.max(walk.lastStamp, seconds);
}

/** Chapters lie one after another or one within another (WebVTT §4.5.1 and its example). */
export function checkChapterOrder(report: Report): void {
  const cues = report.file.cues.toSorted((a, b) => a.startTime - b.startTime || b.endTime - a.endTime);
  const around: Cue[] = [];
  for (const cue of cues) {
    while ((around.at(-1)?.endTime ?? Number.POSITIVE_INFINITY) <= cue.startTime) around.pop();
    const outer = around.at(-1);
    if (outer !== undefined && cue.endTime > outer.endTime) {
      const says = `This chapter begins inside the one on line ${outer.line} and ends after it.`;
      const mend = "End it with the other, or begin it where the other ends.";
      const mark = { line: cue.line, column: 1, seconds: cue.startTime };
      tell(report, "chapter-overlap", mark, says, mend, placeIn(report, { line: outer.line, column: 1 }));
    }
    around.push(cue);
  }
}
