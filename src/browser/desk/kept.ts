/** What somebody has typed and the server has not. */
export interface Typed {
  /** When the caption begins, which is how it is told from others: its number may be another before this is sent. */
  readonly start: number;
  /** The words that stood there. */
  readonly was: string;
  readonly text: string;
}

const placeOf = (id: string): string => `afterair desk ${id}`;

/** What this browser keeps of an episode until the server has it: of each caption the last that was typed there. */
export function keptIn(id: string): readonly Typed[] {
  const kept: unknown = JSON.parse(localStorage.getItem(placeOf(id)) ?? "[]");
  return Array.isArray(kept) ? (kept as readonly Typed[]) : [];
}

export const keep = (id: string, { start, was, text }: Typed): void =>
  put(id, [...keptIn(id).filter((other) => other.start !== start), { start, was, text }]);

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
