/** What somebody has typed and the server has not. */
export interface Typed {
  /** When the caption begins, which is how it is told from others: its number may be another before this is sent. */
  readonly start: number;
  /** The words that stood there. */
  readonly was: string;
  readonly text: string;
  /** What of it was sent last: a server that was killed may have written it, and not have said so. */
  readonly sent?: string;
}

const placeOf = (id: string): string => `afterair desk ${id}`;

/** What this browser keeps of an episode until the server has it: of each caption the last that was typed there. */
export function keptIn(id: string): readonly Typed[] {
  const kept: unknown = JSON.parse(localStorage.getItem(placeOf(id)) ?? "[]");
  return Array.isArray(kept) ? (kept as readonly Typed[]) : [];
}

/** Keeps what was typed, with what of it was sent before. */
export function keep(id: string, { start, was, text }: Typed): void {
  const before = keptIn(id).find((other) => other.start === start);
  const own = { start, was, text, ...(before?.sent === undefined ? {} : { sent: before.sent }) };
  put(id, [...keptIn(id).filter((other) => other.start !== start), own]);
}

/** Notes that this is being sent. */
export const noteSent = (id: string, { start, text }: Typed): void =>
  put(
    id,
    keptIn(id).map((own) => (own.start === start ? { ...own, sent: text } : own)),
  );

/** Whether the words of a caption are those that somebody typed over, or their own: nothing of anybody else's. */
export const isOwn = (id: string, there: string | null, { start, was }: Typed): boolean => {
  const sent = keptIn(id).find((own) => own.start === start)?.sent;
  return there === was || (sent !== undefined && there === sent.replace(/\s+/g, " ").trim());
};

/** Forgets what was typed, unless somebody has typed on there since. @returns whether nothing is kept any more. */
export function forget(id: string, { start, text }: Typed): boolean {
  const left = keptIn(id).filter((other) => other.start !== start || other.text !== text);
  put(id, left);
  return left.length === 0;
}

function put(id: string, all: readonly Typed[]): void {
  if (all.length === 0) localStorage.removeItem(placeOf(id));
  else localStorage.setItem(placeOf(id), JSON.stringify(all));
}
