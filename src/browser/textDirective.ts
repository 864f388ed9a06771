/** A word of a page, as finding text in the page knows it. */
export interface PageWord {
  /** Without case and accents. */
  readonly folded: string;
  /** Which paragraph of the spoken words it stands in; null: elsewhere on the page. */
  readonly paragraph: number | null;
  /** It is part of the paragraph's time, which stands before its words. */
  readonly stamp: boolean;
  /** Where it stands in its paragraph's text; `to` is after its end. */
  readonly from: number;
  readonly to: number;
}

export interface PageText {
  /** All words of the page in their order. */
  readonly words: readonly PageWord[];
  /** The text of each paragraph, and its time as it is written before it; "" where it has none. */
  readonly paragraphs: readonly { readonly text: string; readonly stamp: string }[];
}

/** Words from one to another, both included: places in `words` of a page, in one paragraph. */
export interface Span {
  readonly first: number;
  readonly last: number;
}

/** A longer text is named by its beginning and its end. Characters; the draft's advice (URL Fragment Text Directives, 4.2). */
const WHOLE = 300;
/** A beginning or an end has so many words, and more where that is too few to tell. Common practice, no source. */
const EDGE = 4;
/** More spans than these are named as one, from the first to the last. Common practice, no source. */
const APART = 6;

/**
 * The fragment directive that has a browser find these words and no others (URL Fragment Text Directives, draft of the
 * WICG, sections 3.1 and 3.5): `text=[prefix-,]start[,end][,-suffix]`, several joined by `&`. Words that stand more than once
 * are told apart by what stands beside them. Where nothing beside them tells, their whole paragraph is named.
 * @param spans in the order of the page, at least one.
 */
export function textDirective(page: PageText, spans: readonly Span[]): string {
  const [first, last] = [spans[0], spans.at(-1)];
  if (first === undefined || last === undefined) return "";
  const across = spans.length > APART ? ranged(page, first, last) : null;
  return across ?? spans.map((span) => named(page, span)).join("&");
}

function named(page: PageText, span: Span): string {
  // One word has no beginning and end of its own, however long it is.
  if (span.last > span.first && textOf(page, span.first, span.last).length > WHOLE) {
    const long = ranged(page, span, span);
    if (long !== null) return long;
  }
  const { first, last } = span;
  for (const [before, after] of around(page, first, last)) {
    if (countOf(page.words, first - before, last + after) > 1) continue;
    return directive([prefixOf(page, first, before), textOf(page, first, last), null, suffixOf(page, last, after)]);
  }
  const [from, to] = [startOf(page, first), endOf(page, last)];
  const whole = textOf(page, from, to);
  return directive([prefixOf(page, from, stampBefore(page, from)), whole, null, null]);
}

/** The beginning of one span and the end of another; null: nothing tells where the one begins or the other ends. */
function ranged(page: PageText, from: Span, to: Span): string | null {
  const isOne = from.first === to.first;
  const starts = upTo(isOne ? Math.floor((from.last - from.first + 1) / 2) : from.last - from.first + 1);
  for (const length of starts) {
    const last = from.first + length - 1;
    for (const [before, after] of around(page, from.first, last)) {
      if (after > 0 || countOf(page.words, from.first - before, last) > 1) continue;
      const end = endAfter(page, last + 1, to);
      if (end === null) return null;
      const start = textOf(page, from.first, last);
      return directive([prefixOf(page, from.first, before), start, ...end]);
    }
  }
  return null;
}

/** The shortest end of a span, with its suffix, that is met first where looking begins. */
function endAfter(page: PageText, begin: number, { first, last }: Span): readonly [string, string | null] | null {
  const { words } = page;
  for (const length of upTo(last - Math.max(first, begin) + 1)) {
    const from = last - length + 1;
    for (let after = 0; after <= endOf(page, last) - last; after++) {
      if (firstAt(words, from, last + after, begin) === from)
        return [textOf(page, from, last), suffixOf(page, last, after)];
    }
  }
  return null;
}

/** How many words an edge may have, the usual number first. */
const upTo = (most: number): readonly number[] =>
  most <= EDGE ? [most] : Array.from({ length: most - EDGE + 1 }, (_, more) => EDGE + more);

