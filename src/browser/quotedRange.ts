import { formatClock } from "../model/clock.ts";
import { CORRECTION_KINDS } from "../model/correctionKinds.ts";
import { noteNamed, type ReadPage, textNodesOf } from "./pageText.ts";
import { correctedOn, type Gap, type Quotation, type Quoted } from "./quotation.ts";
import { parseSkips } from "./skips.ts";
import { type Span, textDirective } from "./textDirective.ts";

/** What of a paragraph lies in a selection. */
interface Piece {
  readonly paragraph: HTMLElement;
  readonly span: Span;
  readonly text: string;
}

const PLACES = ".words, .withheld, .entry-gone";

/**
 * The quotation of what is selected, in whole words: null where no spoken word is. What stands between the words, such as
 * times, notes and titles, is no part of it; what is withheld or withdrawn between them leaves a mark.
 */
export function quotationOf(range: Range, page: ReadPage, words: HTMLElement): Quotation | null {
  const found = [...words.querySelectorAll<HTMLElement>(PLACES)]
    .filter((place) => range.intersectsNode(place))
    .flatMap((place): readonly (Piece | Gap)[] => {
      if (place.matches(".words")) return pieceOf(place, range, page);
      const isEmpty = place.closest(".segment")?.querySelector(".words") == null;
      return isEmpty ? [place.matches(".withheld") ? "withheld" : "withdrawn"] : [];
    });
  const isPiece = (one: Piece | Gap): one is Piece => typeof one !== "string";
  const own = found.slice(found.findIndex(isPiece), found.findLastIndex(isPiece) + 1);
  const pieces = own.filter(isPiece);
  const [first] = pieces;
  if (first === undefined) return null;
  const at = momentOf(first, page);
  const directive = textDirective(
    page,
    pieces.map(({ span }) => span),
  );
  return {
    parts: partsOf(own),
    cite: words.dataset.cite ?? document.title,
    clock: at === null ? null : formatClock(at * 1000),
    corrections: correctionsIn(range, pieces),
    address: `${location.origin}${location.pathname}${location.search}#${at === null ? "" : `t=${at}`}:~:${directive}`,
  };
}

function pieceOf(paragraph: HTMLElement, range: Range, page: ReadPage): readonly Piece[] {
  const number = page.elements.indexOf(paragraph);
  const text = page.paragraphs[number]?.text ?? "";
  let [at, from, to] = [0, -1, 0];
  for (const node of textNodesOf(paragraph)) {
    if (range.intersectsNode(node)) {
      if (from < 0) from = at + (node === range.startContainer ? range.startOffset : 0);
      to = at + (node === range.endContainer ? range.endOffset : node.length);
    }
    at += node.length;
  }
  const isIn = (place: number): boolean => {
    const word = page.words[place];
    return word?.paragraph === number && !word.stamp && word.to > from && word.from < to;
  };
  const first = from < 0 ? -1 : page.words.findIndex((_, place) => isIn(place));
  if (first < 0) return [];
  let last = first;
  while (isIn(last + 1)) last++;
  const [begin, end] = [Math.min(from, page.words[first]?.from ?? from), Math.max(to, page.words[last]?.to ?? to)];
  const own = text.slice(begin, end).replace(/^[\s.,;:!?…)\]”’]+/, "");
  return [{ paragraph, span: { first, last }, text: own.replace(/\s+/g, " ").trim() }];
}

/** Turns with their paragraphs, in the order of the page. */
function partsOf(found: readonly (Piece | Gap)[]): readonly Quoted[] {
  const parts: Quoted[] = [];
  let turn: Element | null = null;
  for (const one of found) {
    const last = parts.at(-1);
    if (typeof one === "string") parts.push({ is: "gap", why: one });
    else {
      const own = one.paragraph.closest(".turn");
      const speaker = own?.querySelector(".speaker b")?.textContent ?? null;
      if (last?.is === "turn" && (own === turn || last.speaker === speaker))
        parts[parts.length - 1] = { ...last, paragraphs: [...last.paragraphs, one.text] };
      else parts.push({ is: "turn", speaker, paragraphs: [one.text] });
      turn = own;
    }
  }
  return parts;
}

/** The moment of the first word's cue, in seconds; null: no player plays it. */
function momentOf({ paragraph, span }: Piece, page: ReadPage): number | null {
  const deck = document.querySelector<HTMLElement>("section.deck");
  const skips = parseSkips(deck?.dataset.skips);
  const begin = page.words[span.first]?.from ?? 0;
  let [at, moment]: [number, number | null] = [0, null];
  for (const node of textNodesOf(paragraph)) {
    if (at > begin) break;
    const told = node.parentElement?.closest<HTMLElement>(".cue")?.dataset.in;
    if (told !== undefined) moment = Number(told);
    at += node.length;
  }
  if (deck === null || moment === null) return null;
  const own = moment;
  return skips.some(({ from, to }) => own >= from && own < to) ? null : own;
}

/** What is said of the corrections whose words are among those quoted, in the order of the page. */
function correctionsIn(range: Range, pieces: readonly Piece[]): readonly string[] {
  const marks = pieces.flatMap(({ paragraph }) => [...paragraph.querySelectorAll<HTMLElement>(".mark[data-note]")]);
  const notes = new Set(marks.filter((mark) => range.intersectsNode(mark)).map(({ dataset }) => dataset.note ?? ""));
  return [...notes].flatMap((id) => {
    const note = noteNamed(id);
    const kind = CORRECTION_KINDS.find((one) => one === note?.kind);
    return note === null || kind === undefined ? [] : [correctedOn(kind, note.day)];
  });
}
