import { formatClock, isoDuration } from "../model/clock.ts";
import { type Blocks, lyingThread, percent } from "../model/strip.ts";
import type { CardStrip, OtherCard, SegmentCard } from "../search/card.ts";
import { drawing, element } from "./elements.ts";
import { parseFragment } from "./fragments.ts";
import { type Passage, passageOf } from "./passage.ts";
import type { Found } from "./searchIndex.ts";

/**
 * A result: when, what, the words, where they stand in the programme, and whether they were corrected.
 * @param speaker whose words to show first, where a search is narrowed to somebody.
 */
export function resultView(found: Found, speaker: string | null): HTMLLIElement {
  const { card } = found;
  return card.is === "segment" ? segmentView(found, card, speaker) : otherView(found, card);
}

/** An edition, or a page written by hand. */
function otherView(found: Found, { is, aired, summary }: OtherCard): HTMLLIElement {
  const passage = found.found.length === 0 ? null : passageOf(found.words, found.starts, found.found, () => true);
  const lines = [
    element("h3", {}, element("a", { href: found.address }, found.title)),
    element("p", { class: "r-meta" }, is === "edition" ? "Edition" : "Page"),
    ...wordsView(passage, passage === null ? summary : null, found.address, null, null),
  ];
  const body = element("div", { class: "r-body" }, ...lines);
  return element(
    "li",
    { class: "result" },
    aired === null ? element("p", { class: "ed-date" }) : dateView(aired),
    body,
  );
}

function segmentView(found: Found, card: SegmentCard, speaker: string | null): HTMLLIElement {
  const { address, title } = found;
  const says = (paragraph: number) => card.who[card.by[paragraph] ?? -1] ?? null;
  const passage = passageOf(found.words, found.starts, found.found, (at) => speaker === null || says(at) === speaker);
  const matched = found.found.length > 0;
  const id = passage === null || (!matched && speaker === null) ? null : (found.ids[passage.paragraph] ?? null);
  const link = id === null ? address : `${address}#${id}`;
  const seconds = id === null ? null : (parseFragment(id)?.start ?? null);
  const lines = [
    element("h3", {}, element("a", { href: link }, title)),
    ...(card.kind.toLowerCase() === title.toLowerCase() ? [] : [element("p", { class: "r-meta" }, card.kind)]),
    ...wordsView(
      passage,
      matched ? null : (found.note ?? card.summary),
      link,
      seconds,
      passage && says(passage.paragraph),
    ),
    ...(card.strip === null ? [] : [stripView(card.strip, seconds)]),
    ...(matched && passage !== null && passage.others > 0 ? [moreView(passage.others, address)] : []),
  ];
  const [first] = card.corrections;
  return element(
    "li",
    { class: "result" },
    dateView(card.aired),
    element("div", { class: "r-body" }, ...lines),
    ...(first === undefined ? [] : [correctionView(first, card.corrections.length)]),
  );
}

/** The local day, whatever the reader's own zone. */
function dateView(aired: string): HTMLElement {
  const iso = aired.slice(0, 10);
  const day = new Date(`${iso}T00:00:00Z`);
  const language = document.documentElement.lang || undefined;
  const set = (options: Intl.DateTimeFormatOptions) =>
    new Intl.DateTimeFormat(language, { ...options, timeZone: "UTC" }).format(day);
  const parts = [
    element("b", {}, set({ day: "numeric" })),
    " ",
    element("span", {}, set({ month: "short", year: "numeric" })),
  ];
  return element("p", { class: "ed-date" }, element("time", { datetime: iso }, ...parts));
}

/** The paragraph found; the summary where nothing in the words was. */
function wordsView(
  passage: Passage | null,
  summary: string | null,
  link: string,
  seconds: number | null,
  speaker: string | null,
): HTMLElement[] {
  if (summary !== null && seconds === null) return [element("p", { class: "r-words" }, summary)];
  if (passage === null) return [];
  const words = passage.runs.map(({ text, found }) => (found ? element("mark", {}, text) : text));
  const name = speaker === null ? [] : [element("b", {}, speaker), " "];
  const stamp = seconds === null ? [] : [stampView(link, seconds), " "];
  return [element("p", { class: "r-words" }, ...stamp, ...name, ...words)];
}

const stampView = (link: string, seconds: number): HTMLElement =>
  element(
    "a",
    { class: "stamp", href: link },
    element("span", { class: "vh" }, "From "),
    element("time", { datetime: isoDuration(seconds * 1000) }, formatClock(seconds * 1000)),
  );

const moreView = (others: number, address: string): HTMLElement =>
  element("p", { class: "r-more" }, element("a", { href: address }, `${others} more in this segment`));

function correctionView(first: SegmentCard["corrections"][number], count: number): HTMLElement {
  const glyph = drawing("svg", { class: "glyph", "aria-hidden": "true", focusable: "false" });
  glyph.append(drawing("use", { href: `#mark-${first.kind}` }));
  const head = count === 1 ? "Corrected" : `Corrected ${count} times`;
  const kind = element("small", {}, `${first.kindName}, ${first.datedLong}`);
  const words = element("span", {}, head, element("br", {}), kind);
  return element("p", { class: "r-side" }, element("a", { class: "flag", href: first.href }, glyph, words));
}

/** The programme in a strip, the segment lit, a needle at the words. */
function stripView(strip: CardStrip, seconds: number | null): SVGSVGElement {
  const { steps, runs } = strip;
  const threads = drawing(
    "svg",
    { class: "weave", viewBox: `0 0 ${steps} 20`, width: "100%", height: "100%", preserveAspectRatio: "none" },
    drawing("rect", { class: "hot", x: strip.in, y: 0, width: Math.max(0, strip.out - strip.in), height: 20 }),
    drawing("path", { class: "studio", d: lyingThread(blocks(strip.studio), 0) }),
    drawing("path", { class: "others", d: lyingThread(blocks(strip.others), 11) }),
  );
  const view = drawing("svg", { class: "fine-strip", "aria-hidden": "true", focusable: "false" }, threads);
  for (const [from, length] of blocks(strip.held)) {
    const place = { x: percent(from / steps), width: percent(length / steps), height: "100%" };
    view.append(drawing("rect", { class: "held", ...place, fill: "url(#hatching)" }));
  }
  if (seconds !== null) {
    const x = percent(seconds / runs);
    view.append(drawing("line", { class: "needle", x1: x, x2: x, y1: 0, y2: "100%" }));
  }
  return view;
}

/** Gaps and lengths as starts and lengths. */
function blocks(line: readonly number[]): Blocks {
  const made: [number, number][] = [];
  let end = 0;
  for (let at = 0; at + 1 < line.length; at += 2) {
    const [gap = 0, length = 0] = [line[at], line[at + 1]];
    made.push([end + gap, length]);
    end += gap + length;
  }
  return made;
}