/** How many words before and after some could stand beside them to tell them apart: few first, those before first. */
function* around(page: PageText, first: number, last: number): Generator<readonly [before: number, after: number]> {
  const [before, after] = [first - startOf(page, first), endOf(page, last) - last];
  for (let some = 0; some <= before; some++) yield [some, 0];
  if (before === 0 && stampBefore(page, first) > 0) yield [stampBefore(page, first), 0];
  for (let some = 1; some <= after; some++) yield [before, some];
}

const isOf = ({ words }: PageText, at: number, paragraph: number | null | undefined, stamp: boolean): boolean =>
  paragraph !== undefined && words[at]?.paragraph === paragraph && words[at]?.stamp === stamp;

/** The first and the last word of the paragraph that a word stands in. */
function startOf(page: PageText, at: number): number {
  let start = at;
  while (isOf(page, start - 1, page.words[at]?.paragraph, false)) start--;
  return start;
}
function endOf(page: PageText, at: number): number {
  let end = at;
  while (isOf(page, end + 1, page.words[at]?.paragraph, false)) end++;
  return end;
}

/** How many words the time has that stands before the first word of a paragraph; 0 before any other. */
function stampBefore(page: PageText, first: number): number {
  let some = 0;
  while (isOf(page, first - 1 - some, page.words[first]?.paragraph, true)) some++;
  return some;
}

/** The text of words of one paragraph, with what stands between them. */
function textOf({ words, paragraphs }: PageText, first: number, last: number): string {
  const [from, to] = [words[first], words[last]];
  if (from === undefined || to === undefined || from.paragraph === null) return "";
  return paragraphs[from.paragraph]?.text.slice(from.from, to.to) ?? "";
}

function prefixOf(page: PageText, first: number, before: number): string | null {
  if (before === 0) return null;
  if (page.words[first - 1]?.stamp === true) return page.paragraphs[page.words[first]?.paragraph ?? -1]?.stamp ?? null;
  // With what stands between it and the words: a prefix is followed by nothing but white space.
  return textBetween(page, first - before, first - 1, "from", first);
}

const suffixOf = (page: PageText, last: number, after: number): string | null =>
  after === 0 ? null : textBetween(page, last + 1, last + after, "to", last);

/** The text of words up to those beside them, trimmed. */
function textBetween(page: PageText, first: number, last: number, side: "from" | "to", beside: number): string {
  const { words, paragraphs } = page;
  const text = paragraphs[words[beside]?.paragraph ?? -1]?.text ?? "";
  const own = side === "from" ? [words[first]?.from, words[beside]?.from] : [words[beside]?.to, words[last]?.to];
  return text.slice(own[0], own[1]).trim();
}

/** How often the words stand on the page. */
function countOf(words: readonly PageWord[], first: number, last: number): number {
  let [count, at] = [0, firstAt(words, first, last, 0)];
  while (at >= 0 && count < 2) {
    count++;
    at = firstAt(words, first, last, at + 1);
  }
  return count;
}

/** Where words like these stand first, from a place on; -1: nowhere. */
function firstAt(words: readonly PageWord[], first: number, last: number, begin: number): number {
  for (let at = begin; at + last - first < words.length; at++) {
    let same = 0;
    while (same <= last - first && words[at + same]?.folded === words[first + same]?.folded) same++;
    if (same > last - first) return at;
  }
  return -1;
}

function directive([prefix, start, end, suffix]: readonly (string | null)[]): string {
  const parts = [
    prefix === null || prefix === undefined || prefix === "" ? null : `${escaped(prefix)}-`,
    escaped(start ?? ""),
    end === null || end === undefined ? null : escaped(end),
    suffix === null || suffix === undefined || suffix === "" ? null : `-${escaped(suffix)}`,
  ];
  return `text=${parts.filter((part) => part !== null).join(",")}`;
}

/** Percent-encoded, with `-`, which has a meaning of its own there; a half of a pair stands for no character, and goes. */
const escaped = (text: string): string =>
  encodeURIComponent(
    text.replace(/[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g, ""),
  ).replaceAll("-", "%2D");
