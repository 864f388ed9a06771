import type { DeskCaption, DeskWords } from "../../model/desk.ts";
import { numberAt } from "./renumber.ts";

/** What somebody has typed and the server has not said to have. */
export interface Typed {
  /** When the caption begins, which is how it is told from others: its number may be another before this is sent. */
  readonly start: number;
  /** The words that stood there. */
  readonly was: string;
  readonly text: string;
  /** What of it was sent, the last at the end: a server that was killed may have written any, and not have said so. */
  readonly sent?: readonly string[];
}

const plain = (text: string): string => text.replace(/\s+/g, " ").trim();

const placeOf = (id: string): string => `afterair desk ${id}`;

/** What this browser keeps of an episode until the server has it: of each caption the last that was typed there. */
export function keptIn(id: string): readonly Typed[] {
  const kept: unknown = JSON.parse(localStorage.getItem(placeOf(id)) ?? "[]");
  return Array.isArray(kept) ? (kept as readonly Typed[]) : [];
}

/** Keeps what was typed, with what stood there before all of it that waits, and what of it was sent. */
export function keep(id: string, own: Typed): void {
  const before = keptIn(id).find(({ start }) => start === own.start);
  put(id, [...keptIn(id).filter(({ start }) => start !== own.start), { ...own, ...before, text: own.text }]);
}

/** Keeps what was typed as typed over other words, those that stand there now. */
export const putOver = (id: string, own: Typed, was: string): void =>
  put(
    id,
    keptIn(id).map((kept) => (kept.start === own.start ? { ...kept, was, sent: [] } : kept)),
  );

/** Notes that this is being sent. */
export const noteSent = (id: string, { start, text }: Typed): void =>
  put(
    id,
    keptIn(id).map((own) => (own.start === start ? { ...own, sent: [...(own.sent ?? []), text] } : own)),
  );

/** Keeps no longer what the server has. What somebody has typed there since is kept, as typed over what the server made of this. */
export function forget(id: string, { start, text }: Typed, was: string): void {
  const left = keptIn(id).flatMap((own) => {
    if (own.start !== start) return [own];
    const { sent = [] } = own;
    return own.text === text ? [] : [{ ...own, was, sent: sent.slice(sent.lastIndexOf(text) + 1) }];
  });
  put(id, left);
}

function put(id: string, all: readonly Typed[]): void {
  if (all.length === 0) localStorage.removeItem(placeOf(id));
  else localStorage.setItem(placeOf(id), JSON.stringify(all));
}

type Captions = readonly Pick<DeskCaption, "start" | "text">[];

/** Whether what was typed stands there: in its caption, or in several, where the server has cut it. */
export function isThere(captions: Captions, { start, text }: Typed): boolean {
  const [typed, first] = [plain(text), numberAt(captions, start)];
  // A caption without words is taken out.
  if (typed === "" || first === -1) return typed === "" && first === -1;
  let there = "";
  for (let n = first; n < captions.length && there.length < typed.length; n++)
    there = `${there} ${captions[n]?.text ?? ""}`.trim();
  return there === typed;
}

/** Whether a caption has the words that somebody typed over, or some that they typed: nothing of anybody else's. */
export function isOwn(captions: Captions, { start, was, sent = [] }: Typed): boolean {
  const there = captions[numberAt(captions, start)]?.text;
  return there !== undefined && [was, ...sent].some((text) => plain(text) === there);
}

/** The words with what is kept put over what the server has, as whoever typed it expects to see it. */
export function withKept(words: DeskWords, kept: readonly Typed[]): DeskWords {
  const own = new Map(kept.filter((typed) => isOwn(words.captions, typed)).map(({ start, text }) => [start, text]));
  if (own.size === 0) return words;
  const captions = words.captions.map((caption) => {
    const text = own.get(caption.start);
    return text === undefined || plain(text) === caption.text ? caption : { ...caption, text: plain(text) };
  });
  return { ...words, captions };
}
